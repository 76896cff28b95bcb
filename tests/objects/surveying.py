"""Measuring at the shelf as tests need it: a bowl, objects without a size, and entries made now."""

from datetime import datetime, timedelta
from decimal import Decimal as D
from uuid import uuid4

from django.utils import timezone

from objects.models import CatalogueObject, SurveyEntry
from objects.services.survey import record_entry
from tests.factories import make_user

BOWL = (D(254), D("222.25"), D("180.975"))  # 10 x 8 3/4 x 7 1/8 in, at 25.4 mm to the inch
UNMEASURED = {"height_mm": None, "width_mm": None, "depth_mm": None}


def record(thing: CatalogueObject, *sides: D | None, **given) -> SurveyEntry:
    """An entry made now with a tape by Ann Lee, unless said otherwise."""
    return record_entry(
        **{
            "entry_id": uuid4(),
            "object": thing,
            "by": given.pop("by", None) or make_user("surveyor", first_name="Ann", last_name="Lee"),
            "measured_at": timezone.now(),
            "how": "tape",
            "sides_mm": (*sides, None, None, None)[:3],
            **given,
        }
    ).entry


def days_ago(days: int) -> datetime:
    return timezone.now() - timedelta(days=days)


def fresh(thing: CatalogueObject) -> CatalogueObject:
    return CatalogueObject.objects.get(pk=thing.pk)
