"""The first campaign of a new museum: all that needs a box, with the shipped rules, and its planning."""

from django.db import transaction

from housing.models import Campaign, DesignRule, Job
from housing.queries.first_run import objects_in_need
from housing.services.campaigns import CampaignRefused, add_objects
from housing.services.jobs import start_job
from housing.services.rules import add_rules
from objects.core.words import noted, say

NAME = noted("The first campaign")
NOTE = noted("Made by the first steps: all objects that need a box, with the shipped rules.")
SEARCH_SECONDS = 5  # whoever tries it for the first time should not wait for the last per cent of board


@transaction.atomic
def start_first_campaign(*, rules: list[DesignRule], by=None) -> Job:
    """Make a campaign of all objects in need, give it these rules, and begin to plan it.

    Raises CampaignRefused where no object needs a box or a campaign is there already.
    """
    if Campaign.objects.exists():
        raise CampaignRefused(say("There is a campaign already. Open it and plan it from there."))
    objects = objects_in_need()
    if not objects.exists():
        raise CampaignRefused(
            say("No object needs a box: the list has none, or says that all are housed. Look at the objects.")
        )
    campaign = Campaign.objects.create(name=say(NAME), note=say(NOTE), search_seconds=SEARCH_SECONDS)
    add_objects(campaign=campaign, objects=objects)
    add_rules(campaign=campaign, rules=rules)
    return plan_first_campaign(campaign=campaign, by=by)


def plan_first_campaign(*, campaign: Campaign, by=None) -> Job:
    """Put the planning of a campaign in the queue."""
    return start_job(
        kind=Job.Kind.PLAN,
        title=say("Plan “{campaign}”", campaign=campaign),
        parameters={"campaign": campaign.pk},
        by=by,
    )
