"""Object photos for a printed page: small, and written into the page, so that a big print stays small."""

from base64 import b64encode
from io import BytesIO

from PIL import Image, UnidentifiedImageError

from housing.models import HousedPhoto
from objects.models import CatalogueObject

SIDE_MM = 34.0
DOTS_MM = 300 / 25.4  # 300 dots an inch


def photo_data_uri(thing: CatalogueObject | HousedPhoto, side_mm: float = SIDE_MM) -> str:
    """The photo as a small JPEG; nothing if there is none or its file cannot be read.

    side_mm: its longer side on paper.
    """
    side_px = round(side_mm * DOTS_MM)
    if not thing.photo:
        return ""
    small = BytesIO()
    try:
        with thing.photo.open("rb") as file, Image.open(file) as picture:
            picture.draft("RGB", (side_px, side_px))
            shown = picture.convert("RGB")
            shown.thumbnail((side_px, side_px))
            shown.save(small, "JPEG", quality=80)
    except (OSError, UnidentifiedImageError, Image.DecompressionBombError):
        return ""
    return f"data:image/jpeg;base64,{b64encode(small.getvalue()).decode()}"
