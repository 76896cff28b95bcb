"""Photos from the camera: nothing is kept of where and when they were taken, and bombs are refused."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image

from objects.services.photos import MOST_PIXELS, PhotoRefused, clean_photo

# Exif 2.32: 0x8825 points to the position; 1 to 4 are north or south, latitude, east or west, longitude.
# 0x010F is the maker of the camera, 0x0132 the time, 0x0112 how it was held (6: turn it by 90 degrees).
POSITION, MAKER, TIME, HELD = 0x8825, 0x010F, 0x0132, 0x0112
SOMEWHERE = {1: "N", 2: (52.0, 5.0, 30.0), 3: "E", 4: (4.0, 45.0, 15.0)}
REMARK = b"taken in the strongroom"


def from_a_camera(size=(800, 400)) -> BytesIO:
    exif = Image.Exif()
    exif[MAKER], exif[TIME], exif[HELD] = "A camera", "2026:03:05 10:00:00", 6
    exif.get_ifd(POSITION).update(SOMEWHERE)
    kept = BytesIO()
    Image.effect_noise(size, 40).convert("RGB").save(kept, "JPEG", exif=exif, comment=REMARK)
    return kept


def test_a_photo_as_the_camera_writes_it_says_where_it_was_taken():
    """So that the test below can fail."""
    with Image.open(from_a_camera()) as photo:
        assert dict(photo.getexif().get_ifd(POSITION))[1] == "N"
        assert photo.info["comment"] == REMARK


def test_a_kept_photo_says_nothing_of_place_time_and_camera():
    kept = clean_photo(from_a_camera())

    with Image.open(kept) as photo:
        assert dict(photo.getexif()) == {}
        assert dict(photo.getexif().get_ifd(POSITION)) == {}
        assert "comment" not in photo.info
    kept.seek(0)
    assert b"Exif" not in kept.read()


def test_a_kept_photo_stands_upright_and_is_a_jpeg():
    with Image.open(clean_photo(from_a_camera((800, 400)))) as photo:
        assert (photo.size, photo.format) == ((400, 800), "JPEG")  # turned by 90 degrees, as it was held


def test_a_large_photo_is_made_smaller():
    with Image.open(clean_photo(from_a_camera((4000, 2000)))) as photo:
        assert photo.size == (800, 1600)  # turned, and its longest side 1600 px


def png_that_claims(width: int, height: int) -> BytesIO:
    """A PNG of a few bytes whose head says how large it unpacks. Source: PNG specification, chunks."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return BytesIO(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b""))


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (png_that_claims(8000, MOST_PIXELS // 8000 + 1), "more than 60 million pixels"),
        (png_that_claims(12_000, 10_000), "pixels"),
        (png_that_claims(60_000, 60_000), "far too many pixels"),
        (BytesIO(b"<script>"), "no photo that can be read here"),
        (BytesIO(b""), "no photo that can be read here"),
        (BytesIO(b"%!PS-Adobe-3.0 EPSF-3.0\n"), "no photo that can be read here"),  # a program, not a picture
        (BytesIO(from_a_camera().getvalue()[:5000]), "breaks off"),
        (BytesIO(bytes(26 * 1024 * 1024)), "larger than 25 MB"),
    ],
)
def test_what_is_no_usable_photo_is_refused_with_a_reason(file, said):
    with pytest.raises(PhotoRefused, match=said):
        clean_photo(file)
