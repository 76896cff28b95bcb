"""Where the figures of a budget come from: standard times, prices, rates; kept with it as they were."""

from collections.abc import Iterator, Sequence

from boards.models import SheetSize, Supply
from housing.core.budget.lines import GOODS, BudgetLine, Section
from housing.core.labour.elements import SHIPPED, Driver, Element
from housing.core.labour.rates import IN_KIND_RULE
from housing.models import BudgetTerms, Campaign, StandardTime
from objects.core.words import noted, say
from objects.speaking import in_language

BOARDS = noted("Prices of boards")
PER = {
    Driver.BOX: noted("a box"),
    Driver.OBJECT: noted("an object"),
    Driver.BLANK: noted("a blank"),
    Driver.CUT_METRE: noted("a metre"),
    Driver.SCORE_METRE: noted("a metre"),
    Driver.FOLD: noted("a fold"),
    Driver.JOINT: noted("a joint"),
    Driver.LINING: noted("a square metre"),
}


@in_language("en")
def sources_of(campaign: Campaign, terms: BudgetTerms, lines: Sequence[BudgetLine]) -> list[dict[str, str]]:
    """What, figure and source of each figure that lines rest on: texts, ready for JSON."""
    return [
        {"group": group, "what": what, "figure": figure, "source": source}
        for found in (_times(), _prices(lines), _rates(campaign, terms))
        for group, what, figure, source in found
    ]


type Row = tuple[str, str, str, str]


def _times() -> Iterator[Row]:
    entered = list(StandardTime.objects.select_related("design"))
    everywhere = {Element(time.element): time for time in entered if time.design_id is None}
    for element, shipped in SHIPPED.items():
        own = everywhere.get(element)
        minutes = own.to_core() if own else shipped.minutes
        figure = say(
            "{likely:g} min {per}, between {low:g} and {high:g}",
            likely=minutes.likely,
            per=PER[shipped.driver],
            low=minutes.low,
            high=minutes.high,
        )
        yield say("Standard times"), shipped.name, figure, own.source if own else shipped.source
    for time in entered:
        if time.design_id is not None:
            shipped, minutes = SHIPPED[Element(time.element)], time.to_core()
            figure = say("{likely:g} min {per}", likely=minutes.likely, per=PER[shipped.driver])
            yield say("Standard times"), f"{shipped.name}, {time.design}", figure, time.source


def _prices(lines: Sequence[BudgetLine]) -> Iterator[Row]:
    keys = {line.key: line for line in lines if line.section in GOODS}
    sizes = SheetSize.objects.select_related("board", "supplier").filter(pk__in=_pks(keys, "sheet"))
    supplies = Supply.objects.select_related("supplier").filter(pk__in=_pks(keys, "supply"))
    sold: list[tuple[str, SheetSize | Supply]] = [
        *((f"sheet:{size.pk}", size) for size in sizes.order_by("board__code", "pk")),
        *((f"supply:{supply.pk}", supply) for supply in supplies.order_by("name")),
    ]
    for key, one in sold:
        line = keys[key]
        source = (
            say("Offer of {supplier}", supplier=one.supplier)
            if one.supplier
            else say("Entered without a supplier")
        )
        if one.priced_on:
            source = noted("{told}, price of {day}").format(told=source, day=f"{one.priced_on:%-d %B %Y}")
        yield (
            BOARDS if line.section is Section.BOARD else say("Prices of supplies"),
            line.what,
            f"{line.price:.4f}".rstrip("0").rstrip(".") + say(" each ({unit})", unit=line.unit),
            source,
        )


def _pks(keys: dict[str, BudgetLine], kind: str) -> list[str]:
    return [key.removeprefix(f"{kind}:") for key in keys if key.startswith(f"{kind}:")]


def _rates(campaign: Campaign, terms: BudgetTerms) -> Iterator[Row]:
    for person in campaign.people.select_related("grade").order_by("name"):
        if person.grade and person.grade.source:
            yield say("Rates"), person.name, say("grade {grade}", grade=person.grade), person.grade.source
    yield (
        say("Rates"),
        say("Hours given in kind"),
        noted("worth of an hour"),
        terms.in_kind_source or IN_KIND_RULE,
    )
