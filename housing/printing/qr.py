"""QR codes as pictures of one pixel a module, which a page shows enlarged without blurring."""

import segno
from django.urls import reverse

from housing.models import Housing

MASK = 2  # the standard lets any mask be used; trying all eight takes five times as long
QUIET_MODULES = 4  # ISO/IEC 18004: quiet zone of a QR code; from memory


def qr_code(address: str) -> segno.QRCode:
    """The code of an address; about 15 % of it may be soiled (level M)."""
    return segno.make(address, error="m", mask=MASK, micro=False, boost_error=False)


def qr_data_uri(address: str) -> str:
    """The code as a PNG written into the page."""
    return qr_code(address).png_data_uri(scale=1, border=QUIET_MODULES)


def label_address(housing: Housing, base_url: str) -> str:
    """Where the code of a box's label leads: by the label's own code, else to the page of its first object.

    base_url: the site's address. Only a box that was never printed has no code.
    """
    if housing.code:
        path = reverse("housing:label-code", args=[housing.code])
    else:
        path = reverse("housing:object-detail", args=[housing.contents.all()[0].object_id])
    return base_url.rstrip("/") + path
