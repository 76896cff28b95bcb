"""QR codes read against the library that knows the standard, and the addresses that they carry."""

import pytest
import segno

from housing.core.label_codes import check_sign
from housing.printing.qr import STORE, label_address, modules_of, qr_code, qr_data_uri
from tests.housing.printing.boxes import make_box


@pytest.mark.parametrize("level", ["m", STORE])
def test_the_code_is_that_of_the_address(level):
    address = "https://planner.example/objects/117/"

    # segno.make, the reference here, follows ISO/IEC 18004; the standard allows any mask
    expected = segno.make(address, error=level, mask=2, micro=False, boost_error=False)
    assert qr_code(address, level).matrix == expected.matrix
    assert qr_data_uri(address).startswith("data:image/png;base64,")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("site", "address"),
    [
        ("http://192.168.1.20:8000/", "HTTP://192.168.1.20:8000/Q/CB1YP0345"),
        ("https://planner.example/", "HTTPS://PLANNER.EXAMPLE/Q/CB1YP0345"),
        # a site in a folder of another: whether its name knows capitals is not known
        ("https://museum.example/store/", "https://museum.example/store/Q/CB1YP0345"),
    ],
)
def test_the_address_of_a_label_is_in_capitals_where_it_leads_to_the_same(site, address):
    box = make_box()
    box.code = "CB1YP0345"

    assert label_address(box, site) == address


def test_an_address_in_capitals_needs_a_coarser_code():
    # ISO/IEC 18004, table of capacities, from memory: at level Q version 3 (29 modules) holds 47 digits and
    # capitals but 32 bytes; 36 signs in small letters need version 4 (33 modules). Quiet zone 4 on each side.
    address = "HTTP://192.168.1.20:8000/Q/CB1YP0345"

    assert modules_of(qr_code(address, STORE)) == 29 + 8
    assert modules_of(qr_code(address.lower(), STORE)) == 33 + 8


@pytest.mark.django_db
def test_what_a_label_carries_leads_to_the_object(viewer):
    box = make_box()
    box.code = "CB1YP034" + check_sign("CB1YP034")
    box.save()

    answer = viewer.get(label_address(box, "http://testserver/").removeprefix("HTTP://TESTSERVER"))

    assert answer.url == f"/objects/{box.contents.get().object_id}/"
