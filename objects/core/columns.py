"""Which columns of a table a reader sees, and in which order: what she chose, and what came new since."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

PUT_AWAY = "-"  # stands before the name of a column that she has put away
MOST = 60  # names that a choice may hold; no table has nearly as many columns


@dataclass(frozen=True)
class Offered:
    """The columns that a table offers, by name and in its own order.

    required: those that always stay; usual: those shown to whoever has chosen none.
    """

    names: tuple[str, ...]
    usual: frozenset[str]
    required: frozenset[str]


def order_of(offered: Offered, kept: Sequence[str]) -> tuple[tuple[str, bool], ...]:
    """All columns in the reader's order, each with whether it is shown.

    kept: a choice as keep() wrote it; empty for the usual columns. A column that came into the table after
    she chose stands behind the one it follows in the table, and is shown if it is a usual one: so nothing new
    stays hidden from those who chose early, and nothing they put away comes back.
    """
    chosen = {name.removeprefix(PUT_AWAY): not name.startswith(PUT_AWAY) for name in kept}
    order = [name for name in chosen if name in offered.names]
    for place, name in enumerate(offered.names):
        if name not in chosen:
            before = next((one for one in reversed(offered.names[:place]) if one in order), None)
            order.insert(order.index(before) + 1 if before else 0, name)
    return tuple(
        (name, name in offered.required or chosen.get(name, name in offered.usual)) for name in order
    )


def shown(offered: Offered, kept: Sequence[str]) -> tuple[str, ...]:
    """The columns that the reader sees, in her order."""
    return tuple(name for name, is_shown in order_of(offered, kept) if is_shown)


def keep(order: Iterable[str], ticked: Iterable[str]) -> list[str]:
    """A choice as it is kept: every column in its order, those put away with a sign in front."""
    chosen = set(ticked)
    names = list(dict.fromkeys(name for name in order if is_a_name(name)))[:MOST]
    return [name if name in chosen else PUT_AWAY + name for name in names]


def is_a_name(name: str) -> bool:
    """Whether a text may be the name of a column or a table."""
    return name.isascii() and name.isidentifier() and len(name) <= MOST


def moved(order: Sequence[str], name: str, by: int) -> list[str]:
    """The same columns with one moved by so many places, as far as there are places."""
    if name not in order:
        return list(order)
    others = [one for one in order if one != name]
    place = min(max(order.index(name) + by, 0), len(others))
    return [*others[:place], name, *others[place:]]
