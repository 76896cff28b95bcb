"""Whatever a search means: objects, boxes, boards, people and all else that has a name, the nearest first."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import reduce
from operator import and_, or_
from typing import Any

from django.db import connection
from django.db.models import Case, IntegerField, Q, QuerySet, Value, When

from boards.models import Board, Offcut, Supplier, Supply
from housing.core.finding import Asked, number_keys, read_search
from housing.models import Campaign, Design, Housing, Person, PlannedSheet
from objects.core.numbers import natural_key
from objects.models import CatalogueObject, Location

FEW, MOST = 6, 500  # hits of each kind that are shown, on a page of all kinds and of one; assumed
COUNTED = 1_000  # a search with more hits of a kind says "more than" this, so that nothing counts for long
LAST_SIGN = "\U0010ffff"
EXACT, BEGINS, NAME_BEGINS, CONTAINS = range(4)  # how near a hit is


@dataclass(frozen=True)
class Hit:
    """Something found. is_exact: it is what the whole search names."""

    kind: str
    thing: Any
    is_exact: bool


@dataclass(frozen=True)
class Found:
    """The hits of one kind. number: how many there are, of which the first are shown."""

    kind: str
    hits: tuple[Hit, ...]
    number: int

    @property
    def is_more(self) -> bool:
        """Whether there are more than were counted."""
        return self.number > COUNTED

    @property
    def has_more(self) -> bool:
        return self.number > len(self.hits)


@dataclass(frozen=True)
class Kind:
    """How one kind of thing is found. numbers: fields whose whole text may be asked for; names: those that
    may begin with it; words: those that may contain it. narrowed: how what is shown is read."""

    rows: Callable[[], QuerySet]
    numbers: tuple[str, ...]
    names: tuple[str, ...]
    words: tuple[str, ...]
    order: tuple[str, ...]
    exact: Callable[[Asked], Q | None] = field(default=lambda asked: None)


def search(typed: str, *, kind: str = "", limit: int = FEW) -> list[Found]:
    """What a search finds, by kind: those with something exact first, else in the order of KINDS.

    kind: only this one, if given. limit: so many hits of each kind.
    """
    asked = read_search(typed)
    if not asked.text:
        return []
    keys = [kind] if kind in FINDERS else FINDERS
    found = [FINDERS[key](asked, limit) for key in keys]
    return sorted(
        (one for one in found if one.number), key=lambda one: not any(hit.is_exact for hit in one.hits)
    )


def only_exact(found: Iterable[Found]) -> Hit | None:
    """The one thing that a search names exactly; None where there is no such thing or several."""
    exact = [hit for one in found for hit in one.hits if hit.is_exact]
    return exact[0] if len(exact) == 1 else None


def begins(name: str, text: str) -> Q:
    """The condition that an indexed field begins with a text, so that the index is used."""
    if connection.vendor == "sqlite":  # which uses none for LIKE, but compares by the codes of the signs
        return Q(**{f"{name}__gte": text, f"{name}__lt": text + LAST_SIGN})
    return Q(**{f"{name}__startswith": text})


def _by_words(key: str, kind: Kind, asked: Asked, limit: int) -> Found:
    """Hits by number, by beginning and by words, in this order. One look at the table tells all."""
    if asked.is_named:
        return Found(key, (), 0)
    matches = reduce(and_, (_contains(kind.words, word) for word in asked.words))
    exact = reduce(or_, (Q(**{f"{name}__iexact": asked.text}) for name in kind.numbers))
    return _nearest(
        key,
        kind,
        matches,
        [
            When(exact, then=Value(EXACT)),
            When(_begin_with(kind.numbers, asked.text), then=Value(BEGINS)),
            When(_begin_with(kind.names, asked.text), then=Value(NAME_BEGINS)),
        ],
        limit,
    )


def _nearest(key: str, kind: Kind, matches: Q, nearness: list[When], limit: int) -> Found:
    near = Case(*nearness, default=Value(CONTAINS), output_field=IntegerField())
    rows = kind.rows().select_related(None).filter(matches).annotate(near=near).order_by("near", *kind.order)
    keys = list(rows.values_list("pk", "near")[: COUNTED + 1])
    shown = {row.pk: row for row in kind.rows().filter(pk__in=[pk for pk, _ in keys[:limit]])}
    return Found(key, tuple(Hit(key, shown[pk], near == EXACT) for pk, near in keys[:limit]), len(keys))


def _contains(fields: Iterable[str], word: str) -> Q:
    return reduce(or_, (Q(**{f"{name}__icontains": word}) for name in fields))


def _begin_with(fields: Iterable[str], text: str) -> Q:
    return reduce(or_, (Q(**{f"{name}__istartswith": text}) for name in fields))


def _objects(asked: Asked, limit: int) -> Found:
    """Objects by number, read as people write it: capitals and zeros in front do not count."""
    if asked.is_named:
        return Found("object", (), 0)
    kind = KINDS["object"]
    begin = reduce(or_, (begins("number_key", beginning) for beginning in number_keys(asked.text)))
    key = natural_key(asked.text)
    words = reduce(and_, (_contains(kind.words, word) for word in asked.words))
    return _nearest(
        "object",
        kind,
        words | Q(number_key=key),
        [
            When(number_key=key, then=Value(EXACT)),
            When(begin, then=Value(BEGINS)),
            When(name__istartswith=asked.text, then=Value(NAME_BEGINS)),
        ],
        limit,
    )


def _boxes(asked: Asked, limit: int) -> Found:
    """Boxes by number or by the code on their label, whole or begun; dropped ones too."""
    exact, begin = [], []
    if asked.code:
        exact.append(Q(code=asked.code))
    elif asked.code_beginning:
        begin.append(begins("code", asked.code_beginning))
    if asked.box is not None:
        exact.append(Q(pk=asked.box))
        begin += [
            Q(pk__gte=asked.box * 10**more, pk__lt=(asked.box + 1) * 10**more)
            for more in range(1, 4)
            if asked.box
        ]
    if not exact and not begin:
        return Found("box", (), 0)
    is_exact = reduce(or_, exact, Q(pk=None))
    return _nearest(
        "box", KINDS["box"], reduce(or_, begin, is_exact), [When(is_exact, then=Value(EXACT))], limit
    )


def _sheets(asked: Asked, limit: int) -> Found:
    return _numbered("sheet", "position", asked.sheet, asked, limit)


def _offcuts(asked: Asked, limit: int) -> Found:
    return _numbered("offcut", "pk", asked.offcut, asked, limit)


def _numbered(key: str, name: str, number: int | None, asked: Asked, limit: int) -> Found:
    """Things that have no more than a number; exact only where the kind was said before it."""
    if number is None:
        return Found(key, (), 0)
    is_it = Q(**{name: number})
    return _nearest(
        key, KINDS[key], is_it, [When(is_it, then=Value(EXACT if asked.is_named else BEGINS))], limit
    )


def _named(key: str) -> Callable[[Asked, int], Found]:
    return lambda asked, limit: _by_words(key, KINDS[key], asked, limit)


def _boxes_to_show() -> QuerySet[Housing]:
    return Housing.objects.prefetch_related("contents__object")


KINDS: dict[str, Kind] = {
    "object": Kind(
        lambda: CatalogueObject.objects.select_related("location"),
        ("number",), ("name",), ("number", "name", "description", "materials"), ("number_key",),
    ),
    "box": Kind(_boxes_to_show, (), (), (), ("pk",)),
    "board": Kind(Board.objects.all, ("code",), ("name",), ("code", "name"), ("code",)),
    "person": Kind(Person.objects.all, ("name",), ("name",), ("name",), ("name",)),
    "campaign": Kind(Campaign.objects.all, ("name",), ("name",), ("name",), ("name",)),
    "design": Kind(Design.objects.all, ("name",), ("name",), ("name",), ("name",)),
    "location": Kind(Location.objects.all, ("path", "name"), ("name",), ("path", "note"), ("path",)),
    "supply": Kind(Supply.objects.all, ("name",), ("name",), ("name",), ("name",)),
    "supplier": Kind(Supplier.objects.all, ("name",), ("name",), ("name",), ("name",)),
    "sheet": Kind(
        lambda: PlannedSheet.objects.select_related("plan__campaign", "board"), (), (), (), ("-plan", "pk")
    ),
    "offcut": Kind(lambda: Offcut.objects.select_related("board"), (), (), (), ("pk",)),
}  # fmt: skip
FINDERS: dict[str, Callable[[Asked, int], Found]] = {
    **{key: _named(key) for key in KINDS},
    "object": _objects,
    "box": _boxes,
    "sheet": _sheets,
    "offcut": _offcuts,
}
