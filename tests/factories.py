"""Records for tests: each function takes the values that matter and supplies all others."""

from decimal import Decimal
from itertools import count

from django.contrib.auth.models import Group, User
from django.utils import timezone

from boards.models import Board, SheetSize
from housing.models import Campaign, Design, HousedObject, Housing, HousingEvent, Person, Task
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
