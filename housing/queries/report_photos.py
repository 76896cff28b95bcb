"""Before and after: photos of objects that were housed in a period."""

from dataclasses import dataclass

from housing.models import Campaign, HousedObject, HousedPhoto
from housing.queries.periods import Period
from housing.queries.report_counts import housed_in
from objects.models import CatalogueObject

MOST = 12


@dataclass(frozen=True)
class PhotoPair:
    """An object before it was housed, and its box after."""

    thing: CatalogueObject
    box: str
    after: HousedPhoto


@dataclass(frozen=True)
class PhotoPairs:
    """Pairs that are shown. left_out: further pairs; without: objects housed of which a photo is missing."""

    shown: tuple[PhotoPair, ...]
    left_out: int
    without: int


def photos_of(period: Period, campaign: Campaign | None = None) -> PhotoPairs:
    """Objects housed in a period with a photo of before and one of after, by number; the first are shown."""
    housed = housed_in(period)
    last: dict[int, HousedPhoto] = {}
    for photo in HousedPhoto.objects.order_by("at", "pk"):
        last[photo.housing_id] = photo
    ties = HousedObject.objects.filter(is_live=True, housing__events__status="housed").distinct()
    if campaign:
        ties = ties.filter(housing__campaign=campaign)
    told = ties.order_by("object__number", "pk").values_list("pk", "housing", "object__photo")
    those = [(pk, box, bool(photo) and box in last) for pk, box, photo in told if box in housed]
    paired = [pk for pk, _, is_pair in those if is_pair]
    chosen = HousedObject.objects.filter(pk__in=paired[:MOST]).select_related("object", "housing")
    pairs = [
        PhotoPair(tie.object, tie.housing.box_number, last[tie.housing_id])
        for tie in chosen.order_by("object__number", "pk")
    ]
    return PhotoPairs(tuple(pairs), len(paired) - len(pairs), len(those) - len(paired))
