"""Priority scores in the database, of one object with its parts, and of whole lists of objects."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import Case, Count, IntegerField, Q, QuerySet, Value, When
from django.db.models.functions import Least

from housing.core.factors import FACTORS, SCALES, SEVERE_HAZARDS, Factor, hazard_answer
from housing.core.need import HOUSING_OF_NEED
from housing.core.priority import (
    BANDS,
    HUNDREDTHS,
    TOP_OF_SCALE,
    ExpectedLoss,
    Score,
    clean_weights,
    collection_worth,
    expected_loss,
    ordinary_share,
    score,
    weighted,
)
from housing.models import Campaign, Housing
from housing.queries.objects import STILL_UNHOUSED, objects_with_status
from objects.models import CatalogueObject

FIELDS = (
    "present_housing", "need_by_hand", "use", "fragility", "projecting_parts", "surveyed_at", "condition",
    "significance", "hazards",
)  # fmt: skip


def worth_of_collection() -> float:
    """What the whole collection is worth, in ordinary objects."""
    rows = CatalogueObject.objects.order_by().values_list("significance").annotate(Count("pk"))
    return collection_worth(dict(rows))


def answers_of(facts: Mapping[str, object], is_housed: bool) -> dict[str, str]:
    """What the score asks of an object, from its fields by name. is_housed: it lies in a box made for it."""
    said = str(facts["need_by_hand"])
    housing = HOUSING_OF_NEED[said] if said else str(facts["present_housing"])
    # Nobody writes down that nothing projects: who has looked at the object and named nothing has seen none.
    unseen = "" if facts["surveyed_at"] is None else "no"
    return {
        "housing": "good" if is_housed else housing,
        "use": str(facts["use"]),
        "fragility": str(facts["fragility"]),
        "projecting_parts": "yes" if facts["projecting_parts"] else unseen,
        "condition": str(facts["condition"]),
        "significance": str(facts["significance"]),
        "hazards": hazard_answer(str(facts["hazards"])),
    }


def score_of(thing: CatalogueObject, weights: Mapping[str, float] | None = None) -> Score:
    """The score of one object of objects_with_status(), with its parts."""
    is_housed = thing.housing_status == Housing.Status.HOUSED
    facts = {name: getattr(thing, name) for name in FIELDS}
    return score(answers_of(facts, is_housed), worth_of_collection(), weights)


def _conditions(factor: Factor) -> list[tuple[Q, str]]:
    """When an object gives which answer, tried in this order; what meets none gives the middle points."""
    match factor.key:
        case "housing":
            return [
                (Q(tie__housing__status=Housing.Status.HOUSED), "good"),
                *((Q(need_by_hand=need), housing) for need, housing in HOUSING_OF_NEED.items()),
                *((Q(present_housing=answer), answer) for answer in factor.points),
            ]
        case "projecting_parts":
            return [(~Q(projecting_parts=""), "yes")]
        case "hazards":
            severe = Q()
            for name in SEVERE_HAZARDS:
                severe |= Q(hazards__icontains=name)
            return [(Q(hazards=""), "none"), (severe, "severe"), (~Q(hazards=""), "some")]
        case key:
            return [(Q(**{key: answer}), answer) for answer in factor.points]


def score_expression(worth: float, weights: Mapping[str, float] | None = None):
    """The total of score(), in hundredths, over objects_with_status(): the same tables in the database."""
    of_factor = clean_weights(weights or {})
    points = {
        key: Case(
            *(
                When(condition, then=Value(weighted(factor, answer, of_factor[key])))
                for condition, answer in _conditions(factor)
            ),
            default=Value(weighted(factor, "", of_factor[key])),
            output_field=IntegerField(),
        )
        for key, factor in FACTORS.items()
    }
    total = sum((points[key] for key, factor in FACTORS.items() if not factor.scale), Value(0))
    for scale in SCALES:
        base = ordinary_share(worth) if scale == "C" else 0
        of_scale = sum((points[key] for key, f in FACTORS.items() if f.scale == scale), Value(base))
        total = total + Least(of_scale, Value(round(HUNDREDTHS * TOP_OF_SCALE)))
    return total


def with_score(
    objects: QuerySet[CatalogueObject], weights: Mapping[str, float] | None = None, name: str = "score"
) -> QuerySet[CatalogueObject]:
    """objects_with_status() with the priority score in hundredths, by a campaign's weights where given."""
    return objects.annotate(**{name: score_expression(worth_of_collection(), weights)})


def in_band(objects: QuerySet[CatalogueObject], band: str, name: str = "score") -> QuerySet[CatalogueObject]:
    """Objects with a score, narrowed to a band of it."""
    _, _, least, below = next(row for row in BANDS if row[0] == band)
    if least is not None:
        objects = objects.filter(**{f"{name}__gte": least})
    return objects if below is None else objects.filter(**{f"{name}__lt": below})


def band_expression(name: str = "score") -> Case:
    """The band a score falls in."""
    whens = [
        When(**{f"{name}__gte": least}, then=Value(key)) for key, _, least, _ in BANDS if least is not None
    ]
    return Case(*whens, default=Value(BANDS[-1][0]))


# ---- Places in the order of a campaign -------------------------------------------------------------------


