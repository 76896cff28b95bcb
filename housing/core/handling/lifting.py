"""Who may lift a box: the revised lifting equation of NIOSH."""

from bisect import bisect_left
from dataclasses import dataclass

from housing.core.errors import EnclosureError
from objects.core.words import decimal, say


class LiftingRefused(EnclosureError):
    """A lift cannot be judged from what was given; the message says which part of it."""


@dataclass(frozen=True)
class Constants:
    """The equation's constants in one system of units; the two are no exact conversions of one another."""

    load: float
    reach: float
    reach_most: float
    height: float
    height_slope: float
    height_most: float
    travel: float
    travel_least: float
    travel_most: float


# Source: Waters, Putz-Anderson and Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS
# (NIOSH) 94-110, revised September 2021, as transcribed in a public specification.
METRIC = Constants(23.0, 25.0, 63.0, 75.0, 0.003, 175.0, 4.5, 25.0, 175.0)
US = Constants(51.0, 10.0, 25.0, 30.0, 0.0075, 70.0, 1.8, 10.0, 70.0)

# Lifts a minute, and the frequency multiplier for up to 1 hour, 1 to 2 and 2 to 8 hours of work; the second
# figure of a pair holds from the height of 75 cm (30 in) on. Source: the same manual; beyond 5 lifts a minute
# from memory.
FREQUENCY: tuple[tuple[float, tuple[tuple[float, float], tuple[float, float], tuple[float, float]]], ...] = (
    (0.2, ((1.00, 1.00), (0.95, 0.95), (0.85, 0.85))),
    (0.5, ((0.97, 0.97), (0.92, 0.92), (0.81, 0.81))),
    (1.0, ((0.94, 0.94), (0.88, 0.88), (0.75, 0.75))),
    (2.0, ((0.91, 0.91), (0.84, 0.84), (0.65, 0.65))),
    (3.0, ((0.88, 0.88), (0.79, 0.79), (0.55, 0.55))),
    (4.0, ((0.84, 0.84), (0.72, 0.72), (0.45, 0.45))),
    (5.0, ((0.80, 0.80), (0.60, 0.60), (0.35, 0.35))),
    (6.0, ((0.75, 0.75), (0.50, 0.50), (0.27, 0.27))),
    (7.0, ((0.70, 0.70), (0.42, 0.42), (0.22, 0.22))),
    (8.0, ((0.60, 0.60), (0.35, 0.35), (0.18, 0.18))),
    (9.0, ((0.52, 0.52), (0.30, 0.30), (0.00, 0.15))),
    (10.0, ((0.45, 0.45), (0.26, 0.26), (0.00, 0.13))),
    (11.0, ((0.41, 0.41), (0.00, 0.23), (0.00, 0.00))),
    (12.0, ((0.37, 0.37), (0.00, 0.21), (0.00, 0.00))),
    (13.0, ((0.00, 0.34), (0.00, 0.00), (0.00, 0.00))),
    (14.0, ((0.00, 0.31), (0.00, 0.00), (0.00, 0.00))),
    (15.0, ((0.00, 0.28), (0.00, 0.00), (0.00, 0.00))),
)
GRIPS = {"good": (1.00, 1.00), "fair": (0.95, 1.00), "poor": (0.90, 0.90)}


@dataclass(frozen=True)
class Lift:
    """One lift, lengths in cm (or inches with the US constants).

    reach: of the hands from the ankles, level. height: of the hands where the load is taken or put down;
    origin_height: where it is taken. travel: up or down between the two. turn_degrees: of the body.
    lifts_minute: how often. hours: for how long, 1, 2 or 8. grip: a key of GRIPS.
    """

    reach: float
    height: float
    origin_height: float
    travel: float
    turn_degrees: float = 0.0
    lifts_minute: float = 0.2
    hours: int = 1
    grip: str = "good"


def weight_limit(lift: Lift, constants: Constants = METRIC) -> float:
    """Weight that nearly all healthy workers may lift so, kg (or lb); 0 where the lift is out of bounds.

    Raises LiftingRefused for a negative length, an unknown grip or hours other than 1, 2 and 8.
    Source: RWL = LC x HM x VM x DM x AM x FM x CM; see the constants.
    """
    if min(lift.reach, lift.height, lift.origin_height, lift.travel, lift.turn_degrees) < 0:
        raise LiftingRefused(say("A reach, a height or a turn is negative. Enter it without the minus sign."))
    if lift.grip not in GRIPS or lift.hours not in (1, 2, 8):
        raise LiftingRefused(say("A grip is one of {grips}; a time 1, 2 or 8 hours.", grips=", ".join(GRIPS)))
    c = constants
    if lift.reach > c.reach_most or lift.height > c.height_most or lift.travel > c.travel_most:
        return 0.0
    if lift.turn_degrees > 135:
        return 0.0
    return (
        c.load
        * c.reach
        / max(lift.reach, c.reach)
        * (1 - c.height_slope * abs(lift.height - c.height))
        * (0.82 + c.travel / max(lift.travel, c.travel_least))
        * (1 - 0.0032 * lift.turn_degrees)
        * frequency_multiplier(lift.lifts_minute, lift.hours, lift.origin_height >= c.height)
        * GRIPS[lift.grip][lift.height >= c.height]
    )


