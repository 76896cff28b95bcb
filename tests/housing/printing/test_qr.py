"""QR codes read against the library that knows the standard."""

import segno

from housing.printing.qr import qr_code, qr_data_uri


def test_the_code_is_that_of_the_address():
    address = "https://planner.example/objects/117/"

    # segno.make, the reference here, follows ISO/IEC 18004; the standard allows any mask
    expected = segno.make(address, error="m", mask=2, micro=False, boost_error=False)
    assert qr_code(address).matrix == expected.matrix
    assert qr_data_uri(address).startswith("data:image/png;base64,")
