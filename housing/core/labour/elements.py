"""The elements that work on a box consists of, what each is counted by, and the step each belongs to."""

from dataclasses import dataclass
from enum import StrEnum

from objects.core.words import noted


class Driver(StrEnum):
    """What an element's standard time is multiplied by."""

    BOX = "box"
    OBJECT = "object"
    BLANK = "blank"
    CUT_METRE = "cut_m"
    SCORE_METRE = "score_m"
    FOLD = "fold"
    JOINT = "joint"
    LINING = "lining_m2"


class Element(StrEnum):
    """Work elements in working order."""

    MEASURE = "measure"
    FETCH = "fetch"
    MARK_OUT = "mark_out"
    SCORE = "score"
    CUT = "cut"
    FOLD = "fold"
    GLUE = "glue"
    PAD = "pad"
    FIT = "fit"
    LABEL = "label"
    PHOTOGRAPH = "photograph"
    RETURN = "return"


ELEMENTS = tuple(Element)  # the columns of every array of minutes, in this order


@dataclass(frozen=True)
class Minutes:
    """A standard time with how low and high it may well be, in minutes for one of its driver.

    Raises ValueError unless 0 <= low <= likely <= high.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.likely <= self.high:
            raise ValueError(
                f"Minutes of {self.low}, {self.likely} and {self.high} are not in order, or are below 0."
            )


@dataclass(frozen=True)
class StandardElement:
    """An element as it is shipped. step: the step of the work that it is part of."""

    element: Element
    name: str
    driver: Driver
    step: str
    minutes: Minutes
    source: str


ASSUMED = noted(
    "Assumed: published times differ by a factor of ten with form, tools and practice. Replace it by a time "
    "taken at your own bench."
)
SHIPPED: dict[Element, StandardElement] = {
    one.element: one
    for one in (
        StandardElement(
            Element.MEASURE, noted("Measure an object"), Driver.OBJECT, "measure", Minutes(3, 6, 15), ASSUMED
        ),
        StandardElement(
            Element.FETCH,
            noted("Fetch board and object, clear the bench"),
            Driver.BOX,
            "fetch",
            Minutes(2, 3, 8),
            ASSUMED,
        ),
        StandardElement(
            Element.MARK_OUT, noted("Mark out a blank"), Driver.BLANK, "score", Minutes(1.5, 2.5, 5), ASSUMED
        ),
        StandardElement(
            Element.SCORE, noted("Score a metre"), Driver.SCORE_METRE, "score", Minutes(0.8, 1.2, 2), ASSUMED
        ),
        StandardElement(
            Element.CUT, noted("Cut a metre"), Driver.CUT_METRE, "cut", Minutes(1, 1.5, 3), ASSUMED
        ),
        StandardElement(
            Element.FOLD, noted("Fold along a score"), Driver.FOLD, "glue", Minutes(0.1, 0.2, 0.4), ASSUMED
        ),
        StandardElement(
            Element.GLUE, noted("Glue a joint"), Driver.JOINT, "glue", Minutes(0.5, 1, 2), ASSUMED
        ),
        StandardElement(
            Element.PAD, noted("Line a square metre"), Driver.LINING, "fit", Minutes(4, 8, 20), ASSUMED
        ),
        StandardElement(
            Element.FIT, noted("Fit an object"), Driver.OBJECT, "fit", Minutes(1, 2.5, 8), ASSUMED
        ),
        StandardElement(
            Element.LABEL, noted("Label a box"), Driver.BOX, "label", Minutes(1, 1.5, 3), ASSUMED
        ),
        StandardElement(
            Element.PHOTOGRAPH,
            noted("Photograph object and box"),
            Driver.BOX,
            "fit",
            Minutes(1, 2, 5),
            ASSUMED,
        ),
        StandardElement(
            Element.RETURN, noted("Return to the shelf"), Driver.BOX, "return", Minutes(2, 4, 10), ASSUMED
        ),
    )
}
