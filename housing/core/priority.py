"""Which object first: a score on the published scales of risk, part by part, with what is not known told.

Scales: Michalski and Pedersoli, The ABC Method, CCI/ICCROM 2016. A, how soon; B, how much of an affected
object's value is lost; C, what share of the collection's value the object holds. Each is at most 5 and falls
in steps of half, every whole step a factor of ten: A 5 is about a year, A 4 ten years; B 5 is all of the
value, B 4 a tenth; C 5 is the whole collection, C 4 a tenth of it. Their sum is the magnitude of risk, at
most 15. The points that each answer gives in FACTORS are assumed: they set answers that a collections manager
can give beside one another on those scales, and weights change how much each of them counts.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log10

from housing.core.factors import FACTORS, SCALES, Factor
from objects.core.refusals import Refusal
from objects.core.words import noted, say

LARGEST_SUM = 15.0
TOP_OF_SCALE = 5.0
LARGEST_WEIGHT = 3.0
# Points are counted in whole hundredths, so that the database comes to exactly the same total.
HUNDREDTHS = 100
SURE_RANGE = 2 * HUNDREDTHS


class PriorityRefused(Refusal):
    """A score was asked of an answer, a weight or a collection that cannot be."""


@dataclass(frozen=True)
class ScorePart:
    """What one factor adds: its answer in words, its points and weight, and a sentence that says why."""

    factor: Factor
    answer: str
    is_known: bool
    weight: float
    hundredths: int
    sentence: str

    @property
    def points(self) -> float:
        return self.hundredths / HUNDREDTHS


@dataclass(frozen=True)
class Score:
    """A priority score: the magnitude of risk, in hundredths, with its range, and the urgency for people.

    scales: A, B and C in hundredths. ordinary: C of an ordinary object of the collection. low, high: the
    magnitude if every answer not recorded were the one with the fewest or the most points; harm_low,
    harm_high: the same with the significance left as taken. urgency: added for hazards; no loss of value, so
    no part of the magnitude.
    """

    parts: tuple[ScorePart, ...]
    scales: Mapping[str, int]
    ordinary: int
    magnitude: int
    low: int
    high: int
    harm_low: int
    harm_high: int
    urgency: int
    is_published_scale: bool

    @property
    def total(self) -> int:
        """What lists are sorted by, in hundredths."""
        return self.magnitude + self.urgency

    @property
    def unknown(self) -> tuple[ScorePart, ...]:
        return tuple(part for part in self.parts if not part.is_known)

    @property
    def is_sure(self) -> bool:
        """Whether the magnitude is known to within two steps of the scales from low to high; assumed."""
        return self.high - self.low <= SURE_RANGE

    @property
    def loss_a_year(self) -> float:
        """Expected loss, as a share of the value of the whole collection."""
        return loss_a_year(self.magnitude / HUNDREDTHS)


def loss_a_year(magnitude: float) -> float:
    """Share of the whole value that a risk takes in a year, 0 to 1, no unit.

    magnitude: A + B + C, at most 15. Source: the scales' own definition, 10^(A-5) times a year, 10^(B-5) of
    each affected object, 10^(C-5) of the collection, so 10^(magnitude - 15).
    """
    if magnitude > LARGEST_SUM:
        raise PriorityRefused(f"A magnitude of {magnitude:g} is beyond the scale; it ends at 15.")
    return float(10 ** (magnitude - LARGEST_SUM))


def collection_worth(counts: Mapping[str, int]) -> float:
    """The collection's value counted in ordinary objects: as many as it has, if all are ordinary.

    counts: objects by answer on significance, "" for not recorded, which is taken as ordinary.
    Returns a number above 0. Source: shares of the value as in the method's value pie; what a low, high or
    key object is worth beside an ordinary one (a tenth, ten, a hundred times) is assumed.
    """
    factor = FACTORS["significance"]
    worth = sum(number * 10 ** factor.points_of(answer) for answer, number in counts.items())
    return max(float(worth), 10 ** min(factor.points.values()))


def ordinary_share(worth: float) -> int:
    """C of an ordinary object, in hundredths: 5 - log10 of the collection's worth in ordinary objects."""
    if not worth > 0:
        raise PriorityRefused(f"A collection cannot be worth {worth:g} objects; it must be more than 0.")
    return round(HUNDREDTHS * (TOP_OF_SCALE - log10(worth)))


def weighted(factor: Factor, answer: str, weight: float) -> int:
    """Points of an answer in hundredths, moved away from the factor's middle by its weight.

    answer: one of the factor's, "" for not recorded. weight: 0 to 3; with 1 the points as in the table, with
    0 the middle ones whatever the answer.
    """
    middle = factor.points[factor.middle]
    return round(HUNDREDTHS * (middle + weight * (factor.points_of(answer) - middle)))


def clean_weights(weights: Mapping[str, float]) -> dict[str, float]:
    """The weight of every factor, 1 where none is given. Refuses factors and weights that cannot be."""
    if strange := set(weights) - set(FACTORS):
        raise PriorityRefused(f"There is no factor called {', '.join(sorted(strange))}.")
    for name, weight in weights.items():
        if not 0 <= weight <= LARGEST_WEIGHT:
            raise PriorityRefused(f"{FACTORS[name].words}: a weight of {weight:g} is not from 0 to 3.")
    return {name: float(weights.get(name, 1)) for name in FACTORS}


