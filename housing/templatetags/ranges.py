"""How uncertain a budget is, in words, as pictures and as a table; from what is stored with it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import template
from django.urls import NoReverseMatch, reverse
from django.utils.safestring import SafeString, mark_safe

from boards.core.money import to_cents
from housing.core.budget.causes import ELEMENT, TIME_TO
from housing.core.budget.simulation import Driver, Simulation
from housing.core.drawing.range_charts import Mark, Swing, histogram_svg, tornado_svg
from objects.core.retelling import retold
from objects.core.words import say

register = template.Library()

SHOWN = (50, 80, 95)  # of 100 cases
MOST_DRIVERS = 6
LEAST_SHARE_OF_SWING = 0.05  # of the largest; smaller ones do not matter


@dataclass(frozen=True)
class ShownDriver:
    """An input that matters: cost at its low and high end, share of the uncertainty, where to change it."""

    name: str
    low: Decimal
    high: Decimal
    percent: int
    href: str


@dataclass(frozen=True)
class ShownRange:
    """A range as it is shown. rows: of 100 cases, cost and hours not exceeded, whether it is chosen.

    base: what the stated figures add up to; enough: in how many of 100 cases that is enough; more: what the
    mean lies above it, below zero where it lies below.
    """

    rows: list[tuple[int, Decimal, float, bool]]
    base: Decimal
    mean: Decimal
    more: Decimal
    enough: int
    trials: int
    histogram: SafeString
    tornado: SafeString
    drivers: list[ShownDriver]


def _name(kept: str) -> str:
    """The name of an input, which a budget keeps in English."""
    before = TIME_TO.removesuffix("{work}")
    if kept.startswith(before):
        work = kept.removeprefix(before)
        said = say(work[:1].upper() + work[1:])
        return say(TIME_TO, work=said[:1].lower() + said[1:])
    return retold(kept) if " " in kept else say(kept)


@register.simple_tag
def range_of(content: dict[str, Any], campaign_pk: int | None = None) -> ShownRange | None:
    """The range stored with a budget, None where none was worked out. campaign_pk: for links, if wanted."""
    return shown_range(content, campaign_pk)


def shown_range(content: dict[str, Any], campaign_pk: int | None = None) -> ShownRange | None:
    """As range_of(), for prints."""
    if not content.get("range"):
        return None
    found, currency, chosen = Simulation.from_json(content["range"]), content["currency"], content["percent"]
    percents = sorted({*SHOWN, chosen})
    drivers = matter_most(found.drivers)
    return ShownRange(
        rows=[(p, money(found.at(p)), found.hours_at(p), p == chosen) for p in percents],
        base=money(found.base),
        mean=money(found.mean),
        more=money(found.mean) - money(found.base),
        enough=found.cases_within(found.base),
        trials=found.trials,
        histogram=mark_safe(  # noqa: S308  drawn by us, all words escaped
            histogram_svg(
                say("How often the cost comes to so much"),
                found.edges,
                found.counts,
                [Mark(found.at(p), say("{p} of 100: {cost:,.0f}", p=p, cost=found.at(p))) for p in SHOWN],
                (f"{found.edges[0]:,.0f} {currency}", f"{found.edges[-1]:,.0f} {currency}"),
            )
        ),
        tornado=mark_safe(  # noqa: S308  as above
            tornado_svg(
                say("What moves the cost most"),
                [
                    Swing(
                        _name(driver.name),
                        driver.low,
                        driver.high,
                        say("{low:,.0f} to {high:,.0f}", low=driver.low, high=driver.high),
                    )
                    for driver in drivers
                ],
                found.mean,
            )
        ),
        drivers=[
            ShownDriver(
                _name(driver.name), money(driver.low), money(driver.high), round(driver.share * 100),
                _href(driver, campaign_pk),
            )
            for driver in drivers
        ],
    )  # fmt: skip


def matter_most(drivers: tuple[Driver, ...]) -> list[Driver]:
    """The few inputs that move the cost most, the first one most."""
    if not drivers:
        return []
    least = drivers[0].swing * LEAST_SHARE_OF_SWING
    return [driver for driver in drivers if driver.swing >= least][:MOST_DRIVERS]


def money(amount: float) -> Decimal:
    """Drawn money to hundredths."""
    return to_cents(Decimal(repr(amount)))


def _href(driver: Driver, campaign_pk: int | None) -> str:
    if campaign_pk is None:
        return ""
    if not driver.key.startswith(ELEMENT):
        return f"{reverse('housing:campaign-ranges', args=[campaign_pk])}#{driver.key}"
    try:
        return reverse("housing:standard-list")
    except NoReverseMatch:  # a name without a link is better than no page
        return ""
