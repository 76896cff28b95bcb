"""What a scenario does differently from its campaign: read from what is stored, judged, and put in words."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any

from objects.core.refusals import Refusal

PRIORITIES = ("A", "B", "C")
SLACK_MM = 40.0  # most room left over on a side of a bought box where nobody says otherwise; assumed
HEAVIEST_G = 5000.0  # single-wall board may bulge above it when lifted; common practice, no source
MOST_HOURS = Decimal(80)  # a week, as of people
MOST_PRICE = Decimal("99999999")
PRICED = ("sheet", "supply")


class ScenarioRefused(Refusal):
    """A scenario cannot be read or worked out; the message is a sentence for the reader."""


@dataclass(frozen=True)
class Term:
    """A figure that a budget rests on: its words and limits. as_percent: a share shown in per cent."""

    label: str
    least: str
    most: str
    as_percent: bool = True


# Of the campaign's budget terms those that a scenario may change; shares from 0 to 1.
TERMS = {
    "allowance_share": Term("allowance for rest", "0", "0.99"),
    "learning_rate": Term("time left after doubling", "0.5", "1"),
    "alike_share": Term("marking out a blank like the one before", "0", "1"),
    "supervision_share": Term("supervision for an hour of volunteers or interns", "0", "1"),
    "indirect_share": Term("indirect costs", "0", "1"),
    "board_spoilage_share": Term("sheets spoiled", "0", "0.99"),
    "gap_filled_share": Term("gap filled with tissue", "0", "1"),
    "contingency_percent": Term("contingency up to the figure not exceeded in", "1", "99", as_percent=False),
}


@dataclass(frozen=True)
class ReadyMade:
    """How far bought boxes are used: slack in mm beyond the clear inside needed, heaviest contents in g."""

    slack_mm: float = SLACK_MM
    heaviest_g: float | None = HEAVIEST_G


@dataclass(frozen=True)
class Differences:
    """What is different from the campaign; what is None or empty is as the campaign has it.

    only_objects, board, design, sizes, people: keys of records. board, design: what stands in place of what.
    sizes: the family of standard sizes. prices: of a sheet or of a pack, by "sheet:12" or "supply:3".
    people: hours a week by person, 0 for taking no part. terms: by the names in TERMS.
    """

    only_priorities: tuple[str, ...] = ()
    only_objects: tuple[int, ...] | None = None
    board: Mapping[int, int] = field(default_factory=dict)
    design: Mapping[int, int] = field(default_factory=dict)
    sizes: int | None = None
    ready_made: ReadyMade | None = None
    prices: Mapping[str, Decimal] = field(default_factory=dict)
    rate_per_hour: Decimal | None = None
    people: Mapping[int, Decimal] = field(default_factory=dict)
    terms: Mapping[str, Decimal] = field(default_factory=dict)

    @property
    def changes_boxes(self) -> bool:
        """Whether other boxes are made, or the same ones are cut from other sheets, as prices may suggest."""
        return bool(
            self.only_priorities or self.only_objects is not None or self.board or self.design
            or self.sizes or self.ready_made or any(key.startswith("sheet:") for key in self.prices)
        )  # fmt: skip


# ---- Stored ----------------------------------------------------------------------------------------------


def read(stored: Mapping[str, Any]) -> Differences:
    """Differences as they are stored, as JSON. Raises ScenarioRefused, naming what cannot be so."""
    if unknown := sorted(stored.keys() - Differences.__dataclass_fields__.keys()):
        raise ScenarioRefused(f"A scenario cannot change “{', '.join(unknown)}”. Take that out of it.")
    priorities = tuple(stored.get("only_priorities") or ())
    if unknown := sorted(set(priorities) - set(PRIORITIES)):
        raise ScenarioRefused(
            f"There is no priority {', '.join(unknown)}; there are {', '.join(PRIORITIES)}."
        )
    only = stored.get("only_objects")
    if only is not None and not only:
        raise ScenarioRefused("No object is chosen, so there is nothing to house. Choose one at least.")
    prices = {key: _money(f"price of {key}", text) for key, text in (stored.get("prices") or {}).items()}
    if odd := [key for key in prices if key.partition(":")[0] not in PRICED]:
        raise ScenarioRefused(f"“{odd[0]}” is nothing that has a price. Use {', '.join(PRICED)}.")
    rate, sizes = stored.get("rate_per_hour"), stored.get("sizes")
    return Differences(
        only_priorities=tuple(one for one in PRIORITIES if one in priorities),
        only_objects=None if only is None else tuple(dict.fromkeys(map(_key, only))),
        board=_swaps(stored.get("board")),
        design=_swaps(stored.get("design")),
        sizes=None if sizes is None else _key(sizes),
        ready_made=_ready_made(stored.get("ready_made")),
        prices=prices,
        rate_per_hour=None if rate is None else _money("cost of an hour", rate),
        people={
            _key(key): number(f"hours of person {key}", text, Decimal(0), MOST_HOURS)
            for key, text in (stored.get("people") or {}).items()
        },
        terms=_terms(stored.get("terms") or {}),
    )


def to_json(differences: Differences) -> dict[str, Any]:
    """Differences as they are stored: only what differs, figures as text."""
    ready = differences.ready_made
    every = {
        "only_priorities": list(differences.only_priorities),
        "only_objects": differences.only_objects and list(differences.only_objects),
        "board": {str(one): other for one, other in differences.board.items()},
        "design": {str(one): other for one, other in differences.design.items()},
        "sizes": differences.sizes,
        "ready_made": ready and {"slack_mm": ready.slack_mm, "heaviest_g": ready.heaviest_g},
        "prices": {key: str(price) for key, price in differences.prices.items()},
        "rate_per_hour": None if differences.rate_per_hour is None else str(differences.rate_per_hour),
        "people": {str(key): str(hours) for key, hours in differences.people.items()},
        "terms": {key: str(value) for key, value in differences.terms.items()},
    }
    return {key: value for key, value in every.items() if value not in (None, [], {})}


def number(what: str, text: Any, least: Decimal, most: Decimal) -> Decimal:
    """A figure between two limits. Raises ScenarioRefused, naming what it is of."""
    try:
        value = Decimal(str(text))
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or not least <= value <= most:
        raise ScenarioRefused(f"The {what} is “{text}”; it must be between {least:f} and {most:f}.")
    return value


def _key(text: Any) -> int:
    try:
        return int(text)
    except (TypeError, ValueError):
        raise ScenarioRefused(
            f"“{text}” is no key of a record. Choose it again on the scenario's page."
        ) from None


def _money(what: str, text: Any) -> Decimal:
    return number(what, text, Decimal(0), MOST_PRICE)


def _swaps(stored: Mapping[str, Any] | None) -> dict[int, int]:
    swaps = {_key(one): _key(other) for one, other in (stored or {}).items()}
    return {one: other for one, other in swaps.items() if one != other}


def _ready_made(stored: Any) -> ReadyMade | None:
    if not stored:
        return None
    given = {} if stored is True else dict(stored)
    heaviest = given.get("heaviest_g", HEAVIEST_G)
    slack = number("room left over in mm", given.get("slack_mm", SLACK_MM), Decimal(0), Decimal(20_000))
    if heaviest is not None:
        heaviest = float(number("heaviest contents in g", heaviest, Decimal(1), Decimal(1_000_000)))
    return ReadyMade(float(slack), heaviest)


def _terms(stored: Mapping[str, Any]) -> dict[str, Decimal]:
    if unknown := sorted(stored.keys() - TERMS.keys()):
        raise ScenarioRefused(f"A scenario cannot change “{unknown[0]}” of the budget. Take that out of it.")
    return {
        key: number(TERMS[key].label, text, Decimal(TERMS[key].least), Decimal(TERMS[key].most))
        for key, text in stored.items()
    }


# ---- In words --------------------------------------------------------------------------------------------

GONE = "one that is no longer there"


def describe(differences: Differences, names: Mapping[str, str], currency: str) -> Iterator[str]:
    """Each difference as words. names: of records by "board:12", "sheet:3"; lengths read as "12.3 mm"."""

    def name(kind: str, key: int) -> str:
        return names.get(f"{kind}:{key}", GONE)

    if differences.only_priorities:
        yield f"Only priority {' and '.join(differences.only_priorities)}"
    if differences.only_objects is not None:
        count = len(differences.only_objects)
        yield f"Only {count:,} chosen object{'s' if count != 1 else ''}"
    for one, other in differences.board.items():
        yield f"Board {name('board', other)} instead of {name('board', one)}"
    for one, other in differences.design.items():
        yield f"Design {name('design', other)} instead of {name('design', one)}"
    if differences.sizes is not None:
        yield f"Standard sizes: {name('sizes', differences.sizes)}"
    if ready := differences.ready_made:
        most = "" if ready.heaviest_g is None else f", contents up to {ready.heaviest_g / 1000:g} kg"
        yield f"Ready-made boxes where one fits with at most {ready.slack_mm:.1f} mm over on a side{most}"
    for what, price in differences.prices.items():
        yield f"{names.get(what, GONE)} at {price:,.2f} {currency}"
    if differences.rate_per_hour is not None:
        yield f"An hour of work without a person at {differences.rate_per_hour:,.2f} {currency}"
    for person, hours in differences.people.items():
        yield f"{name('person', person)}: " + (f"{hours:f} hours a week" if hours else "takes no part")
    for key, value in differences.terms.items():
        term = TERMS[key]
        figure = f"{float(value) * 100:g} %" if term.as_percent else f"{value:f} of 100 cases"
        yield f"{term.label[0].upper()}{term.label[1:]}{':' if term.as_percent else ''} {figure}"
