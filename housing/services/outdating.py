"""Noting that a plan rests on something that has changed since."""

from django.db.models import QuerySet
from django.utils import timezone

from housing.models import Campaign


def outdate(campaigns: QuerySet[Campaign]) -> None:
    """Note in campaigns that what their plans depend on has changed, so that the pages say so."""
    campaigns.update(changed_at=timezone.now())
