"""Rules of a campaign: kept in one row without gaps; every change makes the plan out of date."""

from collections.abc import Iterable, Sequence

from django.db import transaction
from django.db.models import Max

from housing.core.choosing import Rule
from housing.models import Campaign, DesignRule
from housing.services.outdating import outdate


@transaction.atomic
def save_rule(*, rule: DesignRule) -> DesignRule:
    """Store a rule; a new one comes last, but above rules at the end that match everything."""
    campaign = Campaign.objects.select_for_update().get(pk=rule.campaign_id)
    if rule.pk is not None:
        rule.save()
        outdate(Campaign.objects.filter(pk=campaign.pk))
        return rule
    rules = list(campaign.rules.all())
    rule.position = _last(campaign) + 1
    rule.save()
    rules.insert(place_of_new(rule.to_core(), [one.to_core() for one in rules]), rule)
    _number(campaign, rules)
    return rule


@transaction.atomic
def copy_rule(*, rule: DesignRule) -> DesignRule:
    """Put a copy of a rule right below it; those further down move on by one."""
    campaign = Campaign.objects.select_for_update().get(pk=rule.campaign_id)
    rules = list(campaign.rules.all())
    place = [one.pk for one in rules].index(rule.pk) + 1
    copied = DesignRule.objects.get(pk=rule.pk)
    copied.pk, copied.position, copied._state.adding = None, _last(campaign) + 1, True
    copied.save()
    rules.insert(place, copied)
    _number(campaign, rules)
    return copied


@transaction.atomic
def add_rules(*, campaign: Campaign, rules: Iterable[DesignRule]) -> int:
    """Put some new rules, in their order, below those there are. Returns how many."""
    campaign = Campaign.objects.select_for_update().get(pk=campaign.pk)
    added = list(rules)
    for position, rule in enumerate(added, start=_last(campaign) + 1):
        rule.campaign, rule.position = campaign, position
    DesignRule.objects.bulk_create(added)
    outdate(Campaign.objects.filter(pk=campaign.pk))
    return len(added)


@transaction.atomic
def delete_rule(*, rule: DesignRule) -> None:
    """Take a rule out; those below move up."""
    campaign = Campaign.objects.select_for_update().get(pk=rule.campaign_id)
    campaign.rules.filter(pk=rule.pk).delete()
    _number(campaign, list(campaign.rules.all()))


@transaction.atomic
def move_rule(*, rule: DesignRule, places: int) -> None:
    """Move a rule by some places, below zero upward; at either end it stays."""
    campaign = Campaign.objects.select_for_update().get(pk=rule.campaign_id)
    rules = list(campaign.rules.all())
    if rule not in rules:
        return
    at = rules.index(rule)
    moved = rules.pop(at)
    rules.insert(max(at + places, 0), moved)
    _number(campaign, rules)


def place_of_new(rule: Rule, rules: Sequence[Rule]) -> int:
    """How many of some rules stand above a new one, which could decide nothing below one for everything."""
    place = len(rules)
    while place and rules[place - 1].is_fallback and not rule.is_fallback:
        place -= 1
    return place


def _last(campaign: Campaign) -> int:
    return campaign.rules.aggregate(last=Max("position", default=0))["last"]


def _number(campaign: Campaign, rules: list[DesignRule]) -> None:
    """Number the rules from 1; first beyond the last, since no two may share a place even for a moment."""
    beyond = max(_last(campaign), len(rules))
    for offset in (beyond, 0):
        for number, rule in enumerate(rules, start=1):
            rule.position = number + offset
        DesignRule.objects.bulk_update(rules, ["position"])
    outdate(Campaign.objects.filter(pk=campaign.pk))