def score(answers: Mapping[str, str], worth: float, weights: Mapping[str, float] | None = None) -> Score:
    """The priority score of one object.

    answers: factor to answer, "" or left out for not recorded, which gives the middle points. worth: of the
    collection in ordinary objects, above 0 (collection_worth). weights: factor to weight, 1 where left out.
    Raises PriorityRefused for answers, weights or a worth that cannot be.
    Source: see the head of this file; the sums are the method's own, the points assumed.
    """
    of_factor = clean_weights(weights or {})
    parts = tuple(
        _part(factor, answers.get(factor.key, ""), of_factor[factor.key]) for factor in FACTORS.values()
    )
    share = ordinary_share(worth)
    scales = _scales({part.factor.key: part.hundredths for part in parts}, share)
    low, high = _extremes(parts, share)
    harm_low, harm_high = _extremes(parts, share, taken="significance")
    return Score(
        parts=parts,
        scales=scales,
        ordinary=share,
        magnitude=sum(scales.values()),
        low=low,
        high=high,
        harm_low=harm_low,
        harm_high=harm_high,
        urgency=sum(part.hundredths for part in parts if part.factor.scale == ""),
        is_published_scale=all(weight == 1 for weight in of_factor.values()),
    )


def _part(factor: Factor, answer: str, weight: float) -> ScorePart:
    if answer and answer not in factor.points:
        raise PriorityRefused(f"{factor.words}: “{answer}” is no answer.")
    taken = answer or factor.middle
    sentence = factor.sentences[taken]
    if not answer:
        sentence = noted("Not recorded: taken as {answer}.").format(answer=factor.answers[taken].lower())
    return ScorePart(
        factor, factor.answers[taken], bool(answer), weight, weighted(factor, taken, weight), sentence
    )


def _extremes(parts: Iterable[ScorePart], share: int, taken: str = "") -> tuple[int, int]:
    """The least and the largest magnitude that what is not recorded allows; one factor may stay as taken."""
    ends: list[dict[str, int]] = [{}, {}]
    for part in parts:
        key, reach = part.factor.key, [part.hundredths]
        if not part.is_known and key != taken:
            reach = [weighted(part.factor, answer, part.weight) for answer in part.factor.points]
        ends[0][key], ends[1][key] = min(reach), max(reach)
    low, high = (sum(_scales(points, share).values()) for points in ends)
    return low, high


def _scales(points: Mapping[str, int], share: int) -> dict[str, int]:
    """A, B and C from the points of their factors, each at most 5. share: C of an ordinary object."""
    sums = dict.fromkeys(SCALES, 0) | {"C": share}
    for key, value in points.items():
        if scale := FACTORS[key].scale:
            sums[scale] += value
    return {scale: min(value, round(HUNDREDTHS * TOP_OF_SCALE)) for scale, value in sums.items()}


@dataclass(frozen=True)
class ExpectedLoss:
    """What several objects together stand to lose in a year, as shares of the whole collection's value."""

    estimate: float
    low: float
    high: float


def expected_loss(scores: Iterable[tuple[Score, int]]) -> ExpectedLoss:
    """Expected loss of several objects: the sum of theirs, with the range that answers not recorded leave.

    scores: each with how many objects have it. Returns shares of the collection's value a year.
    Source: risks add up as fractions, 10^(magnitude - 15) each. What each object is worth is left as taken:
    the shares of one collection come to 1, so they cannot all be larger. The other ranges are taken as
    independent between objects and added as roots of sums of squares (law of propagation of uncertainty, JCGM
    100:2008, 5.1.2), which is rough, as they are uneven.
    """
    estimate = below = above = 0.0
    for each, number in scores:
        loss, low, high = (
            loss_a_year(m / HUNDREDTHS) for m in (each.magnitude, each.harm_low, each.harm_high)
        )
        estimate += number * loss
        below += number * (loss - low) ** 2
        above += number * (high - loss) ** 2
    return ExpectedLoss(estimate, max(0.0, estimate - below**0.5), min(1.0, estimate + above**0.5))


def advice(is_high: bool, is_sure: bool) -> str:
    """What to do about a risk, by its size and by how sure one is of it.

    is_high: in the upper half of the list; the method lets the cut halve it. Source: the same manual, table
    of magnitude against uncertainty (table 22).
    """
    if is_high:
        return (
            say("High and well known: house it soon.")
            if is_sure
            else say("High, but little is known: look at it first.")
        )
    return (
        say("Low and well known: it can wait.")
        if is_sure
        else say("Low, but little is known: look at it when there is time.")
    )


# Bands of the score by which lists are divided; the cuts are whole steps of the scale, each a factor of ten.
# key, words, from (hundredths), below (hundredths)
BANDS: tuple[tuple[str, str, int | None, int | None], ...] = (
    ("from11", "11 and more", 1100, None),
    ("from10", "10 to 11", 1000, 1100),
    ("from9", "9 to 10", 900, 1000),
    ("from8", "8 to 9", 800, 900),
    ("from7", "7 to 8", 700, 800),
    ("under7", "Under 7", None, 700),
)
