"""What a priority score asks of an object, and the points that each answer gives: a table to be read."""

from collections.abc import Mapping
from dataclasses import dataclass

from objects.core.words import noted

# What each scale stands for. Source: Michalski and Pedersoli, The ABC Method, CCI/ICCROM 2016.
SCALES = {
    "A": noted("How soon harm is to be expected"),
    "B": noted("How much of its value the object then loses"),
    "C": noted("What share of the collection's value it holds"),
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
            "housing", noted("Present housing"), "A", "adequate",
            ("none", noted("None"), 4.0, noted("Nothing keeps dust, light and knocks off it.")),
            ("poor", noted("Poor"), 3.5, noted("Its housing does harm or does not protect.")),
            ("adequate", noted("Adequate"), 2.5, noted("Its housing does its work.")),
            ("not_needed", noted("Needs none"), 2.5, noted("A box would keep nothing more away from it.")),
            ("good", noted("Good"), 1.5, noted("It is well housed.")),
        ),
        _factor(
            "use", noted("How often it is used"), "A", "yearly",
            ("never", noted("Hardly ever"), -1.0, noted("It is hardly ever taken up, so knocks are rarer.")),
            ("years", noted("Every few years"), -0.5, noted("It is taken up every few years.")),
            ("yearly", noted("About once a year"), 0.0, noted("It is taken up about once a year.")),
            ("monthly", noted("About once a month"), 0.5, noted("It is taken up about once a month.")),
            (
                "weekly", noted("About once a week or more"), 1.0,
                noted("It is taken up every week: many knocks."),
            ),
        ),
        _factor(
            "fragility", noted("Fragility"), "B", "ordinary",
            ("robust", noted("Robust"), 2.0, noted("It bears ordinary handling.")),
            ("ordinary", noted("Ordinary"), 3.0, noted("It bears careful handling.")),
            ("delicate", noted("Delicate"), 3.5, noted("A knock would damage it.")),
            ("very_delicate", noted("Very delicate"), 4.0, noted("Lifting it may damage it.")),
        ),
        _factor(
            "projecting_parts", noted("Fragile parts that project"), "B", "no",
            ("no", noted("None"), 0.0, noted("Nothing fragile projects.")),
            ("yes", noted("Some"), 0.5, noted("What projects is knocked first.")),
        ),
        _factor(
            "condition", noted("Condition"), "B", "fair",
            ("good", noted("Good"), -0.5, noted("It is sound.")),
            ("fair", noted("Fair"), 0.0, noted("It is worn, but holds.")),
            ("poor", noted("Poor"), 0.5, noted("It is damaged already, and damage goes on from there.")),
            ("fragile", noted("Fragile"), 0.5, noted("It hardly holds together.")),
        ),
        _factor(
            "significance", noted("Significance"), "C", "ordinary",
            (
                "low", noted("Low"), -1.0,
                noted("There are many like it: worth a tenth of an ordinary object."),
            ),
            ("ordinary", noted("Ordinary"), 0.0, noted("It is worth as much as most.")),
            ("high", noted("High"), 1.0, noted("It is worth ten ordinary objects.")),
            ("key", noted("Key"), 2.0, noted("It is worth a hundred ordinary objects.")),
        ),
        _factor(
            "hazards", noted("Hazard to people"), "", "none",
            ("none", noted("None recorded"), 0.0, noted("No hazard is recorded.")),
            ("some", noted("Some"), 0.5, noted("A box keeps people from touching it unawares.")),
            (
                "severe", noted("Severe"), 1.0,
                noted("A closed, labelled box keeps dust and vapour from people."),
            ),
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
