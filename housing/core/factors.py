"""What a priority score asks of an object, and the points that each answer gives: a table to be read."""

from collections.abc import Mapping
from dataclasses import dataclass

# What each scale stands for. Source: Michalski and Pedersoli, The ABC Method, CCI/ICCROM 2016.
SCALES = {
    "A": "How soon harm is to be expected",
    "B": "How much of its value the object then loses",
    "C": "What share of the collection's value it holds",
}


@dataclass(frozen=True)
class Factor:
    """One question. scale: the one its points count on, "" for those that are no loss of value.

    answers: answer to its words. points: answer to its points, in steps of half, assumed. middle: the answer
    that stands for one not recorded, and from which weights count. sentences: why an answer gives its points.
    """

    key: str
    words: str
    scale: str
    middle: str
    answers: Mapping[str, str]
    points: Mapping[str, float]
    sentences: Mapping[str, str]

    def points_of(self, answer: str) -> float:
        """Points of an answer; the middle ones for "", not recorded."""
        return self.points[answer or self.middle]


def _factor(
    key: str, words: str, scale: str, middle: str, *rows: tuple[str, str, float, str]
) -> tuple[str, Factor]:
    """rows: answer, its words, its points, why."""
    return key, Factor(
        key,
        words,
        scale,
        middle,
        {answer: label for answer, label, _, _ in rows},
        {answer: points for answer, _, points, _ in rows},
        {answer: why for answer, _, _, why in rows},
    )


FACTORS: Mapping[str, Factor] = dict(
    (
        _factor(
            "housing", "Present housing", "A", "adequate",
            ("none", "None", 4.0, "Nothing keeps dust, light and knocks off it."),
            ("poor", "Poor", 3.5, "Its housing does harm or does not protect."),
            ("adequate", "Adequate", 2.5, "Its housing does its work."),
            ("not_needed", "Needs none", 2.5, "A box would keep nothing more away from it."),
            ("good", "Good", 1.5, "It is well housed."),
        ),
        _factor(
            "use", "How often it is used", "A", "yearly",
            ("never", "Hardly ever", -1.0, "It is hardly ever taken up, so knocks are rarer."),
            ("years", "Every few years", -0.5, "It is taken up every few years."),
            ("yearly", "About once a year", 0.0, "It is taken up about once a year."),
            ("monthly", "About once a month", 0.5, "It is taken up about once a month."),
            ("weekly", "About once a week or more", 1.0, "It is taken up every week: many knocks."),
        ),
        _factor(
            "fragility", "Fragility", "B", "ordinary",
            ("robust", "Robust", 2.0, "It bears ordinary handling."),
            ("ordinary", "Ordinary", 3.0, "It bears careful handling."),
            ("delicate", "Delicate", 3.5, "A knock would damage it."),
            ("very_delicate", "Very delicate", 4.0, "Lifting it may damage it."),
        ),
        _factor(
            "projecting_parts", "Fragile parts that project", "B", "no",
            ("no", "None", 0.0, "Nothing fragile projects."),
            ("yes", "Some", 0.5, "What projects is knocked first."),
        ),
        _factor(
            "condition", "Condition", "B", "fair",
            ("good", "Good", -0.5, "It is sound."),
            ("fair", "Fair", 0.0, "It is worn, but holds."),
            ("poor", "Poor", 0.5, "It is damaged already, and damage goes on from there."),
            ("fragile", "Fragile", 0.5, "It hardly holds together."),
        ),
        _factor(
            "significance", "Significance", "C", "ordinary",
            ("low", "Low", -1.0, "There are many like it: worth a tenth of an ordinary object."),
            ("ordinary", "Ordinary", 0.0, "It is worth as much as most."),
            ("high", "High", 1.0, "It is worth ten ordinary objects."),
            ("key", "Key", 2.0, "It is worth a hundred ordinary objects."),
        ),
        _factor(
            "hazards", "Hazard to people", "", "none",
            ("none", "None recorded", 0.0, "No hazard is recorded."),
            ("some", "Some", 0.5, "A box keeps people from touching it unawares."),
            ("severe", "Severe", 1.0, "A closed, labelled box keeps dust and vapour from people."),
        ),
    )
)  # fmt: skip

# Hazards that reach people as dust, vapour, radiation or fire, not by touch alone; assumed.
SEVERE_HAZARDS = ("arsenic", "mercury", "pesticide", "asbestos", "radioactive", "nitrate")


def hazard_answer(hazards: str) -> str:
    """The answer on hazards from the text they are kept in; the worst of several counts."""
    if not hazards:
        return "none"
    said = hazards.lower()
    return "severe" if any(name in said for name in SEVERE_HAZARDS) else "some"
