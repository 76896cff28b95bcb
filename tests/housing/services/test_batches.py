"""Batches: which objects are due together, and how many boxes that makes."""

import pytest

from housing.models import Campaign
from housing.queries.campaigns import batch_counts
from housing.services.campaigns import CampaignRefused, set_batch
from objects.models import CatalogueObject
from tests.factories import make_campaign, make_housing, make_object

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def test_objects_get_their_batch_and_join_the_campaign_if_they_are_not_in_it():
    there, new, other = (make_object() for _ in range(3))
    campaign = make_campaign(there, other)

    number = set_batch(
        campaign=campaign, objects=CatalogueObject.objects.filter(pk__in=[there.pk, new.pk]), batch=2
    )

    batches = campaign.memberships.order_by("object").values_list("object", "batch")
    assert (number, list(batches)) == (2, [(there.pk, 2), (new.pk, 2), (other.pk, 1)])


def test_another_batch_makes_the_plan_out_of_date():
    thing = make_object()
    campaign = make_campaign(thing)

    set_batch(campaign=campaign, objects=[thing], batch=2)

    assert Campaign.objects.get().changed_at > campaign.changed_at


def test_a_set_counts_as_one_box_of_its_first_batch():
    cup, saucer = make_object(), make_object()
    campaign = make_campaign(cup, saucer)
    make_housing(cup, saucer, campaign=campaign)

    set_batch(campaign=campaign, objects=[saucer], batch=2)

    assert batch_counts(campaign) == [
        {"batch": 1, "objects": 1, "boxes": 1}, {"batch": 2, "objects": 1, "boxes": 0},
    ]  # fmt: skip


@pytest.mark.parametrize("batch", [0, -1])
def test_a_batch_before_the_first_is_refused(batch):
    campaign = make_campaign(make_object())

    with pytest.raises(CampaignRefused, match="Batches are counted from 1"):
        set_batch(campaign=campaign, objects=[make_object()], batch=batch)

    assert list(campaign.memberships.values_list("batch", flat=True)) == [1]
