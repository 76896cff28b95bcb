"""Photos in prints: left out, with the print still made, where they cannot be shown."""

from io import BytesIO

import pytest
from django.core.files.base import ContentFile
from PIL import Image

from housing.printing.photos import photo_data_uri
from tests.factories import make_object

pytestmark = pytest.mark.django_db


@pytest.fixture
def jar(settings, tmp_path):
    """An object with a photo of 100 x 100 dots."""
    settings.MEDIA_ROOT = tmp_path
    kept = BytesIO()
    Image.new("RGB", (100, 100)).save(kept, "PNG")
    return make_object(photo=ContentFile(kept.getvalue(), "jar.png"))


def test_a_photo_is_written_into_the_page(jar):
    assert photo_data_uri(jar).startswith("data:image/jpeg;base64,")


def test_a_photo_with_more_dots_than_can_be_opened_safely_is_left_out(jar, monkeypatch):
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 100)  # Pillow refuses more than twice as many

    assert photo_data_uri(jar) == ""
