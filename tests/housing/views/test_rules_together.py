"""Two people at the same rule: what the one has saved is not overwritten unseen by the other."""

import pytest

from tests.factories import make_campaign, make_design, make_object

pytestmark = pytest.mark.django_db


@pytest.fixture
def rule():
    campaign = make_campaign(make_object(materials="Wool"))
    return campaign.rules.create(position=1, material="wool", design=make_design(), reason="Usual.")


def sent(client, rule, **typed) -> dict:
    """What the browser sends of the rule as it is shown now, with something else typed."""
    form = client.get(f"/rules/{rule.pk}/edit/").context["form"]
    shown = {one.name: one.field.prepare_value(one.value()) for one in form if one.value()}
    return {**shown, "version": form.version, **typed}


def test_a_rule_saved_by_somebody_else_meanwhile_is_not_overwritten(admin_client, rule):
    mine, theirs = sent(admin_client, rule, source="Mine"), sent(admin_client, rule, reason="Theirs")

    admin_client.post(f"/rules/{rule.pk}/edit/", theirs)
    refused = admin_client.post(f"/rules/{rule.pk}/edit/", mine)

    rule.refresh_from_db()
    assert (rule.reason, rule.source) == ("Theirs", "")
    assert "Somebody else saved this rule while you were editing it." in refused.text
    assert 'value="Mine"' in refused.text


def test_saved_once_more_after_the_warning_it_is_stored(admin_client, rule):
    mine, theirs = sent(admin_client, rule, source="Mine"), sent(admin_client, rule, reason="Theirs")
    admin_client.post(f"/rules/{rule.pk}/edit/", theirs)
    refused = admin_client.post(f"/rules/{rule.pk}/edit/", mine)

    admin_client.post(f"/rules/{rule.pk}/edit/", {**mine, "version": refused.context["form"].version})

    rule.refresh_from_db()
    assert (rule.reason, rule.source) == ("Usual.", "Mine")


def test_a_rule_moved_meanwhile_is_saved_all_the_same(admin_client, rule):
    rule.campaign.rules.create(position=2, design=make_design())
    mine = sent(admin_client, rule, source="Mine")

    admin_client.post(f"/rules/{rule.pk}/move/", {"direction": "down"})
    admin_client.post(f"/rules/{rule.pk}/edit/", mine)

    rule.refresh_from_db()
    assert (rule.position, rule.source) == (2, "Mine")
