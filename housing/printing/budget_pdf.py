"""A budget on paper for whoever is to pay for it: a page that says it all, then what it rests on."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone

from housing.core.budget.lines import APART, SECTION_NAMES, Budget, Section, total
from housing.core.drawing.charts import Bar, BarChart, Series
from housing.core.labour.rates import IN_KIND_RULE
from housing.models import Budget as StoredBudget
from housing.pdf import render_pdf
from housing.printing.budget_words import (
    INCOMPLETE,
    assumptions_of,
    marks_of,
    read_for,
    sources_for,
    title_of,
)
from housing.templatetags.ranges import shown_range
from objects.core.words import noted, say
from objects.readers import Reader

MONEY = noted("To be paid")


def budget_pdf(stored: StoredBudget, reader: Reader, changes: Sequence[str] = ()) -> bytes:
    """The budget as PDF. changes: what has changed since it was made. Raises PdfUnavailable where none can
    be made."""
    return render_pdf(render_to_string("print/budget.html", budget_context(stored, reader, changes)))


def budget_context(stored: StoredBudget, reader: Reader, changes: Sequence[str] = ()) -> dict[str, object]:
    """What the printed budget shows."""
    budget, content = read_for(stored, reader), stored.content
    sections = [
        (say(SECTION_NAMES[section]), budget.of(section), money)
        for section, money in budget.section_totals().items()
        if section not in APART
    ]
    in_kind = budget.of(Section.IN_KIND)
    marks = marks_of(stored, changes)
    return {
        "stored": stored,
        "title": title_of(stored),
        "marks": marks,
        "mark": " · ".join(mark.upper() for mark in marks),
        "is_incomplete": say(INCOMPLETE) in marks,
        "changes": content.get("changed_when_frozen", []) if stored.frozen_at else changes,
        "budget": budget,
        "content": content,
        "sections": sections,
        "in_kind": in_kind,
        "in_kind_money": total(in_kind),
        "in_kind_hours": sum((line.quantity for line in in_kind), Decimal()),
        "in_kind_rule": IN_KIND_RULE,
        "on_hand": total(budget.of(Section.ON_HAND)),
        "waiting": sum(content["counts"]["waiting"].values()),
        "starts_on": _day(content["starts_on"]),
        "ends_on": _day(content["ends_on"]),
        "last_month": max((_day(row["month"]) for row in _rows(content) if row["month"]), default=None),
        "chart": section_chart(budget, content),
        "range": shown_range(content),
        "assumptions": list(assumptions_of(content, reader)),
        "sources": list(_groups(sources_for(content, reader))),
        "paper": reader.paper,
        "reader": reader,
        "printed": timezone.localdate(),
    }


def _rows(content: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Months in which there is work."""
    return [row for row in content.get("months", {}).get("rows", ()) if Decimal(row["hours"])]


def section_chart(budget: Budget, content: Mapping[str, Any]) -> BarChart:
    """What has to be paid by section, the contingency last."""
    money = {
        say(SECTION_NAMES[section]): amount
        for section, amount in budget.section_totals().items()
        if section not in APART
    }
    if content.get("range"):
        money[say("Contingency")] = budget.contingency
    bars = (Bar(name, {"planned": float(amount)}, f"{amount:,.2f}") for name, amount in money.items())
    return BarChart(
        say("What the money is for, {currency}", currency=budget.currency),
        tuple(bars),
        (Series("planned", say(MONEY), "#8a8a8a"),),
    )


def _groups(sources: Sequence[Mapping[str, str]]) -> Iterator[tuple[str, list[Mapping[str, str]]]]:
    for group, rows in groupby(sources, key=lambda row: row["group"]):
        yield group, list(rows)


def _day(text: str) -> date | None:
    return date.fromisoformat(text) if text else None
