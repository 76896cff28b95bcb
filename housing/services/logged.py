"""Standard minutes of finished steps, brought to the times that hold, so that the log corrects those."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from django.db import transaction

from housing.core.labour.work import by_step, standard_minutes
from housing.models import Campaign, Task
from housing.queries.box_facts import facts_of_campaign
from housing.queries.budgets import terms_of
from housing.queries.standards import standard_times, work_terms

BATCH = 500


@transaction.atomic
def restate_standard_minutes(*, campaigns: Iterable[Campaign] | None = None) -> int:
    """Work out anew what finished, logged steps should have taken by the standard times and terms of now.

    Otherwise a standard time that is corrected by hand would be corrected by its log once more. campaigns:
    all that have such steps where None. What was logged stays. Returns how many steps changed.
    """
    logged = Task.objects.filter(state=Task.State.DONE, spent_minutes__isnull=False)
    if campaigns is None:
        campaigns = Campaign.objects.filter(pk__in=logged.values("housing__campaign")).order_by("pk")
    times, restated = standard_times(), 0
    for campaign in campaigns:
        tasks = list(logged.filter(housing__campaign=campaign).select_for_update().order_by("pk"))
        if not tasks:
            continue
        # measuring is over, but it had its standard time too
        boxes = [replace(box, to_measure=True) for box in facts_of_campaign(campaign)]
        steps = by_step(boxes, standard_minutes(boxes, times, work_terms(campaign, terms_of(campaign))))
        places = {box.key: place for place, box in enumerate(boxes)}
        changed = []
        for task in tasks:
            if (place := places.get(str(task.housing_id))) is not None:
                standard = round(Decimal(float(steps[task.step][place])), 2)
                if task.standard_minutes != standard:
                    task.standard_minutes = standard
                    changed.append(task)
        Task.objects.bulk_update(changed, ["standard_minutes"], batch_size=BATCH)
        restated += len(changed)
    return restated
