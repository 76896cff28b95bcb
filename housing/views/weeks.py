"""The work of a campaign by person and week: shown, moved by hand, and given out again."""

from datetime import date
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.day_words import week_days, week_in_words
from housing.core.drawing.week_chart import WeekBar, WeekHead, WeekRow, weeks_svg
from housing.forms.weeks import MoveForm, WeeksForm
from housing.models import Campaign, Job
from housing.queries.bundles import lanes_of
from housing.queries.campaigns import open_job, open_tasks
from housing.queries.giving_out import last_schedule
from housing.queries.weeks import (
    WorkWeeks,
    left_over,
    standing_in_words,
    unassigned,
    window_of,
    work_weeks,
)
from housing.services.jobs import start_job
from housing.services.weeks import give_out_again, move_work, release_work
from objects.core.refusals import Refusal
from objects.roles import role_required

AT_ONCE = 1_000  # tasks; more than that are given out by the worker, so that nobody waits for a page


@require_safe
def campaign_tasks(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    asked = WeeksForm(request.GET)
    today = timezone.localdate()
    window = window_of(campaign, today, asked.asked("first"))
    week = asked.asked("week")
    if week is None or week not in window.numbers:
        week = window.first
    work = work_weeks(campaign, window, today)
    people = [row.person for row in work.rows]
    return render(
        request,
        "housing/campaign_tasks.html",
        {
            "campaign": campaign,
            "work": work,
            "window": window,
            "week": week,
            "svg": mark_safe(_chart(campaign, work)),  # noqa: S308  drawn by us, all words escaped
            "heads": [(number, week_in_words(campaign.work_from, number)) for number in window.numbers],
            "lanes": lanes_of(campaign, people, week),
            "form": MoveForm(campaign=campaign, people=people),
            "unassigned": unassigned(campaign),
            "left_over": left_over(campaign, window),
            "job": open_job(campaign, Job.Kind.ASSIGN),
            "here": _here(campaign, window.first, week),
            "bound": _bound(campaign, today) if request.GET.get("bound") else "",
        },
    )


def _bound(campaign: Campaign, today: date) -> str:
    """How far the work as given out may be from the best; looked at only when asked, as it takes a while."""
    try:
        return standing_in_words(last_schedule(campaign, today))
    except Refusal as refused:
        return str(refused)


def _chart(campaign: Campaign, work: WorkWeeks) -> str:
    """The picture of the weeks shown; each bar leads to what is behind it, further down the page."""
    heads = []
    for number in work.window.numbers:
        name, days = week_in_words(None, number), week_days(campaign.work_from, number, with_year=False)
        heads.append(WeekHead(name, days))
    rows = [
        WeekRow(
            row.person.name,
            tuple(
                WeekBar(
                    cell.hours,
                    cell.hours_there,
                    _here(campaign, work.window.first, cell.week) + f"#lane-{row.person.pk}",
                    cell.is_over,
                )
                for cell in row.cells
            ),
        )
        for row in work.rows
    ]
    return weeks_svg(
        _("Hours to do and hours there are by person and week, {campaign}").format(campaign=campaign),
        heads,
        rows,
    )


def _here(campaign: Campaign, first: int, week: int) -> str:
    address = reverse("housing:campaign-tasks", args=[campaign.pk])
    return f"{address}?{urlencode({'first': first, 'week': week})}"


@require_POST
@role_required()
def campaign_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Move what is ticked to somebody else, or leave it to the planner again."""
    campaign = get_object_or_404(Campaign, pk=pk)
    form = MoveForm(request.POST, campaign=campaign, people=campaign.people.filter(is_active=True))
    if not form.is_valid():
        for words in (word for errors in form.errors.values() for word in errors):
            messages.error(request, words)
        return _back(request, campaign)
    moved = {"campaign": campaign, "by": request.user}
    moved |= {"sheets": form.cleaned_data["sheets"], "tasks": form.cleaned_data["tasks"]}
    try:
        told = release_work(**moved) if form.releases else move_work(person=form.person, **moved)
    except Refusal as refused:
        messages.error(request, _("Nothing was moved. {refused}").format(refused=refused))
    else:
        messages.success(request, told)
    return _back(request, campaign)


@require_POST
@role_required()
def campaign_give_out(request: HttpRequest, pk: int) -> HttpResponse:
    """Give out the work again: little at once, much by the worker."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if open_tasks(campaign).count() > AT_ONCE and not campaign.is_closed:
        job = open_job(campaign, Job.Kind.ASSIGN) or start_job(
            kind=Job.Kind.ASSIGN,
            title=_("Give out the work of “{campaign}”").format(campaign=campaign),
            parameters={"campaign": campaign.pk},
            by=request.user,
        )
        return redirect("housing:job-detail", pk=job.pk)
    try:
        messages.success(request, give_out_again(campaign=campaign))
    except Refusal as refused:
        messages.error(request, str(refused))
    return redirect("housing:campaign-tasks", pk=campaign.pk)


def _back(request: HttpRequest, campaign: Campaign) -> HttpResponse:
    """To the weeks the form was sent from."""
    asked = WeeksForm(request.POST)
    return redirect(_here(campaign, asked.asked("first") or 1, asked.asked("week") or 1) + "#week")