@dataclass(frozen=True)
class Place:
    """Where an object stands among those still unhoused of a campaign: the class first, then the score."""

    campaign: Campaign | None
    place: int
    of: int

    @property
    def is_high(self) -> bool:
        """Whether it lies in the upper half, the first half of an odd number included."""
        return 2 * self.place <= self.of + 1


def places_of(thing: CatalogueObject, campaigns: list[Campaign]) -> list[Place]:
    """The places of a still unhoused object in its campaigns, or in the whole collection if it is in none."""
    if thing.housing_status not in STILL_UNHOUSED:
        return []
    return [_place(thing, campaign) for campaign in campaigns or [None]]


def _place(thing: CatalogueObject, campaign: Campaign | None) -> Place:
    weights = campaign.weights if campaign else None
    objects = with_score(objects_with_status(), weights).filter(housing_status__in=STILL_UNHOUSED)
    if campaign:
        objects = objects.filter(campaigns=campaign)
    own = score_of(thing, weights).total
    before = Q(priority__lt=thing.priority) | Q(priority=thing.priority, score__gt=own)
    counted = objects.aggregate(of=Count("pk"), before=Count("pk", filter=before))
    return Place(campaign, counted["before"] + 1, counted["of"])


def scores_in(campaign: Campaign) -> dict[int, int]:
    """Score in hundredths of every object of a campaign, by its weights."""
    objects = with_score(objects_with_status().filter(campaigns=campaign), campaign.weights)
    return dict(objects.order_by().values_list("pk", "score"))


# ---- What is at stake ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Stake:
    """Expected loss a year as shares of the collection's value: of all, a campaign, and that once housed."""

    everything: ExpectedLoss
    campaign: ExpectedLoss
    once_housed: ExpectedLoss
    objects: int
    incomplete: int

    @property
    def percent(self) -> float:
        """How much of the whole expected loss the campaign's objects carry."""
        return 100 * self.campaign.estimate / self.everything.estimate if self.everything.estimate else 0.0

    @property
    def spared_percent(self) -> float:
        """How much of the whole expected loss is gone once they are all housed."""
        spared = self.campaign.estimate - self.once_housed.estimate
        return 100 * spared / self.everything.estimate if self.everything.estimate else 0.0


def stake_of(campaign: Campaign) -> Stake:
    """What the campaign's objects stand to lose, on the published scale whatever the campaign's weights."""
    worth = worth_of_collection()
    is_housed = Q(tie__housing__status=Housing.Status.HOUSED)
    all_kinds = _kinds(objects_with_status(), is_housed)
    own_kinds = _kinds(objects_with_status().filter(campaigns=campaign), is_housed)

    def scored(kinds: Counter, **changed: str) -> list[tuple[Score, int]]:
        return [(score({**dict(kind), **changed}, worth), number) for kind, number in kinds.items()]

    own = scored(own_kinds)
    return Stake(
        everything=expected_loss(scored(all_kinds)),
        campaign=expected_loss(own),
        once_housed=expected_loss(scored(own_kinds, housing="good")),
        objects=own_kinds.total(),
        incomplete=sum(number for each, number in own if each.unknown),
    )


def _kinds(objects: QuerySet[CatalogueObject], is_housed: Q) -> Counter:
    """Objects counted by all that the score asks of them, so that each combination is scored once."""
    rows = objects.annotate(is_housed=Case(When(is_housed, then=Value(1)), default=Value(0)))
    kinds: Counter = Counter()
    for *values, housed, number in (
        rows.order_by().values_list(*FIELDS, "is_housed").annotate(number=Count("pk"))
    ):
        answers = answers_of(dict(zip(FIELDS, values, strict=True)), bool(housed))
        kinds[tuple(answers.items())] += number
    return kinds


# ---- Other weights tried ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class Reordered:
    """An object with its place and score by the campaign's weights and by others; scores in hundredths."""

    pk: int
    name: str
    priority: str
    place: int
    score: int
    new_place: int
    new_score: int

    @property
    def moves(self) -> int:
        """How many places it comes sooner."""
        return self.place - self.new_place


def reordered(campaign: Campaign, weights: Mapping[str, float], limit: int) -> list[Reordered]:
    """The first of a campaign's still unhoused objects by other weights, with where they stand now."""
    objects = objects_with_status().filter(campaigns=campaign, housing_status__in=STILL_UNHOUSED)
    scored = with_score(with_score(objects, campaign.weights), weights, "new_score")
    rows = list(
        scored.order_by("number_key").values_list("pk", "number", "name", "priority", "score", "new_score")
    )
    places = _places([(priority, now) for *_, priority, now, _ in rows])
    new_places = _places([(priority, new) for *_, priority, _, new in rows])
    found = [
        Reordered(pk, f"{number} {name}", priority, place, now, new_place, new)
        for (pk, number, name, priority, now, new), place, new_place in zip(
            rows, places, new_places, strict=True
        )
    ]
    return sorted(found, key=lambda row: row.new_place)[:limit]


def _places(keys: list[tuple[str, int]]) -> list[int]:
    """The place of each (class, score): class A first, then the higher score; equal ones share a place."""
    first: dict[tuple[str, int], int] = {}
    for place, key in enumerate(sorted(keys, key=lambda key: (key[0], -key[1])), 1):
        first.setdefault(key, place)
    return [first[key] for key in keys]
