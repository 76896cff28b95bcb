"""When the lines of a campaign's budget fall due, as its tasks are planned and its goods are needed."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import numpy as np
from django.utils import timezone
from numpy.typing import NDArray

from housing.core.budget.facts import BoxFacts
from housing.core.budget.lines import GOODS, BudgetLine, Section
from housing.core.budget.months import DAYS_A_WEEK, BatchWork, Span, calendar_of, week_of
from housing.core.budget.ordering import OrderDay, order_day
from housing.core.budget.purchases import Order
from housing.core.labour.rates import SUPERVISED
from housing.models import Campaign, Person, Task

type Weights = NDArray[np.float64]

# The step that goods are first needed for.
NEEDED_FOR = {Section.BOARD: Task.Step.FETCH, Section.ADHESIVE: Task.Step.GLUE}
MINUTES_PER_HOUR = 60
NOBODY = "nobody"


def months_of(
    campaign: Campaign,
    *,
    planned_at: datetime,
    boxes: Sequence[BoxFacts],
    minutes: Mapping[str, Weights],
    people: Mapping[tuple[str, str], str],
    lines: Sequence[BudgetLine],
    causes: Mapping[str, Weights],
    orders: Sequence[Order],
    hours: Decimal,
    today: date,
) -> dict[str, Any]:
    """What is kept of the months with a budget, ready for JSON; nothing is dated without a start date.

    planned_at: when work was last given out, to be done from that week on. minutes: of each box by step.
    people: who does a step of a box. causes: what each box causes of a line, by its key. orders: by
    supplier; hours: of the whole budget.
    Beside what Calendar.to_json() writes: orders, when goods are ordered; hours_a_week, of all people.
    """
    spans = spans_of(campaign, planned_at, {box.key for box in boxes})
    when, work = _work(boxes, minutes, people, spans)
    ordered = _orders(boxes, lines, causes, orders, spans, today) if spans else {}
    for line in lines:
        if line.section in GOODS and (order := ordered.get(line.supplier)):
            when[line.key] = {(order.order_on, order.order_on): 1.0}
    active = campaign.people.filter(is_active=True)
    return calendar_of(lines, when, work, hours).to_json() | {
        "orders": [order.to_json() for order in ordered.values()],
        "hours_a_week": float(sum(active.values_list("hours_per_week", flat=True))),
    }


def spans_of(
    campaign: Campaign, planned_at: datetime, keys: set[str]
) -> dict[tuple[str, str], tuple[Span, bool]]:
    """When each step of some boxes is done, and whether it was done already; by box and step, as text.

    What is done falls on its day. Open work is counted in weeks from the day the campaign starts, or, once
    that is past, from the week of the campaign in which it was given out.
    """
    starts_on = campaign.starts_on
    if starts_on is None:
        return {}
    passed = (timezone.localdate(planned_at) - starts_on).days // DAYS_A_WEEK
    first = campaign.work_from or starts_on + timedelta(days=DAYS_A_WEEK * max(passed, 0))
    rows = Task.objects.filter(housing__campaign=campaign).order_by()
    spans = {}
    for housing, step, week, state, done_at in rows.values_list(
        "housing", "step", "week", "state", "done_at"
    ):
        if (key := str(housing)) in keys:
            is_done = state == Task.State.DONE
            day = timezone.localdate(done_at) if is_done else first
            spans[key, step] = ((day, day) if is_done else week_of(first, week), is_done)
    return spans


def _work(
    boxes: Sequence[BoxFacts],
    minutes: Mapping[str, Weights],
    people: Mapping[tuple[str, str], str],
    spans: Mapping[tuple[str, str], tuple[Span, bool]],
) -> tuple[dict[str, dict[Span, float]], list[BatchWork]]:
    """Minutes by line and span, supervision by the hours that are supervised; and hours by batch and span."""
    supervised = {str(pk) for pk in Person.objects.filter(kind__in=SUPERVISED).values_list("pk", flat=True)}
    when: defaultdict[str, defaultdict[Span, float]] = defaultdict(lambda: defaultdict(float))
    of_batch: defaultdict[tuple[int, Span | None], float] = defaultdict(float)
    for step, of_boxes in minutes.items():
        for box, worked in zip(boxes, of_boxes.tolist(), strict=True):
            if not worked:
                continue
            span, _ = spans.get((box.key, step), (None, False))
            of_batch[box.batch, span] += worked / MINUTES_PER_HOUR
            if span:
                person = people.get((box.key, step), "")
                when[f"labour:{person or NOBODY}:{step}"][span] += worked
                if person in supervised:
                    when["supervision"][span] += worked
    in_order = sorted(of_batch.items(), key=lambda one: (one[0][0], one[0][1] or (date.max, date.max)))
    work = [BatchWork(batch, span, hours) for (batch, span), hours in in_order]
    return {key: dict(of_line) for key, of_line in when.items()}, work


def _orders(
    boxes: Sequence[BoxFacts],
    lines: Sequence[BudgetLine],
    causes: Mapping[str, Weights],
    orders: Sequence[Order],
    spans: Mapping[tuple[str, str], tuple[Span, bool]],
    today: date,
) -> dict[str, OrderDay]:
    """When the goods of each supplier are ordered, all of them together, since freight is paid once."""
    of_lines = {line.key: line for line in lines}
    found = {}
    for order in orders:
        goods = [of_lines[key] for key in order.lines if key in of_lines]
        needed = [day for line in goods if (day := _first_need(boxes, line, causes, spans))]
        if needed:
            found[order.supplier] = order_day(order.supplier, order.name, min(needed), order.lead_days, today)
    return found


def _first_need(
    boxes: Sequence[BoxFacts],
    line: BudgetLine,
    causes: Mapping[str, Weights],
    spans: Mapping[tuple[str, str], tuple[Span, bool]],
) -> date | None:
    """The first day of the first week in which a box takes of it; of open work, as long as there is any."""
    step = NEEDED_FOR.get(line.section, Task.Step.FIT)
    weights = causes.get(line.key)
    places = range(len(boxes)) if weights is None or not weights.any() else np.flatnonzero(weights).tolist()
    steps = [one for place in places if (one := spans.get((boxes[place].key, step)))]
    still = [span[0] for span, is_done in steps if not is_done]
    return min(still or [span[0] for span, _ in steps], default=None)
