"""The weights of a campaign's priority score."""

from collections.abc import Mapping

from django.db import transaction

from housing.core.priority import clean_weights
from housing.models import Campaign


@transaction.atomic
def set_weights(*, campaign: Campaign, weights: Mapping[str, float]) -> Campaign:
    """Store the weights that differ from 1. Boxes and sheets do not rest on them, so the plan stays current.

    Raises PriorityRefused for a factor or a weight that cannot be, with nothing stored.
    """
    kept = {name: weight for name, weight in clean_weights(weights).items() if weight != 1}
    campaign = Campaign.objects.select_for_update().get(pk=campaign.pk)
    campaign.weights = kept
    campaign.save(update_fields=["weights"])
    return campaign
