"""What the rules look at: the objects of a campaign, box by box, and the facts of each box."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import groupby
from operator import itemgetter
from typing import Any, NamedTuple

from django.db.models import FilteredRelation, Q

from housing.core.choosing import Flag, ObjectFacts
from housing.models import Campaign, HousedObject, Housing
from objects.core.lying import MeasuredWith
from objects.models import CatalogueObject

# What of an object the rules look at; a query for them need not fetch more.
LOOKED_AT = (
    "classification", "materials", "height_mm", "width_mm", "depth_mm", "weight_g", "quantity", "condition",
    "fragility", "projecting_parts", "use", "hazards", "may_lie", "measured_with",
)  # fmt: skip
UPRIGHT = {CatalogueObject.MayLie.UPRIGHT.value, CatalogueObject.MayLie.TURNED.value}
DELICATE = {CatalogueObject.Fragility.DELICATE.value, CatalogueObject.Fragility.VERY_DELICATE.value}
UNSTABLE = {CatalogueObject.Condition.POOR.value, CatalogueObject.Condition.FRAGILE.value}
OFTEN = {CatalogueObject.Use.MONTHLY.value, CatalogueObject.Use.WEEKLY.value}
OPEN = {Housing.Status.WAITING.value, Housing.Status.PLANNED.value}


class SeenObject(NamedTuple):
    """What the rules look at of an object, and what pages name it by; far quicker to fetch than a record."""

    pk: int
    number: str
    name: str
    number_key: str
    classification: str
    materials: str
    height_mm: Decimal | None
    width_mm: Decimal | None
    depth_mm: Decimal | None
    weight_g: Decimal | None
    quantity: int
    condition: str
    fragility: str
    projecting_parts: str
    use: str
    hazards: str
    may_lie: str
    measured_with: str

    def __str__(self) -> str:
        return f"{self.number} {self.name}"

    @property
    def sides_mm(self) -> tuple[Decimal | None, ...]:
        return self.height_mm, self.width_mm, self.depth_mm


type Looked = CatalogueObject | SeenObject


@dataclass(frozen=True)
class BoxContents:
    """Objects that go into one box. box: the key of its housing in hand, None where there is none yet.

    is_open: whether planning the campaign would work it out: it has no housing, or one of this campaign that
    is not begun.
    """

    contents: tuple[SeenObject, ...]
    box: int | None
    is_open: bool

    @cached_property
    def facts(self) -> ObjectFacts:
        return facts_of(self.contents)


def boxes_to_choose_for(campaign: Campaign) -> list[BoxContents]:
    """The objects of a campaign by the boxes they go into, in the order of their numbers, in one query."""
    rows = (
        CatalogueObject.objects.filter(memberships__campaign=campaign)
        .annotate(tie=FilteredRelation("housing_ties", condition=Q(housing_ties__is_live=True)))
        .order_by("tie__housing", "tie__position", "number_key")
        .values_list("tie__housing", "tie__housing__campaign", "tie__housing__status", *SeenObject._fields)
    )
    boxes = []
    for (box, of, status), found in groupby(rows, key=itemgetter(0, 1, 2)):
        things = [SeenObject._make(row[3:]) for row in found]
        if box is None:
            boxes += [BoxContents((thing,), None, True) for thing in things]
        else:
            boxes.append(BoxContents(tuple(things), box, of == campaign.pk and status in OPEN))
    return sorted(boxes, key=lambda one: one.contents[0].number_key)


def facts_of(contents: Sequence[Looked]) -> ObjectFacts:
    """What is known of the objects of a box together: the largest of each side, all materials and weights.

    The classification is that of the first. A flag holds if it holds for one of them, and is unknown if it
    is not recorded for one and holds for none.
    """
    weights = [float(thing.weight_g) for thing in contents if thing.weight_g is not None]
    so, unknown = _flags(contents)
    return ObjectFacts(
        classification=contents[0].classification,
        materials="; ".join(thing.materials for thing in contents if thing.materials),
        sides_mm=tuple(_largest(sides) for sides in zip(*(t.sides_mm for t in contents), strict=True)),  # type: ignore[arg-type]
        weight_g=sum(weights) if weights else None,
        is_weight_whole=len(weights) == len(contents),
        so=so,
        unknown=unknown,
    )


def _largest(sides: Sequence[Any]) -> float | None:
    return None if None in sides else float(max(sides))


def _flags(contents: Sequence[Looked]) -> tuple[frozenset[str], frozenset[str]]:
    so, unknown = set(), set()
    if len(contents) > 1:
        so.add(Flag.SEVERAL.value)
    for thing in contents:
        for flag, recorded, holds in (
            (Flag.PROJECTING, thing.projecting_parts, True),
            (Flag.DELICATE, thing.fragility, thing.fragility in DELICATE),
            (Flag.UNSTABLE, thing.condition, thing.condition in UNSTABLE),
            (Flag.HAZARDOUS, thing.hazards, True),
            (Flag.SEVERAL, thing.quantity, thing.quantity > 1),
            (Flag.OFTEN_USED, thing.use, thing.use in OFTEN),
            (Flag.MUST_STAND, thing.may_lie or thing.measured_with, _must_stand(thing)),
        ):
            if not recorded:
                unknown.add(flag.value)
            elif holds:
                so.add(flag.value)
    return frozenset(so), frozenset(unknown - so)


def _must_stand(thing: Looked) -> bool:
    return thing.may_lie in UPRIGHT or MeasuredWith(thing.measured_with).keeps_upright


def contents_with(thing: CatalogueObject) -> list[CatalogueObject]:
    """An object with those that it is housed together with, in the order of their box."""
    ties = HousedObject.objects.filter(is_live=True, housing__contents__object=thing)
    ties = ties.filter(housing__contents__is_live=True).select_related("object").order_by("position")
    return [tie.object for tie in ties] or [thing]
