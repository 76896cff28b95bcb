"""The figures that ways of doing a campaign are compared by, and which of them is the best of each."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import IntEnum
from typing import Any

from boards.core.money import to_cents

ONE_PERCENT = 0.01  # smaller changes are told to a tenth of a per cent

type Value = Decimal | float | int | date | None


@dataclass(frozen=True)
class Figures:
    """What a way of doing a campaign comes to. money: to be paid, without contingency; asked_for: with it.

    hours: of all people. sheets: by code of their board. waste_share: of those sheets, 0 to 1. litres: room
    taken on the shelf. finish: last day of the last week with work, None where some work has nobody. objects:
    that get a box. made, bought: boxes. left_out: boxes not asked for; waiting: boxes that cannot be planned.
    is_complete: whether the money is the whole of it.
    """

    money: Decimal | None = None
    asked_for: Decimal | None = None
    hours: float | None = None
    sheets: Mapping[str, int] = field(default_factory=dict)
    waste_share: float | None = None
    litres: float | None = None
    finish: date | None = None
    objects: int = 0
    made: int = 0
    bought: int = 0
    left_out: int = 0
    waiting: int = 0
    is_complete: bool = True

    @property
    def money_an_object(self) -> Decimal | None:
        """What one object costs on average, hundredths."""
        return to_cents(self.money / self.objects) if self.money is not None and self.objects else None

    def to_json(self) -> dict[str, Any]:
        return {
            "money": None if self.money is None else str(self.money),
            "asked_for": None if self.asked_for is None else str(self.asked_for),
            "hours": self.hours,
            "sheets": dict(self.sheets),
            "waste_share": self.waste_share,
            "litres": self.litres,
            "finish": self.finish and self.finish.isoformat(),
            "objects": self.objects,
            "made": self.made,
            "bought": self.bought,
            "left_out": self.left_out,
            "waiting": self.waiting,
            "is_complete": self.is_complete,
        }

    @classmethod
    def from_json(cls, kept: Mapping[str, Any]) -> "Figures":
        given = {name: kept[name] for name in cls.__dataclass_fields__ if name in kept}
        for name in ("money", "asked_for"):
            given[name] = None if given.get(name) is None else Decimal(given[name])
        given["finish"] = date.fromisoformat(given["finish"]) if given.get("finish") else None
        return cls(**given)


class Better(IntEnum):
    """Which way of a figure is the better one."""

    LESS = -1
    NEITHER = 0
    MORE = 1


@dataclass(frozen=True)
class Row:
    """One figure: how it is read, shown, and which way is better. is_money: not judged where incomplete."""

    label: str
    read: Callable[[Figures], Value]
    show: Callable[[Any], str]
    better: Better = Better.NEITHER
    best_words: str = ""
    is_money: bool = False


@dataclass(frozen=True)
class Cell:
    """A figure as shown. change: against the first column, "" for none. best: words where none is better."""

    text: str
    change: str = ""
    best: str = ""


@dataclass(frozen=True)
class Compared:
    """One line of the table: its label and a cell a column."""

    label: str
    cells: tuple[Cell, ...]


def compare(columns: Sequence[Figures | None], currency: str) -> list[Compared]:
    """The figures side by side, None for a column not worked out yet.

    The best of a line is marked where at least two differ. Sums that are not the whole are judged only where
    none is, and then the words say so.
    Source: comparison; money and hours in the same terms for every column.
    """
    boards = sorted({code for one in columns if one for code in one.sheets})
    return [_compared(row, columns) for row in (*_rows(currency), *map(_sheets_of, boards))]


def _rows(currency: str) -> tuple[Row, ...]:
    less, more = Better.LESS, Better.MORE

    def money(value: Decimal) -> str:
        return f"{value:,.2f} {currency}"

    return (
        Row("To be paid", lambda one: one.money, money, less, "Lowest", is_money=True),
        Row("With contingency", lambda one: one.asked_for, money, less, "Lowest", is_money=True),
        Row("For each object", lambda one: one.money_an_object, money, less, "Lowest", is_money=True),
        Row("Hours of work", lambda one: one.hours, lambda value: f"{value:,.0f}", less, "Fewest"),
        Row("Done by", lambda one: one.finish, lambda value: f"{value:%d %b %Y}", less, "Earliest"),
        Row("Room on the shelf", lambda one: one.litres, lambda value: f"{value:,.0f} litres", less, "Least"),
        Row("Objects housed", lambda one: one.objects, "{:,}".format, more, "Most"),
        Row("Boxes made", lambda one: one.made, "{:,}".format),
        Row("Boxes bought", lambda one: one.bought, "{:,}".format),
        Row("Boxes left out", lambda one: one.left_out, "{:,}".format),
        Row("Boxes that wait for something", lambda one: one.waiting, "{:,}".format, less, "Fewest"),
        Row("Board wasted", lambda one: one.waste_share, lambda value: f"{value:.1%}", less, "Least"),
        Row("Sheets", lambda one: sum(one.sheets.values()), "{:,}".format, less, "Fewest"),
    )


def _sheets_of(code: str) -> Row:
    return Row(f"Sheets of {code}", lambda one: one.sheets.get(code, 0), "{:,}".format)


def _compared(row: Row, columns: Sequence[Figures | None]) -> Compared:
    values = [row.read(one) if one else None for one in columns]
    known = [(value, one) for value, one in zip(values, columns, strict=True) if value is not None and one]
    whole = [value for value, one in known if one.is_complete or not row.is_money]
    judged, words = whole, row.best_words
    if not whole:
        judged, words = [value for value, _ in known], f"{row.best_words} as far as known"
    best: Any = None
    if row.better and len({row.show(value) for value in judged}) > 1:
        best = (min if row.better is Better.LESS else max)(judged, key=_sortable)
    cells = []
    for number, (value, one) in enumerate(zip(values, columns, strict=True)):
        if value is None or one is None:
            cells.append(Cell("—"))
            continue
        counts = one.is_complete or not row.is_money or not whole
        is_best = best is not None and counts and row.show(value) == row.show(best)
        change = _change(row, value, values[0]) if number else ""
        cells.append(Cell(row.show(value), change, words if is_best else ""))
    return Compared(row.label, tuple(cells))


def _sortable(value: Any) -> float:
    return float(value.toordinal()) if isinstance(value, date) else float(value)


def _change(row: Row, value: Any, first: Any) -> str:
    """How a figure differs from the first column's, with its sign; "the same" where it reads the same."""
    if first is None:
        return ""
    if row.show(value) == row.show(first):
        return "the same"
    if isinstance(value, date):
        days = abs((value - first).days)
        length = f"{days // 7} week{'s' if days // 7 != 1 else ''}" if days % 7 == 0 else f"{days} days"
        return f"{length} {'earlier' if value < first else 'later'}"
    sign, difference = ("−" if value < first else "+"), abs(value - first)
    if isinstance(value, float) and value <= 1 and row.show(value).endswith("%"):
        return f"{sign}{difference * 100:.1f} points"
    if row.show(difference) == row.show(0):
        return "nearly the same"
    share = abs(float(difference) / float(first)) if first and not isinstance(value, int) else 0.0
    percent = f" ({sign}{share:.0%})" if share >= ONE_PERCENT else f" ({sign}{share:.1%})" if share else ""
    return f"{sign}{row.show(difference)}{percent}"
