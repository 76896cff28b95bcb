"""How wide words run, against the tables of the fonts themselves."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from housing.core.type_widths import em_width
from tests.examples import few

FONTS = Path(__file__).resolve().parents[3] / "housing/static/vendor/dejavu-sans-2.37"
LETTERS = st.characters(min_codepoint=0x20, max_codepoint=0x17F, exclude_categories=["Cc", "Cf"])


@pytest.fixture(scope="module", params=[False, True], ids=["regular", "bold"])
def face(request):
    """Whether it is the bold face, the advance widths of its signs, and its units an em."""
    font = TTFont(FONTS / f"dejavu-sans-{'bold' if request.param else 'regular'}.woff")
    signs = font.getBestCmap()
    return (
        request.param,
        {chr(at): font["hmtx"][name][0] for at, name in signs.items()},
        font["head"].unitsPerEm,
    )


@few(300)
@given(words=st.text(LETTERS, max_size=40))
def test_no_words_run_wider_than_is_told(face, words):
    bold, advances, units = face

    assert em_width(words, bold) >= sum(advances[sign] for sign in words) / units - 1e-9


def test_common_words_run_hardly_narrower_than_is_told(face):
    bold, advances, units = face
    words = "1990.7.1 Lidded jar, Bay 2 / Shelf 4"

    exact = sum(advances[sign] for sign in words) / units

    assert em_width(words, bold) <= 1.02 * exact
