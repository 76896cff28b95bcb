"""What budgets and minutes are worked out from, box by box: from the records, or from boxes in memory."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Count

from housing.core.blank import CutOut
from housing.core.budget.facts import BoxFacts
from housing.core.budget.lining import lined_area_m2
from housing.core.enclosures.form import BOARD
from housing.core.folding import Box3
from housing.core.priority import HUNDREDTHS
from housing.models import Blank, Campaign, Design, HousedObject, Housing
from housing.queries.priority import scores_in
from objects.models import CatalogueObject

MM, MM2, MM3_LITRE = 1e-3, 1e-6, 1e-6
# How forms write a size behind what they ask for: "cotton tape, 900 mm long, ...", "tube, 80 mm across and
# 900 mm long", "tissue, 900 x 600 mm, ...".
LONG = re.compile(r"(.+?), (?:(.+) and )?([0-9.]+) mm long(?:,.*)?")
LARGE = re.compile(r"(.+?), ([0-9.]+) x ([0-9.]+) mm(?:,.*)?")
Status = Housing.Status
LID = "lid"  # what forms call a lid that is made apart
TO_MEASURE = (Housing.Problem.UNMEASURED, Housing.Problem.CHECK)
# Half of what is stored of drawings and boxes: the whole takes nearly twice as long to read.
READ_OF_DRAWINGS = ("scores", "cuts", "openings", "glue_joints", "glue_length_mm")
READ_OF_BOXES = (
    "design", "advice", "supplies", "inner_x_mm", "inner_y_mm", "inner_z_mm", "outside_x_mm", "outside_y_mm",
    "outside_z_mm",
)  # fmt: skip
IN_A_BUDGET = (Status.PLANNED, Status.IN_WORK, Status.MADE, Status.HOUSED)


@dataclass
class _Parts:
    """The parts of one box, added up; lengths in mm."""

    sizes: list[str] = field(default_factory=list)
    blanks: int = 0
    folds: int = 0
    joints: int = 0
    lid_folds: int = 0
    lid_joints: int = 0
    score_mm: float = 0.0
    cut_mm: float = 0.0
    joint_mm: float = 0.0
    area_mm2: float = 0.0
    others: list[tuple[str, int, float]] = field(default_factory=list)

    def add(self, part: str, material: str, x_mm: float, y_mm: float, drawing: Mapping[str, Any]) -> None:
        """Take in a part. Foam and cloth are cut too, but not marked out on board or paid as such."""
        self.cut_mm += 2 * (x_mm + y_mm) + _cuts_mm(drawing)
        self.joints += drawing["glue_joints"]
        self.joint_mm += drawing["glue_length_mm"]
        if material == BOARD:
            scores = drawing["scores"]
            self.blanks += 1
            self.folds += len(scores)
            # a lid that is the first part is all there is to make
            if part == LID and self.blanks > 1:
                self.lid_folds += len(scores)
                self.lid_joints += drawing["glue_joints"]
            self.score_mm += sum(abs(s["x2"] - s["x1"]) + abs(s["y2"] - s["y1"]) for s in scores)
            self.area_mm2 += x_mm * y_mm
            self.sizes.append(f"{x_mm:.1f}x{y_mm:.1f}")
        else:
            self.others.append((material, 1, x_mm * y_mm * MM2))


@dataclass
class _Contents:
    """What of a box's objects counts: the most urgent priority and score, the first one's place."""

    objects: int = 0
    volume_mm3: float = 0.0
    priority: str = ""
    score: float = 0.0
    location: str = ""
    batch: int = 0

    def add(self, sides: Iterable[Any], priority: str, score: float, location: str, batch: int) -> None:
        """Take in an object. sides: mm, None where not measured."""
        known = [float(side) for side in sides if side is not None]
        if len(known) == 3:
            self.volume_mm3 += known[0] * known[1] * known[2]
        if not self.objects:
            self.location = location
        self.objects += 1
        self.priority = min(self.priority or priority, priority)
        self.score = max(self.score, score)
        self.batch = min(self.batch or batch, batch)


def facts_of_campaign(campaign: Campaign) -> list[BoxFacts]:
    """The boxes of a campaign that are planned, being made, made or housed, in the order of the work."""
    housings = Housing.objects.filter(campaign=campaign, status__in=IN_A_BUDGET)
    found = housings.prefetch_related("design").only(*READ_OF_BOXES).order_by("pk")
    contents, parts = _contents(campaign), _parts(campaign)
    facts = [
        _facts(str(box.pk), box, box.recipe, parts[box.pk], contents[box.pk], is_measured=True)
        for box in found
    ]
    return sorted(facts, key=lambda box: (box.batch, box.priority, -box.score, box.location, int(box.key)))


def boxes_to_measure(campaign: Campaign) -> list[BoxFacts]:
    """Boxes that wait until their objects are measured; what else they take is not known yet."""
    waiting = Housing.objects.filter(campaign=campaign, status=Status.WAITING, problem__in=TO_MEASURE)
    counted = waiting.annotate(objects=Count("contents")).order_by("pk")
    return [
        BoxFacts(key=str(pk), form="", design="", board="", objects=objects, to_measure=True)
        for pk, objects in counted.values_list("pk", "objects")
    ]


def facts_of_box(
    housing: Housing,
    blanks: Sequence[Blank],
    recipe: Design | None,
    contents: Sequence[CatalogueObject],
    *,
    key: str = "",
    batch: int = 1,
    score: float = 0.0,
) -> BoxFacts:
    """The facts of a box that may not be stored: its blanks, its design as advised, its objects.

    A box without a design, or whose objects are not measured, has only its objects to be measured.
    """
    parts, inside = _Parts(), _Contents()
    for blank in blanks:
        parts.add(blank.part, blank.material, float(blank.x_mm), float(blank.y_mm), blank.geometry)
    for thing in contents:
        sides = thing.height_mm, thing.width_mm, thing.depth_mm
        place = thing.location.path if thing.location_id else ""
        inside.add(sides, thing.priority, score, place, batch)
    is_measured = all(thing.size_state == CatalogueObject.SizeState.KNOWN for thing in contents)
    return _facts(key or str(housing.pk), housing, recipe, parts, inside, is_measured)


def _facts(
    key: str, housing: Housing, recipe: Design | None, parts: _Parts, contents: _Contents, is_measured: bool
) -> BoxFacts:
    lining = recipe.padding if recipe and recipe.to_form().is_padded else ""
    lining_m2, lining_mm, gap_litres = 0.0, 0.0, 0.0
    if housing.inner_x_mm is not None:
        sides = [float(housing.inner_x_mm), float(housing.inner_y_mm), float(housing.inner_z_mm)]
        lined_m2 = lined_area_m2(Box3(*sides))
        if lining:
            lining_m2, lining_mm = lined_m2, float(recipe.lining_mm) if recipe else 0.0
        inside_mm3 = sides[0] * sides[1] * sides[2]
        lining_mm3 = lining_m2 / MM2 * lining_mm
        gap_litres = max(inside_mm3 - lining_mm3 - contents.volume_mm3, 0.0) * MM3_LITRE
    outside = housing.outside_x_mm, housing.outside_y_mm, housing.outside_z_mm
    outside_mm3 = float(outside[0] * outside[1] * outside[2]) if None not in outside else 0.0
    form, board = (recipe.form, str(recipe.board_id)) if recipe else ("", "")
    return BoxFacts(
        key=key,
        form=form,
        design=str(recipe.pk) if recipe else "",
        board=board,
        alike="|".join((form, board, *sorted(parts.sizes))) if parts.sizes else "",
        objects=contents.objects or 1,
        blanks=parts.blanks,
        folds=parts.folds,
        joints=parts.joints,
        lid_folds=parts.lid_folds,
        lid_joints=parts.lid_joints,
        score_m=parts.score_mm * MM,
        cut_m=parts.cut_mm * MM,
        joint_m=parts.joint_mm * MM,
        blank_m2=parts.area_mm2 * MM2,
        lining=lining,
        lining_m2=lining_m2,
        lining_mm=lining_mm,
        gap_litres=gap_litres,
        supplies=(*(_supply(what, count) for what, count in housing.supplies), *parts.others),
        outside_litres=outside_mm3 * MM3_LITRE,
        to_measure=not is_measured,
        priority=contents.priority,
        score=contents.score,
        location=contents.location,
        batch=contents.batch or 1,
    )


def _supply(what: str, count: int) -> tuple[str, int, float]:
    """A supply as a form asks for it: its name without its size, how many, metres or m² of each or 0."""
    if found := LONG.fullmatch(what):
        name = f"{found[1]}, {found[2]}" if found[2] else found[1]
        return name, count, float(found[3]) * MM
    if found := LARGE.fullmatch(what):
        return found[1], count, float(found[2]) * float(found[3]) * MM2
    return what, count, 0.0


def _cuts_mm(drawing: Mapping[str, Any]) -> float:
    """All cuts inside the rectangle of a part, from its stored drawing."""
    lines = sum(abs(cut["x2"] - cut["x1"]) + abs(cut["y2"] - cut["y1"]) for cut in drawing["cuts"])
    return lines + sum(CutOut(**opening).cut_length_mm for opening in drawing.get("openings") or ())


def _parts(campaign: Campaign) -> defaultdict[int, _Parts]:
    parts: defaultdict[int, _Parts] = defaultdict(_Parts)
    rows = Blank.objects.filter(housing__campaign=campaign, housing__status__in=IN_A_BUDGET).order_by("pk")
    for housing, part, material, x_mm, y_mm, *read in rows.values_list(
        "housing", "part", "material", "x_mm", "y_mm", *(f"geometry__{name}" for name in READ_OF_DRAWINGS)
    ).iterator():
        drawing = dict(zip(READ_OF_DRAWINGS, read, strict=True))
        parts[housing].add(part, material, float(x_mm), float(y_mm), drawing)
    return parts


def _contents(campaign: Campaign) -> defaultdict[int, _Contents]:
    contents: defaultdict[int, _Contents] = defaultdict(_Contents)
    scores = scores_in(campaign)
    batches = dict(campaign.memberships.values_list("object", "batch"))
    ties = HousedObject.objects.filter(housing__campaign=campaign).order_by("housing", "position")
    for housing, thing, height, width, depth, priority, path in ties.values_list(
        "housing", "object", "object__height_mm", "object__width_mm", "object__depth_mm", "object__priority",
        "object__location__path",
    ):  # fmt: skip
        contents[housing].add(
            (height, width, depth), priority, scores.get(thing, 0) / HUNDREDTHS, path or "",
            batches.get(thing, 1),
        )  # fmt: skip
    return contents
