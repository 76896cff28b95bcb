"""Scenarios: kept, copied, deleted, and worked out beside their campaign, of which nothing changes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.urls import reverse
from django.utils import timezone

from housing.core.budget.stored import to_json
from housing.core.scenarios import Differences, ScenarioRefused, read
from housing.models import Campaign, Job, Scenario, SizeFamily
from housing.queries.ready_made import boxes_on_the_list
from housing.queries.scenarios import faults_of, free_name, inputs_now, inputs_of_scenario
from housing.services.jobs import runs, start_job
from housing.services.nesting import PlanRefused, Progress
from housing.services.scenario_boxes import boxes_of_scenario
from housing.services.scenario_budget import budget_of_scenario
from objects.core.words import say

MOST_SCENARIOS = 12  # of a campaign; more columns than that nobody compares


@transaction.atomic
def save_scenario(*, scenario: Scenario, by: Any = None) -> Scenario:
    """Store a scenario, a new one behind the others, its name numbered where it is taken.

    Raises ScenarioRefused when there are too many.
    """
    if scenario.pk is None:
        _refuse_too_many(scenario.campaign)
        last = scenario.campaign.scenarios.aggregate(last=Max("position"))["last"]
        scenario.position, scenario.by = (last or 0) + 1, by
        scenario.name = free_name(scenario.campaign, scenario.name)
        scenario.save()
    else:  # its figures are left to whoever is working it out
        scenario.save(update_fields=["name", "note", "differences"])
    return scenario


@transaction.atomic
def copy_scenario(*, scenario: Scenario, by: Any = None) -> Scenario:
    """A copy of a scenario behind the others, with what is different but without figures."""
    copied = Scenario(
        campaign=scenario.campaign,
        name=scenario.name,
        note=scenario.note,
        differences=scenario.differences,
    )
    return save_scenario(scenario=copied, by=by)


def delete_scenario(*, scenario: Scenario) -> None:
    """Delete a scenario; the campaign stays as it is."""
    Scenario.objects.filter(pk=scenario.pk).delete()


def _refuse_too_many(campaign: Campaign) -> None:
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    if campaign.scenarios.count() >= MOST_SCENARIOS:
        raise ScenarioRefused(
            say(
                "“{campaign}” has {most_scenarios} scenarios, and more cannot be compared at a glance. "
                "Delete one first.",
                campaign=campaign,
                most_scenarios=MOST_SCENARIOS,
            )
        )


# ---- Working out -----------------------------------------------------------------------------------------


def compute_scenario(*, scenario: Scenario, progress: Progress = lambda *told: None) -> Scenario:
    """Work a scenario out in memory, and store what it comes to in one short step.

    Raises ScenarioRefused where it cannot be worked out or was changed meanwhile, PlanRefused where blanks
    find no sheet; what it had come to before stays then.
    """
    worked = _work_out(scenario, progress)
    with transaction.atomic():
        return _store(scenario, worked)


@dataclass(frozen=True)
class _Outcome:
    """What a scenario comes to, as it is stored, and when the records were read that it rests on."""

    made_at: datetime
    result: dict[str, Any]


def _work_out(scenario: Scenario, progress: Progress) -> _Outcome:
    campaign, today = scenario.campaign, timezone.localdate()
    differences = read(scenario.differences)
    if not campaign.memberships.exists():
        raise ScenarioRefused(
            say(
                "“{campaign}” has no objects yet. Add some to it, then work this out again.",
                campaign=campaign,
            )
        )
    if faults := list(faults_of(campaign, differences, today)):
        raise ScenarioRefused(" ".join(faults))
    made_at, inputs = timezone.now(), inputs_of_scenario(inputs_now(campaign), differences)
    progress(1, say("Choosing designs"))
    boxes = boxes_of_scenario(
        campaign, differences, _family(differences), boxes_on_the_list(today=today), progress
    )
    worked = budget_of_scenario(campaign, differences, boxes, today, progress)
    budget = to_json(worked.budget)
    return _Outcome(
        made_at,
        {
            "figures": worked.figures.to_json(),
            "budget": budget,
            "problems": budget["problems"],
            "inputs": inputs,
        },
    )


def _store(scenario: Scenario, outcome: _Outcome) -> Scenario:
    now = Scenario.objects.select_for_update().filter(pk=scenario.pk).first()
    if now is None or now.differences != scenario.differences:
        raise ScenarioRefused(
            say(
                "“{scenario}” was changed or deleted while it was being worked out. Work it out again.",
                scenario=scenario,
            )
        )
    now.made_at, now.result = outcome.made_at, outcome.result
    now.save(update_fields=["made_at", "result"])
    return now


def _family(differences: Differences) -> SizeFamily | None:
    if differences.sizes is None:
        return None
    return SizeFamily.objects.select_related("design__board").get(pk=differences.sizes)


def start_scenarios(*, campaign: Campaign, scenarios: Sequence[Scenario], by: Any = None) -> Job:
    """Have scenarios of a campaign worked out in the background, one after the other.

    Raises ScenarioRefused where there is none.
    """
    if not scenarios:
        raise ScenarioRefused(say("“{campaign}” has no scenarios yet. Add one first.", campaign=campaign))
    one = scenarios[0]
    what = (
        say("“{one}” of {campaign}", one=one, campaign=campaign)
        if len(scenarios) == 1
        else say("{count} scenarios of {campaign}", count=len(scenarios), campaign=campaign)
    )
    return start_job(
        kind=Job.Kind.SCENARIO,
        title=say("Work out {what}", what=what)[:200],
        parameters={"campaign": campaign.pk, "scenarios": [scenario.pk for scenario in scenarios]},
        by=by,
    )


@runs(Job.Kind.SCENARIO)
def _run_scenarios(job: Job, progress: Progress) -> dict[str, str]:
    """All are stored together at the end, so that cancelling leaves each as it was."""
    pks = job.parameters["scenarios"]
    found = Scenario.objects.select_related("campaign").in_bulk(pks)
    scenarios = [found[pk] for pk in pks if pk in found]
    worked: list[tuple[Scenario, _Outcome]] = []
    refused: list[str] = []
    for number, scenario in enumerate(scenarios):
        tell = _part_of(progress, number, len(scenarios), str(scenario))
        try:
            worked.append((scenario, _work_out(scenario, tell)))
        except (ScenarioRefused, PlanRefused) as fault:
            refused.append(
                say("“{scenario}” could not be worked out: {fault}", scenario=scenario, fault=fault)
            )
    with transaction.atomic():
        for scenario, outcome in worked:
            try:
                _store(scenario, outcome)
            except ScenarioRefused as fault:
                refused.append(str(fault))
    if refused and len(refused) == len(scenarios):
        raise ScenarioRefused(" ".join(refused))
    return {
        "message": " ".join(
            [
                say("{count} worked out; the campaign is as it was.", count=len(scenarios) - len(refused)),
                *refused,
            ]
        ),
        "result_url": reverse("housing:scenario-list", args=[job.parameters["campaign"]]),
    }


def _part_of(progress: Progress, number: int, of: int, name: str) -> Progress:
    """The progress of one of several scenarios, told as that of all."""

    def tell(percent: int, stage: str, standing: dict[str, str] | None = None) -> bool | None:
        return progress(min(99, (100 * number + percent) // of), f"{name}: {stage}", standing)

    return tell
