"""Weeks and days away in words: {{ absence|span }}, {{ absence|days }}, {{ campaign|week:3 }}."""

from django import template

from housing.core.day_words import week_in_words, working_days
from housing.models import Absence, Campaign
from housing.queries.absences import span_of

register = template.Library()


@register.filter
def span(absence: Absence) -> str:
    """From which day to which."""
    return span_of(absence)


@register.filter
def days(absence: Absence) -> int:
    """How many days from Monday to Friday it takes."""
    return working_days(absence.first_day, absence.last_day)


@register.filter
def week(campaign: Campaign, number: int) -> str:
    """A week of a campaign with its days."""
    return week_in_words(campaign.work_from, number)
