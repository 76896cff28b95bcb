"""What a finished tray tells of its board: caliper, fold share, and which walls carry flaps."""

from dataclasses import dataclass

from housing.core.clearances import INCH
from housing.core.errors import EnclosureError
from objects.core.words import say

NEAR_MM = 1e-6
STEP_MM = INCH / 32  # half of the 1/16 in that a rule is read to; assumed
THINNEST_MM, THICKEST_MM = 0.1, 20.0  # no board is outside; assumed


class NotExplained(EnclosureError):
    """No board and no way of folding explain the sizes; the message says what to measure again."""


@dataclass(frozen=True)
class FinishedTray:
    """A tray as it was drawn and as it was measured when it was finished, mm.

    drawn_x_mm, drawn_y_mm: between the scores of the floor. outside_x_mm, outside_y_mm: over everything.
    drawn_z_mm, outside_z_mm: wall on the flat and height over all, None where not measured; they only check.
    caliper_mm: of the board, None to find it out.
    """

    drawn_x_mm: float
    drawn_y_mm: float
    outside_x_mm: float
    outside_y_mm: float
    drawn_z_mm: float | None = None
    outside_z_mm: float | None = None
    caliper_mm: float | None = None


@dataclass(frozen=True)
class Explanation:
    """The board that explains a finished tray.

    caliper_mm: mm. fold_share: share of it lost inside at a fold. flaps: "x" where they lie outside the left
    and right walls, "y" where outside the near and far ones, "" where there are none outside.
    caliper_range_mm, fold_share_range: how far both may lie from this within the measuring step.
    height_agrees: whether the height, where it was measured, fits too; None where it was not.
    """

    caliper_mm: float
    fold_share: float
    flaps: str
    caliper_range_mm: tuple[float, float]
    fold_share_range: tuple[float, float]
    height_agrees: bool | None
    sentence: str


def explain(tray: FinishedTray, step_mm: float = STEP_MM) -> Explanation:
    """Find the caliper, the fold share and the walls that carry flaps.

    tray: drawn and measured sizes, mm. step_mm: how finely it was measured.
    Between two folds the outside gains 2 (1 - k) t, and 2 t more where flap layers lie outside both walls. So
    the two gains differ by 2 t, and the smaller gives k. Without outside flaps both gains are alike, and k is
    found only where the caliper is known.
    Returns the explanation, with the range that a step of measuring error on each outside size leaves.
    Raises NotExplained with the measurement to look at.
    Source: fold model (boards/core/board.py) solved for its two unknowns.
    """
    gain_x, gain_y = tray.outside_x_mm - tray.drawn_x_mm, tray.outside_y_mm - tray.drawn_y_mm
    _refuse_shrunk(("width", gain_x), ("depth", gain_y))
    if abs(gain_x - gain_y) <= NEAR_MM + (step_mm if tray.caliper_mm else 0.0):
        return _without_flaps(tray, (gain_x + gain_y) / 2, step_mm)
    flaps = "x" if gain_x > gain_y else "y"
    larger, smaller = max(gain_x, gain_y), min(gain_x, gain_y)
    caliper = (larger - smaller) / 2
    share = 1 - smaller / (2 * caliper)
    if share < -NEAR_MM:
        way = say("width") if flaps == "x" else say("depth")
        raise NotExplained(
            say(
                "The {way} grew by {larger:.1f} mm and the other side by {smaller:.1f} mm. Flap layers "
                "add two calipers to one of them, which makes the board {caliper:.1f} mm thick, and no "
                "fold gives more than {caliper2:.1f} mm to the other. Measure the outside again, where "
                "nothing bulges.",
                way=way,
                larger=larger,
                smaller=smaller,
                caliper=caliper,
                caliper2=2 * caliper,
            )
        )
    _refuse_caliper(caliper)
    calipers = max(caliper - step_mm, NEAR_MM), caliper + step_mm
    shares = (
        1 - (smaller + step_mm) / (2 * calipers[0]), 1 - max(smaller - step_mm, 0.0) / (2 * calipers[1])
    )  # fmt: skip
    return _explanation(tray, caliper, share, flaps, calipers, shares, step_mm)


def _without_flaps(tray: FinishedTray, gain: float, step: float) -> Explanation:
    if tray.caliper_mm is None:
        raise NotExplained(
            say(
                "Both sides grew by {gain:.1f} mm, as on a tray without flaps outside: then caliper and "
                "fold cannot be told apart. Enter the board's caliper, or measure a tray with flaps "
                "outside.",
                gain=gain,
            )
        )
    _refuse_caliper(tray.caliper_mm)
    share = 1 - gain / (2 * tray.caliper_mm)
    if share < -NEAR_MM:
        raise NotExplained(
            say(
                "Both sides grew by {gain:.1f} mm, more than two calipers of {caliper_mm:.1f} mm. "
                "Measure the caliper and the outside again.",
                gain=gain,
                caliper_mm=tray.caliper_mm,
            )
        )
    half = step / (2 * tray.caliper_mm)
    shares = share - half, share + half
    return _explanation(tray, tray.caliper_mm, share, "", (tray.caliper_mm,) * 2, shares, step)


def _explanation(
    tray: FinishedTray,
    caliper: float,
    share: float,
    flaps: str,
    calipers: tuple[float, float],
    shares: tuple[float, float],
    step: float,
) -> Explanation:
    share = min(max(share, 0.0), 1.0)
    said = {"mm": f"{caliper:.2f}", "share": f"{100 * share:.0f}"}
    if flaps == "x":
        sentence = say(
            "The board is {mm} mm thick and loses {share}% of that inside at each fold; flaps are glued "
            "outside the left and right walls.",
            **said,
        )
    elif flaps == "y":
        sentence = say(
            "The board is {mm} mm thick and loses {share}% of that inside at each fold; flaps are glued "
            "outside the near and far walls.",
            **said,
        )
    else:
        sentence = say(
            "The board is {mm} mm thick and loses {share}% of that inside at each fold; no flaps lie "
            "outside.",
            **said,
        )
    agrees = None
    if tray.drawn_z_mm is not None and tray.outside_z_mm is not None:
        expected = tray.drawn_z_mm + (1 - share) * caliper
        agrees = abs(tray.outside_z_mm - expected) <= step + NEAR_MM
        sentence += " " + (
            say("The height agrees.")
            if agrees
            else say(
                "The height does not agree: it should be {expected:.1f} mm. Measure it again.",
                expected=expected,
            )
        )
    low, high = (min(max(value, 0.0), 1.0) for value in shares)
    return Explanation(caliper, share, flaps, calipers, (low, high), agrees, sentence)


def _refuse_shrunk(*gains: tuple[str, float]) -> None:
    for name, gain in gains:
        if gain < -NEAR_MM:
            raise NotExplained(
                say(
                    "The {name} is {value:.1f} mm less outside than it was drawn, which no fold does. Enter "
                    "the distance between the scores as drawn, and the outside as measured.",
                    name=name,
                    value=-gain,
                )
            )


def _refuse_caliper(caliper: float) -> None:
    if not THINNEST_MM <= caliper <= THICKEST_MM:
        raise NotExplained(
            say(
                "The sizes ask for a board {caliper:.2f} mm thick; boards are {thinnest_mm:g} to "
                "{thickest_mm:g} mm. Measure drawn and outside sizes again, in one unit.",
                caliper=caliper,
                thinnest_mm=THINNEST_MM,
                thickest_mm=THICKEST_MM,
            )
        )
