"""QR codes as pictures of one pixel a module, which a page shows enlarged without blurring."""

import segno
from django.urls import reverse

from housing.models import Housing

MASK = 2  # the standard lets any mask be used; trying all eight takes five times as long
QUIET_MODULES = 4  # ISO/IEC 18004: quiet zone of a QR code; from memory
STORE = "q"  # about 25 % of a code may be soiled or scratched: labels stay in the store for years
PAPER = "m"  # about 15 %, for what is printed again soon


def qr_code(address: str, level: str = PAPER) -> segno.QRCode:
    """The code of an address. level: STORE or PAPER, how much of it may be soiled."""
    return segno.make(address, error=level, mask=MASK, micro=False, boost_error=False)


def qr_data_uri(address: str, level: str = PAPER) -> str:
    """The code as a PNG written into the page."""
    return qr_picture(qr_code(address, level))


def qr_picture(code: segno.QRCode) -> str:
    """A code as a PNG written into the page, one pixel a module, with its quiet zone."""
    return code.png_data_uri(scale=1, border=QUIET_MODULES)


def modules_of(code: segno.QRCode) -> int:
    """How many modules a code has along a side, with its quiet zone."""
    return code.symbol_size(border=QUIET_MODULES)[0]


def label_address(housing: Housing, base_url: str) -> str:
    """Where the code of a box's label leads: by the label's own code, else to the page of its first object.

    base_url: the site's address. Only a box that was never printed has no code. In capitals where nothing in
    the address tells capitals from small letters, since a code of digits and capitals needs fewer modules.
    """
    site = base_url.rstrip("/")
    if not housing.code:
        return site + reverse("housing:object-detail", args=[housing.contents.all()[0].object_id])
    path = reverse("housing:label-code-scanned", args=[housing.code])
    if path == path.upper() and site.count("/") == 2:  # host and scheme alone: neither knows capitals
        return site.upper() + path
    return site + path
