"""Records for tests: each function takes the values that matter and supplies all others."""

from decimal import Decimal
from itertools import count

from django.contrib.auth.models import Group, User
from django.utils import timezone

from boards.models import Board, SheetSize
from boards.services import receive_sheets
from housing.core.steps import STEPS
from housing.models import (
    Blank,
    Campaign,
    CuttingPlan,
    Design,
    HousedObject,
    Housing,
    HousingEvent,
    Person,
    PlannedBlank,
    PlannedSheet,
    Task,
)
from objects.models import CatalogueObject, Location

_numbers = count(1)


def make_location(name: str | None = None, **given) -> Location:
    return Location.objects.create(name=name or f"Shelf {next(_numbers)}", **given)


def make_object(**given) -> CatalogueObject:
    """A measured bowl of 10 x 8 3/4 x 7 1/8 in that has no box; sizes in mm, None for not measured."""
    number = next(_numbers)
    fields = {
        "number": f"1990.{number}",
        "name": f"Bowl {number}",
        "classification": "Ceramics",
        "materials": "earthenware",
        "height_mm": Decimal("254"),
        "width_mm": Decimal("222.25"),
        "depth_mm": Decimal("180.975"),
        **given,
    }
    measured = None not in (fields["height_mm"], fields["width_mm"], fields["depth_mm"])
    fields.setdefault("size_state", "known" if measured else "missing")
    return CatalogueObject.objects.create(**fields)


def make_board(**given) -> Board:
    number = next(_numbers)
    return Board.objects.create(
        **{"code": f"B{number}", "name": f"Board {number}", "caliper_mm": Decimal("3.175"), **given}
    )


def make_sheet_size(**given) -> SheetSize:
    """A sheet of 60 x 40 in at 12.50; pass board to choose its board."""
    return SheetSize.objects.create(
        **{
            "board": given.get("board") or make_board(),
            "along_mm": Decimal("1524"),
            "across_mm": Decimal("1016"),
            "price": Decimal("12.50"),
            **given,
        }
    )


def make_design(**given) -> Design:
    return Design.objects.create(
        **{"name": f"Lidded box {next(_numbers)}", "board": given.get("board") or make_board(), **given}
    )


def make_campaign(*objects: CatalogueObject, **given) -> Campaign:
    """A campaign with the objects named in it."""
    campaign = Campaign.objects.create(**{"name": f"Storage move {next(_numbers)}", **given})
    campaign.objects_in_it.add(*objects)
    return campaign


def make_housing(*objects: CatalogueObject, **given) -> Housing:
    """A planned housing for the objects, with the first step of its trail; a waiting one says why."""
    status = given.setdefault("status", Housing.Status.PLANNED)
    if status == Housing.Status.WAITING:
        given.setdefault("problem", Housing.Problem.NO_DESIGN)
    elif status != Housing.Status.DROPPED:
        given.setdefault("design", None)
        given["design"] = given["design"] or make_design()
        for side, inner in (("z", "279.4"), ("x", "273.05"), ("y", "231.775")):
            given.setdefault(f"inner_{side}_mm", Decimal(inner))
            given.setdefault(f"outside_{side}_mm", Decimal(inner) + 13)
    housing = Housing.objects.create(**given)
    is_live = status != Housing.Status.DROPPED
    for position, thing in enumerate(objects or (make_object(),), start=1):
        HousedObject.objects.create(housing=housing, object=thing, position=position, is_live=is_live)
    HousingEvent.objects.create(housing=housing, status=status)
    return housing


def make_person(**given) -> Person:
    return Person.objects.create(
        **{
            "name": f"Person {next(_numbers)}",
            "hours_per_week": Decimal("20"),
            "rate_per_hour": Decimal("24"),
            "skills": "measure; cut; fold; fit; label; return",
            "handles_hazards": True,
            **given,
        }
    )


def make_tasks(housing: Housing, *steps: str, **given) -> list[Task]:
    """Tasks of a housing, one a step; all that a lidded box has where none is named."""
    steps = steps or ("fetch", "cut", "score", "glue", "lid", "fit", "label", "return")
    return [
        Task.objects.create(
            **{"housing": housing, "step": step, "sequence": STEPS.index(step) + 1,
               "planned_minutes": Decimal(10), **given}
        )
        for step in steps
    ]  # fmt: skip


def make_sheet(*housings: Housing, stock: int = 5, part: str = "base", **given) -> PlannedSheet:
    """A planned sheet on which a blank of each housing lies, 300 x 400 mm, with so many sheets in stock."""
    campaign = housings[0].campaign
    plan, _ = CuttingPlan.objects.get_or_create(campaign=campaign, defaults={"kerf_mm": 1, "trim_mm": 5})
    if "offcut" not in given and "sheet_size" not in given:
        given["sheet_size"] = make_sheet_size(board=housings[0].design.board)
        if stock:
            receive_sheets(sheet_size=given["sheet_size"], count=stock)
    source = given.get("sheet_size") or given["offcut"]
    sheet = PlannedSheet.objects.create(
        **{"plan": plan, "position": plan.sheets.count() + 1, "board": source.board,
           "along_mm": source.along_mm, "across_mm": source.across_mm, "price": Decimal("12.50"), **given}
    )  # fmt: skip
    for place, housing in enumerate(housings):
        blank = Blank.objects.create(
            housing=housing, part=part, x_mm=300, y_mm=400, flute_along="x",
            geometry={"cuts": [], "scores": [], "openings": [], "glue_joints": 0, "glue_length_mm": 0.0},
        )  # fmt: skip
        PlannedBlank.objects.create(
            sheet=sheet, blank=blank, x_mm=5 + 301 * place, y_mm=5, along_mm=300, across_mm=400
        )
    Task.objects.filter(housing__in=housings, sheet=None).update(sheet=sheet)
    return sheet


def make_user(role: str = "viewer", **given) -> User:
    """Somebody who can sign in with a role: manager, maker, surveyor or viewer; "" for none."""
    user = User.objects.create_user(**{"username": f"{role or 'nobody'}{next(_numbers)}", **given})
    if role:
        # a test with a server of its own empties the database, the roles included
        user.groups.add(Group.objects.get_or_create(name=role)[0])
    return user


def log_steps(campaign: Campaign, step: str, minutes, *, at=None) -> None:
    """All tasks of a step done, with the minutes that each took; nothing else moves on with them."""
    tasks = Task.objects.filter(housing__campaign=campaign, step=step)
    tasks.update(state=Task.State.DONE, done_at=at or timezone.now(), spent_minutes=minutes)


def balance_of(sheet_size: SheetSize) -> int:
    """Sheets in stock: the sum of all movements, added up apart from the code."""
    return sum(sheet_size.movements.values_list("quantity", flat=True))
