"""Jobs tell how they stand, finish early or stop as wished, and begin again after a restart."""

from collections.abc import Callable

import pytest
from django.db import transaction
from django.utils import timezone

from housing.models import CuttingPlan, Housing, Job, PlanRecord
from housing.services import campaigns, jobs
from housing.services.jobs import (
    JobCancelled,
    JobRefused,
    cancel_job,
    finish_job,
    put_back_interrupted,
    run_job,
)
from tests.factories import make_campaign, make_design, make_object, make_sheet_size

# Progress is written outside transactions only, so these tests must not run in one.
pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.any_database]
NOTHING_CHANGED = "It was cancelled; nothing was changed."


class Clock:
    """Seconds that pass only when a test says so."""

    now = 0.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock(monkeypatch) -> Clock:
    monkeypatch.setattr(jobs, "monotonic", clock := Clock())
    return clock


@pytest.fixture
def plan_with(monkeypatch) -> Callable[[Callable], Job]:
    """Runs a job of planning whose work is done by the function given; returns the job as it is then."""

    def run(runner: Callable) -> Job:
        monkeypatch.setitem(jobs._RUNNERS, "plan", runner)
        return ran(make_job())

    return run


def make_job(**given) -> Job:
    return Job.objects.create(**{"kind": "plan", "title": "Plan “Attic”", **given})


def ran(job: Job) -> Job:
    run_job.call(job.pk)
    return Job.objects.get(pk=job.pk)


def stored(job: Job) -> tuple:
    return Job.objects.values_list("percent", "stage", "standing").get(pk=job.pk)


# ---- Going on ----------------------------------------------------------------------------------------------


def test_a_job_runs_to_its_end(plan_with):
    job = plan_with(lambda job, progress: {"message": "112 sheets are planned."})

    assert (job.state, job.percent, job.message) == ("done", 100, "112 sheets are planned.")
    assert job.is_over and job.finished_at


def test_progress_is_told_with_or_without_how_it_stands(plan_with):
    seen = []

    def runner(job, progress):
        answers = progress(5, "Choosing designs"), progress(20, "Nesting", {"cost": "1234.50 USD"})
        seen.extend([answers, stored(job)])
        return {"message": "Done."}

    plan_with(runner)

    assert seen == [(False, False), (20, "Nesting", {"cost": "1234.50 USD"})]


def test_progress_is_stored_twice_a_second_at_most_except_at_a_new_stage_and_at_the_ends(clock):
    job = make_job(state="running")
    progress = jobs._progress(job)
    seen = []
    for seconds, percent, stage in [
        (0.0, 10, "Nesting"),  # the first is always stored
        (0.4, 11, "Nesting"),  # too soon
        (0.5, 12, "Nesting"),
        (0.6, 13, "Tidying"),  # a new stage
        (0.7, 14, "Tidying"),  # too soon
        (0.8, 100, "Tidying"),  # the end
    ]:
        clock.now = seconds
        progress(percent, stage)
        seen.append(stored(job)[0])

    assert seen == [10, 10, 12, 13, 13, 100]


def test_progress_inside_a_transaction_is_not_stored_and_heeds_no_wish():
    job = make_job(state="running", wish="cancel")

    with transaction.atomic():
        answer = jobs._progress(job)(85, "Storing the plan")

    assert (answer, stored(job)) == (False, (0, "", {}))


# ---- Taking the best plan so far ---------------------------------------------------------------------------


def test_a_running_planning_is_told_to_finish_with_the_best_so_far(plan_with, clock):
    answers = []

    def runner(job, progress):
        answers.append(progress(20, "Nesting"))
        finish_job(job=job)
        for clock.now in (0.4, 0.5, 0.6):  # it looks again after half a second
            answers.append(progress(21, "Nesting"))
        return {"message": "112 sheets are planned."}

    job = plan_with(runner)

    assert answers == [False, False, True, True]
    assert (job.state, job.wish) == ("done", "finish")
    assert job.message == "112 sheets are planned. It is the best found until it was asked to finish."


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"state": "waiting"}, "has not begun, so there is no plan yet"),
        ({"state": "running", "wish": "cancel"}, "is being cancelled already"),
        ({"state": "running", "kind": "print"}, "is of use only when it is whole"),
        ({"state": "done"}, r"is over already \(done\)"),
        ({"state": "failed"}, r"is over already \(failed\)"),
        ({"state": "cancelled"}, r"is over already \(cancelled\)"),
    ],
)
def test_there_is_no_best_so_far_of(given, sentence):
    job = make_job(**given)

    with pytest.raises(JobRefused, match=sentence):
        finish_job(job=job)

    job.refresh_from_db()
    assert job.wish == given.get("wish", "")


