"""Photos that people hand in: made upright, small and free of what the camera noted, or refused."""

from io import BytesIO
from typing import BinaryIO

from django.core.files import File
from django.core.files.base import ContentFile
from PIL import Image, ImageOps

from objects.core.refusals import Refusal
from objects.core.words import say

PHOTO_SIDE_PX = 1600  # enough for a printed page; assumed
PHOTO_LIMIT_BYTES = 25 * 1024 * 1024
MOST_PIXELS = 60_000_000  # more than the cameras of phones give; unpacked it takes 180 MB; assumed
FORMATS = ("JPEG", "PNG", "WEBP", "GIF")


class PhotoRefused(Refusal):
    """A file is not a usable photo; the message is a sentence for the reader."""


def clean_photo(file: File | BinaryIO) -> ContentFile:
    """The photo upright, at most PHOTO_SIDE_PX long and without place, time or maker, as a JPEG.

    file: as uploaded. Raises PhotoRefused for what is too large, too many pixels, no picture or broken off.
    """
    file.seek(0, 2)
    if file.tell() > PHOTO_LIMIT_BYTES:
        raise PhotoRefused(say("The photo is larger than 25 MB. Make it smaller and choose it again."))
    file.seek(0)
    picture = _opened(file)
    if picture.width * picture.height > MOST_PIXELS:
        raise PhotoRefused(
            say(
                "The photo has more than {most_pixels} million pixels. Make it smaller and choose it again.",
                most_pixels=MOST_PIXELS // 1_000_000,
            )
        )
    profile = picture.info.get("icc_profile") if picture.mode == "RGB" else None
    try:
        picture.draft(
            "RGB", (2 * PHOTO_SIDE_PX, 2 * PHOTO_SIDE_PX)
        )  # a JPEG is unpacked no finer than needed
        upright = ImageOps.exif_transpose(picture).convert("RGB")
    except (OSError, SyntaxError, ValueError) as error:
        raise PhotoRefused(
            say("The photo breaks off before its end. Copy it from the camera again and choose it anew.")
        ) from error
    upright.thumbnail((PHOTO_SIDE_PX, PHOTO_SIDE_PX))
    upright.info.clear()  # else the camera's remark would be written again
    kept = BytesIO()
    upright.save(kept, "JPEG", quality=85, icc_profile=profile)
    return ContentFile(kept.getvalue(), name="photo.jpg")


def _opened(file: File | BinaryIO) -> Image.Image:
    """The picture, not unpacked yet."""
    try:
        return Image.open(file, formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PhotoRefused(
            say("The photo has far too many pixels. Make it smaller and choose it again.")
        ) from error
    except (OSError, SyntaxError, ValueError) as error:
        raise PhotoRefused(
            say("The file is no photo that can be read here. Choose a JPEG, PNG, WebP or GIF file.")
        ) from error
