"""A second opinion: a tiny reader of plain labelled texts, written apart from the grammar, agrees with it."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.dimensions import CHECK, READ, read_dimensions

# 1 in = 25.4 mm, exactly (international inch)
MM = {"mm": "1", "cm": "10", "in": "25.4"}
PLAIN_SIDE = re.compile(r"(H|W|D|Height|Width|Depth)[ :]+(\d+)(?:\.(\d+))? ?(mm|cm|in)", re.IGNORECASE)


def second_opinion(text: str) -> dict[str, Decimal]:
    """Sides in mm by the first letter of their label, from texts such as H 20 cm; W 15 cm."""
    return {
        label[0].upper(): Decimal(f"{whole}.{part or 0}") * Decimal(MM[unit.lower()])
        for label, whole, part, unit in PLAIN_SIDE.findall(text)
    }


@st.composite
def plain_texts(draw: st.DrawFn) -> str:
    parts = []
    for labels in draw(st.permutations([("H", "height"), ("W", "Width"), ("D", "depth")])):
        figure = draw(st.integers(3, 900) | st.decimals(3, 900, places=1) | st.decimals(3, 90, places=2))
        label, gap, unit = (
            draw(st.sampled_from(choices))
            for choices in (labels, (" ", ": "), ("mm", " mm", "cm", " CM", " in"))
        )
        parts.append(f"{label}{gap}{figure}{unit}")
    return draw(st.sampled_from(["; ", ", ", " x ", " "])).join(parts)


@given(plain_texts())
def test_both_readers_agree_on_plain_labelled_texts(text):
    reading = read_dimensions(text)

    expected = second_opinion(text)
    if max(expected.values()) <= 20_000:
        assert dict(zip("HWD", reading.dimensions.sides, strict=True)) == expected
        systems = {"in" if "in" in part else "metric" for part in re.findall(r"mm|cm|in", text.lower())}
        assert reading.status == (READ if len(systems) == 1 else CHECK)


@pytest.mark.parametrize(
    "text", ["H 20 cm; W 15 cm; D 10 cm", "Height: 7.9 in x Width: 5.9 in x Depth: 3 in"]
)
def test_the_second_opinion_reads_at_all(text):
    assert sorted(second_opinion(text)) == ["D", "H", "W"]
