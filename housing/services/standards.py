"""Standard times: entered for every design or for one; what equals the time it would replace is not kept."""

from django.db import transaction

from housing.core.labour.elements import SHIPPED, Element, Minutes
from housing.models import StandardTime
from housing.services.logged import restate_standard_minutes


def record_standard_time(*, time: StandardTime) -> StandardTime | None:
    """Keep a standard time. One with the minutes and the source of what holds without it is deleted.

    Returns what is stored, None where the time that holds without it is enough.
    """
    with transaction.atomic():
        if (time.to_core(), time.source) == holds_without(time):
            if time.pk:
                time.delete()
                restate_standard_minutes()
            return None
        time.save()
        restate_standard_minutes()
        return time


@transaction.atomic
def reset_standard_time(*, time: StandardTime) -> tuple[Minutes, str]:
    """Take a standard time back. Returns the minutes and the source that hold from now on."""
    rest = holds_without(time)
    time.delete()
    restate_standard_minutes()
    return rest


def holds_without(time: StandardTime) -> tuple[Minutes, str]:
    """Minutes and source that hold where a time is not entered: of every design, else as shipped."""
    everywhere = StandardTime.objects.filter(element=time.element, design=None).exclude(pk=time.pk)
    if time.design_id is not None and (found := everywhere.first()):
        return found.to_core(), found.source
    shipped = SHIPPED[Element(time.element)]
    return shipped.minutes, shipped.source