def frequency_multiplier(lifts_minute: float, hours: int, is_high: bool) -> float:
    """What is left for a number of lifts a minute; straight lines between the table's entries."""
    column = (1, 2, 8).index(hours)
    rates = [rate for rate, _ in FREQUENCY]
    if lifts_minute <= rates[0]:
        return FREQUENCY[0][1][column][is_high]
    if lifts_minute > rates[-1]:
        return 0.0
    i = bisect_left(rates, lifts_minute)
    low, high = FREQUENCY[i - 1][1][column][is_high], FREQUENCY[i][1][column][is_high]
    return low + (high - low) * (lifts_minute - rates[i - 1]) / (rates[i] - rates[i - 1])


def reach_of(depth_cm: float, height_cm: float) -> float:
    """How far the hands are from the ankles when nobody has measured it, cm.

    depth_cm: of the box from front to back. height_cm: of the hands. Source: the same manual, page 8.
    """
    return (20.0 if height_cm >= 25 else 25.0) + depth_cm / 2


# Taken from a table and put on shelves from knee to just above shoulder height, now and then; assumed.
TABLE_CM = 75.0
SHELVES_CM = (30.0, 75.0, 120.0, 150.0)
SHOW_WEIGHT_KG = 7.0  # heavier boxes say on the label what they weigh; assumed
TWO_PEOPLE_KG = 12.0  # heavier ones are lifted by two whatever the equation says; assumed
TEAM_SHARE = 2 / 3  # of what each can lift alone that two lift together; HSE guidance L23


@dataclass(frozen=True)
class Handling:
    """How to lift a box: its weight, lifting index at the worst shelf, that shelf in cm, and what to say."""

    gross_kg: float
    lifting_index: float
    shelf_cm: float
    two_people: bool
    shows_weight: bool
    sentence: str


def assess(gross_kg: float, depth_mm: float, has_hand_holes: bool = False) -> Handling:
    """Whether one person may lift a box from a table to any shelf.

    gross_kg: box and contents, kg. depth_mm: from front to back, mm. has_hand_holes: a good grip.
    Raises LiftingRefused for a mass or depth at or below 0.
    Source: lifting index = weight / limit, at most 1 as the manual's design goal; heights assumed.
    """
    if not (gross_kg > 0 and depth_mm > 0):
        raise LiftingRefused(
            say(
                "A box of {gross_kg:g} kg and {depth_mm:g} mm cannot be lifted. Weigh and measure it.",
                gross_kg=gross_kg,
                depth_mm=depth_mm,
            )
        )
    grip = "good" if has_hand_holes else "fair"
    limits = {shelf: _limit(depth_mm / 10, shelf, grip) for shelf in SHELVES_CM}
    shelf = min(limits, key=lambda at: limits[at])
    limit = limits[shelf]
    index = gross_kg / limit if limit else float("inf")
    two = index > 1 or gross_kg > TWO_PEOPLE_KG
    if not two:
        sentence = say(
            "One person may lift it: {gross_kg} kg, lifting index {index} at the worst shelf.",
            gross_kg=decimal(gross_kg, 1),
            index=decimal(index, 2),
        )
    elif gross_kg <= 2 * limit * TEAM_SHARE:
        sentence = say(
            "Two people: {gross_kg} kg; one may lift {limit} kg to a shelf at {shelf} "
            "cm, two together {limit2} kg.",
            gross_kg=decimal(gross_kg, 1),
            limit=decimal(limit, 1),
            shelf=f"{shelf:.0f}",
            limit2=decimal(2 * limit * TEAM_SHARE, 1),
        )
    else:
        sentence = say(
            "Not by hand: {gross_kg} kg is more than the {limit} kg two people may lift to a "
            "shelf at {shelf} cm. Use a lifting aid and ask your safety officer.",
            gross_kg=decimal(gross_kg, 1),
            limit=decimal(2 * limit * TEAM_SHARE, 1),
            shelf=f"{shelf:.0f}",
        )
    return Handling(gross_kg, index, shelf, two, gross_kg > SHOW_WEIGHT_KG, sentence)


def _limit(depth_cm: float, shelf_cm: float, grip: str) -> float:
    """The lower of the limits where the box is taken and where it is put down."""
    travel = abs(shelf_cm - TABLE_CM)
    return min(
        weight_limit(Lift(reach_of(depth_cm, at), at, TABLE_CM, travel, grip=grip))
        for at in (TABLE_CM, shelf_cm)
    )