# ---- Cancelling --------------------------------------------------------------------------------------------


def test_a_waiting_job_is_cancelled_at_once_and_never_runs(monkeypatch):
    begun = []
    monkeypatch.setitem(jobs._RUNNERS, "plan", lambda job, progress: begun.append(job))
    job = make_job()

    cancelled = cancel_job(job=job)

    assert (cancelled.state, cancelled.message) == ("cancelled", NOTHING_CHANGED)
    assert (ran(job).state, begun) == ("cancelled", [])
    assert cancelled.is_over and cancelled.finished_at


def test_a_running_planning_that_is_cancelled_leaves_the_campaign_untouched(monkeypatch):
    monkeypatch.setattr(jobs, "LOOK_SECONDS", 0)
    board = make_sheet_size().board
    campaign = make_campaign(make_object())
    campaign.memberships.update(chosen_design=make_design(board=board))
    job = make_job(parameters={"campaign": campaign.pk})
    nest_blanks = campaigns.nest_blanks

    def cancelled_meanwhile(**given):
        cancel_job(job=job)
        return nest_blanks(**given)

    monkeypatch.setattr(campaigns, "nest_blanks", cancelled_meanwhile)

    after = ran(job)

    assert (after.state, after.message) == ("cancelled", NOTHING_CHANGED)
    assert after.finished_at
    assert not CuttingPlan.objects.exists() and not Housing.objects.exists()


def test_progress_ends_a_cancelled_job_but_not_once_its_result_is_stored(clock):
    job = make_job(state="running", wish="cancel")

    with pytest.raises(JobCancelled, match=NOTHING_CHANGED):
        jobs._progress(job)(99, "Nesting")

    assert jobs._progress(job)(100, "Done") is False


def test_a_job_done_before_it_could_be_cancelled_says_so(plan_with):
    def runner(job, progress):
        cancel_job(job=job)
        return {"message": "112 sheets are planned."}

    job = plan_with(runner)

    assert job.state == "done"
    assert job.message == "112 sheets are planned. It was done before it could be cancelled."


def test_a_job_that_was_to_finish_early_may_still_be_cancelled():
    assert cancel_job(job=make_job(state="running", wish="finish")).wish == "cancel"


@pytest.mark.parametrize("state", ["done", "failed", "cancelled"])
def test_a_job_that_is_over_is_not_cancelled(state):
    job = make_job(state=state)

    with pytest.raises(JobRefused, match=rf"This work is over already \({state}\)"):
        cancel_job(job=job)

    job.refresh_from_db()
    assert (job.state, job.wish) == (state, "")


# ---- After a restart ---------------------------------------------------------------------------------------


def test_an_interrupted_job_waits_again_and_says_so_while_it_runs(monkeypatch):
    job = make_job(state="running", percent=40, standing={"cost": "1234.50 USD"})
    seen = []

    def runner(job, progress):
        progress(20, "Nesting", {"sheets": 112})
        seen.append(Job.objects.get(pk=job.pk).standing_lines)
        return {"message": "Done."}

    monkeypatch.setitem(jobs._RUNNERS, "plan", runner)

    waiting = put_back_interrupted()

    again = Job.objects.get(pk=job.pk)
    assert waiting == [job]
    assert (again.state, again.percent, again.stage) == ("waiting", 0, "Begun again after a restart")
    assert ran(job).state == "done"
    assert [sorted(lines) for lines in seen] == [[("Begun again", "after a restart"), ("Sheets", 112)]]


def test_an_interrupted_job_that_was_cancelled_meanwhile_stays_so():
    job = make_job(state="running", wish="cancel")

    assert put_back_interrupted() == []

    job.refresh_from_db()
    assert (job.state, job.message) == ("cancelled", NOTHING_CHANGED)
    assert job.finished_at


def test_a_dearer_plan_says_what_the_one_before_it_cost():
    # Worked by hand: 12.50 + 3.00 for sheets cut before are 15.50; 14.00 + 3.00 are 17.00.
    campaign = make_campaign()
    for cost in ("12.50", "14.00"):
        row = {"cost": cost, "cut_cost": "3.00", "sheets": 1, "cut_sheets": 1}
        PlanRecord.objects.create(
            campaign=campaign, made_at=timezone.now(), rules={}, boards=[row], sheets=[]
        )

    assert jobs._dearer(campaign) == (
        " Its sheets cost 17.00 USD, those of the plan before it 15.50; the comparison shows why."
    )
