"""Several measurements of one object: which of them gives its size, and whether two of them agree."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from objects.core.words import noted

Sides = tuple[Decimal | None, Decimal | None, Decimal | None]
SIDE_NAMES = (noted("height"), noted("width"), noted("depth"))

EYE, LIST, TYPED = "eye", "list", "typed"
BY_HAND, BY_EYE, BY_LIST = 2, 1, 0  # how far a size is trusted
OLDEST_BELIEVED = timedelta(days=366)  # a device may lie in a drawer with entries; assumed

# What a mistaken unit makes of a length: cm for in, mm for cm, mm for in. 1 in = 2.54 cm = 25.4 mm exactly.
UNIT_SLIPS = (
    (Decimal("2.54"), noted("inches and centimetres")),
    (Decimal(10), noted("centimetres and millimetres")),
    (Decimal("25.4"), noted("inches and millimetres")),
)
SLIP_PLAY = Decimal("0.03")  # a second measurement of the same side differs by less; assumed

# Some library rules round up to the whole centimetre (37.1 becomes 38 cm), others keep 0.1 cm: a list may say
# up to 10 mm too much or 0.5 mm too little. Source: rules for describing graphic materials.
LIST_TOO_LARGE_MM, LIST_TOO_SMALL_MM = Decimal(10), Decimal("0.5")


@dataclass(frozen=True)
class Tolerance:
    """How far two measurements of a side may differ: mm, or per cent of the side, whichever is more."""

    mm: Decimal
    percent: Decimal

    def of(self, side_mm: Decimal) -> Decimal:
        """The difference allowed on a side, in mm."""
        return max(self.mm, side_mm * self.percent / 100)


@dataclass(frozen=True)
class Measurement:
    """One measurement. key: orders those of the same time; sides_mm: None where a side was not measured."""

    key: int
    how: str
    sides_mm: Sides
    at: datetime
    is_sure: bool = True

    @property
    def trust(self) -> int:
        return {EYE: BY_EYE, LIST: BY_LIST}.get(self.how, BY_HAND)

    @property
    def sort_key(self) -> tuple[int, datetime, int]:
        return self.trust, self.at, self.key


@dataclass(frozen=True)
class Difference:
    """How two measurements differ. sides: names of those that do; likely_reason: a sentence, or nothing.

    Sentences are in English, since they are kept; retold() says them in the reader's language.
    """

    sides: tuple[str, ...]
    likely_reason: str = ""
    is_rounding_up: bool = False
    is_unit_slip: bool = False


def sides_in_use(measurements: Iterable[Measurement]) -> tuple[Measurement | None, ...]:
    """For height, width and depth the measurement that gives it, or None.

    measurements: those that are good. Each side comes from the newest measurement by hand that has it, else
    from the newest estimate, else from a list: so two sides measured again leave the third as it was. What
    was typed on the object's page is the whole size, blanks included; nothing older than it counts.
    Source: common practice, no source.
    """
    trusted = sorted(measurements, key=lambda each: each.sort_key, reverse=True)
    typed = next((i for i, each in enumerate(trusted) if each.how == TYPED), len(trusted))
    counting = trusted[: typed + 1]
    return tuple(
        next((each for each in counting if each.sides_mm[side] is not None), None) for side in range(3)
    )


def difference(
    new: Sequence[Decimal | None], old: Sequence[Decimal | None], tolerance: Tolerance
) -> Difference:
    """How a new measurement differs from the size in use; no sides where it agrees.

    new, old: height, width and depth in mm, None where not known; only sides that both have are compared.
    The tolerance is that of the larger of the two sides.
    Source: common practice, no source; for the likely reasons see UNIT_SLIPS and LIST_TOO_LARGE_MM.
    """
    both = [
        (name, mine, theirs)
        for name, mine, theirs in zip(SIDE_NAMES, new, old, strict=True)
        if mine is not None and theirs is not None
    ]
    apart = [(name, mine, theirs) for name, mine, theirs in both if not _agree(mine, theirs, tolerance)]
    if not apart:
        return Difference(())
    slip = _unit_slip(apart)
    return Difference(
        tuple(name for name, _, _ in apart),
        _other_order(both, tolerance) or slip,
        all(-LIST_TOO_SMALL_MM <= theirs - mine <= LIST_TOO_LARGE_MM for _, mine, theirs in both),
        bool(slip),
    )


def _agree(mine: Decimal, theirs: Decimal, tolerance: Tolerance) -> bool:
    return abs(mine - theirs) <= tolerance.of(max(mine, theirs))


def _other_order(both: Sequence[tuple[str, Decimal, Decimal]], tolerance: Tolerance) -> str:
    """A sentence where the same sides are given in another order, else nothing."""
    mine, theirs = sorted(pair[1] for pair in both), sorted(pair[2] for pair in both)
    if len(both) > 1 and all(_agree(a, b, tolerance) for a, b in zip(mine, theirs, strict=True)):
        return noted("These are the same sides in another order.")
    return ""


def _unit_slip(apart: Sequence[tuple[str, Decimal, Decimal]]) -> str:
    """A sentence where every side that differs does so by what a mistaken unit makes of it, else nothing."""
    for factor, units in UNIT_SLIPS:
        slips = [abs(max(a, b) / min(a, b) / factor - 1) <= SLIP_PLAY for _, a, b in apart]
        if all(slips) and len({a > b for _, a, b in apart}) == 1:
            return noted("One is about {factor} times the other: perhaps {units} were mixed up.").format(
                factor=factor, units=units
            )
    return ""


def believable_time(measured_at: datetime, received_at: datetime) -> datetime:
    """When an entry was made, by the device's clock if that can be right.

    measured_at: as the device says; received_at: as the server says, both with a time zone.
    Returns measured_at, or received_at for a time to come and for one more than OLDEST_BELIEVED ago.
    """
    is_believable = received_at - OLDEST_BELIEVED <= measured_at <= received_at
    return measured_at if is_believable else received_at
