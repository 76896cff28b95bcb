"""When a campaign will be done: open work, people's weeks and what happened so far, from the records."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import ceil, isfinite

from django.db.models import Count, Min, Q, Sum
from django.utils import timezone

from housing.core.availability import WORKING_DAYS
from housing.core.drawing.burnup_chart import BurnUp
from housing.core.forecast import Forecast, Pace, forecast
from housing.core.steps import SKILL_OF_STEP
from housing.core.weeks import DAYS_A_WEEK, first_day, monday_of
from housing.models import Campaign, FitCheck, Housing, HousingEvent, Person, Task
from housing.queries.availability import weekly_minutes
from housing.queries.what_if import Changes, workers_of

State = Task.State
MINUTES_PER_HOUR = 60
MOST_DRAWN = 130


@dataclass(frozen=True)
class Finish:
    """The days on which all may be done. planned: Friday of the last week that work is given out for."""

    found: Forecast
    today: date
    planned: date | None
    minutes: Mapping[str, float]
    weekly: Mapping[str, float]
    pace: Pace

    @property
    def low(self) -> date | None:
        return self._day(self.found.low)

    @property
    def middle(self) -> date | None:
        return self._day(self.found.middle)

    @property
    def high(self) -> date | None:
        return self._day(self.found.high)

    @property
    def hours(self) -> float:
        return sum(self.minutes.values()) / MINUTES_PER_HOUR

    @property
    def late_skills(self) -> list[str]:
        """The skills that hold it up, in words."""
        late = self.found.late
        return [Person.Skill(skill).label for skill in sorted(late.skills)] if late else []

    @property
    def is_all_late(self) -> bool:
        """Whether no skill holds it up more than the rest: it is all the work for all the people."""
        return self.found.late is not None and self.found.late.skills == {
            skill for skill, minutes in self.minutes.items() if minutes
        }

    @property
    def is_overdue(self) -> bool:
        """Whether all of the work was to be done before today."""
        return self.planned is not None and self.planned < self.today

    @property
    def late_hours(self) -> tuple[float, float]:
        """Hours to do with them, and hours in a week there are."""
        late = self.found.late
        return (late.minutes / MINUTES_PER_HOUR, late.weekly / MINUTES_PER_HOUR) if late else (0.0, 0.0)

    @property
    def pace_percent(self) -> int:
        """Minutes spent beside those planned, in per cent; 100 where nothing was logged."""
        return round(self.pace.spent / self.pace.planned * 100) if self.pace.planned else 100

    def _day(self, weeks: float) -> date | None:
        """The working day on which so many weeks are over, the first of them what is left of this one, today
        with it; None for never."""
        if not isfinite(weeks):
            return None
        whole = max(ceil(weeks - 1e-9) - 1, 0)
        monday = monday_of(self.today) + timedelta(days=DAYS_A_WEEK * whole)
        days = [day for day in map(monday.__add__, map(timedelta, range(WORKING_DAYS))) if day >= self.today]
        return days[max(ceil((weeks - whole) * len(days) - 1e-9) - 1, 0)] if days else self.today


def finish_of(
    campaign: Campaign, today: date, changes: Changes | None = None, *, before: Finish | None = None
) -> Finish:
    """When the open work of a campaign will be done, from today on. The number of questions is fixed.

    before: the forecast of the same day without changes, whose figures then need not be asked for again.
    """
    people = list(campaign.people.filter(is_active=True))
    workers = workers_of(people, today, changes or Changes())
    minutes = before.minutes if before else _open_minutes(campaign)
    pace = before.pace if before else pace_of(campaign, people, today)
    planned = before.planned if before else _planned_end(campaign)
    weekly: dict[str, float] = defaultdict(float)
    for worker in workers:
        for skill in worker.skills:
            weekly[skill] += worker.minutes[0] if len(worker.minutes) == 1 else worker.minutes[1]
    return Finish(forecast(minutes, workers, pace), today, planned, minutes, weekly, pace)


def _open_minutes(campaign: Campaign) -> dict[str, float]:
    """Minutes still to be worked by skill, as planned."""
    rows = (
        Task.objects.filter(housing__campaign=campaign)
        .exclude(state=State.DONE)
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values_list("step")
        .annotate(Sum("planned_minutes"))
    )
    minutes: defaultdict[str, float] = defaultdict(float)
    for step, planned in rows:
        minutes[SKILL_OF_STEP[step]] += float(planned)
    return dict(minutes)


def pace_of(campaign: Campaign, people: Sequence[Person], today: date) -> Pace:
    """What was logged beside what was planned, hours worked beside those there were, and boxes made again."""
    done = Q(state=State.DONE)
    logged = done & Q(spent_minutes__isnull=False, planned_minutes__gt=0)
    told = Task.objects.filter(housing__campaign=campaign).aggregate(
        planned=Sum("planned_minutes", filter=logged),
        spent=Sum("spent_minutes", filter=logged),
        jobs=Count("pk", filter=logged),
        worked=Sum("spent_minutes", filter=done),
        first=Min("done_at", filter=logged),
    )
    if not told["jobs"]:
        return Pace()
    first = timezone.localtime(told["first"]).date()
    weeks = max((today - first).days / DAYS_A_WEEK, 0.0)
    whole = ceil(weeks)
    there = weekly_minutes(people, monday_of(first), whole) if whole else {}
    hours = sum(sum(minutes) for minutes in there.values()) * (weeks / whole if whole else 0)
    boxes = Counter(
        FitCheck.objects.filter(housing__campaign=campaign, is_void=False).values_list("remedy", flat=True)
    )
    return Pace(
        planned=float(told["planned"]),
        spent=float(told["spent"]),
        jobs=told["jobs"],
        worked_share=float(told["worked"]) / hours if hours else 1.0,
        weeks_seen=weeks if hours else 0.0,
        remade=boxes[FitCheck.Remedy.REMAKE],
        finished=sum(boxes.values()),
    )


def _planned_end(campaign: Campaign) -> date | None:
    """Friday of the last week that work is given out for."""
    if campaign.work_from is None:
        return None
    last = (
        Task.objects.filter(housing__campaign=campaign)
        .exclude(state=State.DONE)
        .order_by("-week")
        .values_list("week", flat=True)
        .first()
    )
    return first_day(campaign.work_from, last) + timedelta(days=4) if last else None


def burn_up(campaign: Campaign, today: date, finish: Finish) -> BurnUp:
    """Boxes done, planned and to be expected by the end of each week."""
    housed, planned = _housed_by_week(campaign), _planned_by_week(campaign, monday_of(today))
    live = Housing.objects.filter(campaign=campaign).exclude(status=Housing.Status.DROPPED)
    total, now, this = live.count(), sum(housed.values()), monday_of(today)
    back = Task.objects.filter(step=Task.Step.RETURN).exclude(state=State.DONE)
    left = live.filter(pk__in=back.values("housing")).count()
    told = [*housed, *planned, this, *([monday_of(finish.high)] if finish.high else [])]
    first = min(told)
    count = min((max(told) - first).days // DAYS_A_WEEK + 1, MOST_DRAWN)
    weeks = [first + timedelta(days=DAYS_A_WEEK * week) for week in range(count)]
    done: list[float | None] = []
    plan: list[float | None] = []
    seen, due = 0, now
    for week in weeks:
        seen += housed.get(week, 0)
        due += planned.get(week, 0)
        done.append(float(seen) if week <= this else None)
        plan.append(float(due) if planned and week >= this else None)
    low, middle, high = (
        [_expected(end, week, today, now, left) for week in weeks]
        for end in (finish.high, finish.middle, finish.low)
    )
    return BurnUp(weeks, total, done, plan, low, middle, high, today, total - now - left)


def _expected(end: date | None, week: date, today: date, now: int, left: int) -> float | None:
    """Boxes by the end of a week if the work goes on evenly until it ends, on working days alone."""
    if week < monday_of(today) or end is None:
        return None
    friday = week + timedelta(days=WORKING_DAYS - 1)
    days = _working_days(today, end)
    return now + left * (min(_working_days(today, friday) / days, 1.0) if days else 1.0)


def _working_days(first: date, last: date) -> int:
    """Days of Monday to Friday from one day to another, both counted."""
    days = (last - first).days + 1
    whole, rest = divmod(max(days, 0), DAYS_A_WEEK)
    more = sum((first + timedelta(days=day)).weekday() < WORKING_DAYS for day in range(rest))
    return whole * WORKING_DAYS + more


def _housed_by_week(campaign: Campaign) -> dict[date, int]:
    """Boxes that are on their shelf, by the Monday of the week in which they came there last."""
    steps = HousingEvent.objects.filter(
        housing__campaign=campaign, housing__status=Housing.Status.HOUSED, status=Housing.Status.HOUSED
    ).order_by("at")
    last: dict[int, datetime] = dict(steps.values_list("housing", "at"))
    return dict(Counter(monday_of(timezone.localtime(at).date()) for at in last.values()))


def _planned_by_week(campaign: Campaign, this: date) -> dict[date, int]:
    """Boxes still to come back, by the Monday of the week planned for it; what is late is due this week."""
    if campaign.work_from is None:
        return {}
    rows = (
        Task.objects.filter(housing__campaign=campaign, step=Task.Step.RETURN)
        .exclude(state=State.DONE)
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values_list("week")
        .annotate(Count("pk"))
    )
    planned: Counter[date] = Counter()
    for week, number in rows:
        planned[max(first_day(campaign.work_from, week), this)] += number
    return dict(planned)
