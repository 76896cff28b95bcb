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
from housing.queries.what_if import Changes, workers_of, working_days_on

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
    def late_hours(self) -> tuple[float, float]:
        """Hours to do with them, and hours in a week there are."""
        late = self.found.late
        return (late.minutes / MINUTES_PER_HOUR, late.weekly / MINUTES_PER_HOUR) if late else (0.0, 0.0)

    @property
    def pace_percent(self) -> int:
        """Minutes spent beside those planned, in per cent; 100 where nothing was logged."""
        return round(self.pace.spent / self.pace.planned * 100) if self.pace.planned else 100

    def _day(self, weeks: float) -> date | None:
        """The working day, Monday to Friday, on which so many weeks are over; None for never."""
        if not isfinite(weeks):
            return None
        return working_days_on(self.today, ceil(weeks * WORKING_DAYS - 1e-9))


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
    housed = _housed_by_week(campaign)
    planned = _planned_by_week(campaign)
    live = Housing.objects.filter(campaign=campaign).exclude(status=Housing.Status.DROPPED)
    total = live.count()
    this = monday_of(today)
    told = [*housed, *planned, this, *([monday_of(finish.high)] if finish.high else [])]
    first = min(told)
    count = min((max(told) - first).days // DAYS_A_WEEK + 1, MOST_DRAWN)
    weeks = [first + timedelta(days=DAYS_A_WEEK * week) for week in range(count)]
    now = sum(housed.values())
    done: list[float | None] = []
    plan: list[float | None] = []
    seen, due = 0, now
    for week in weeks:
        seen += housed.get(week, 0)
        due += planned.get(week, 0)
        done.append(float(seen) if week <= this else None)
        plan.append(float(due) if planned and week >= min(planned) else None)
    expected = [_expected(finish, week, this, now, total) for week in weeks]
    low, middle, high = zip(*expected, strict=True)
    return BurnUp(weeks, total, done, plan, low, middle, high, today)


def _expected(
    finish: Finish, week: date, this: date, now: int, total: int
) -> tuple[float | None, float | None, float | None]:
    """Boxes by the end of a week as the trials say: low for the slow ones, high for the quick ones."""
    if week < this or not finish.found.ends:
        return None, None, None
    ahead = (week - this).days / DAYS_A_WEEK
    left = total - now

    def boxes(end: float) -> float:
        return now + left * (min(ahead / end, 1.0) if end > 0 else 1.0)

    return boxes(finish.found.high), boxes(finish.found.middle), boxes(finish.found.low)


def _housed_by_week(campaign: Campaign) -> dict[date, int]:
    """Boxes that are on their shelf, by the Monday of the week in which they came there last."""
    steps = HousingEvent.objects.filter(
        housing__campaign=campaign, housing__status=Housing.Status.HOUSED, status=Housing.Status.HOUSED
    ).order_by("at")
    last: dict[int, datetime] = dict(steps.values_list("housing", "at"))
    return dict(Counter(monday_of(timezone.localtime(at).date()) for at in last.values()))


def _planned_by_week(campaign: Campaign) -> dict[date, int]:
    """Boxes still to come back, by the Monday of the week planned for it."""
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
    return {first_day(campaign.work_from, week): number for week, number in rows}
