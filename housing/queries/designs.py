"""Designs with how much they are used."""

from django.db.models import Count, Q, QuerySet

from housing.models import Design, Housing


def designs_with_counts() -> QuerySet[Design]:
    """Designs with `boxes`, the housings that have them, dropped ones left out."""
    return Design.objects.select_related("board").annotate(
        boxes=Count("housings", filter=~Q(housings__status=Housing.Status.DROPPED))
    )
