"""The colours of the pages: contrast of every pair that is read together, by daylight and in the dark.

Source: WCAG 2.2, success criteria 1.4.3 (words, 4.5 : 1) and 1.4.11 (edges and marks, 3 : 1), with its
definitions of contrast ratio and relative luminance.
"""

import re
from pathlib import Path

import pytest
from django.conf import settings

TOKENS = Path(settings.BASE_DIR) / "housing/static/housing/tokens.css"
DAYLIGHT, DARK = TOKENS.read_text("utf-8").split("@media (prefers-color-scheme: dark)")

WORDS = [
    *[
        (ink, ground)
        for ink in ("ink", "ink-soft", "accent", "accent-strong")
        for ground in ("ground", "surface", "sunken")
    ],
    ("accent", "accent-wash"),
    ("ink", "accent-wash"),
    ("on-accent", "accent"),
    ("on-accent", "accent-strong"),
    ("side-ink", "side"),
    ("side-ink", "side-raised"),
    ("side-soft", "side"),
    *[(f"{name}-ink", f"{name}-wash") for name in ("housed", "in-work", "planned", "unhoused", "stop")],
    ("ink", "in-work-wash"),
    ("ink", "stop-wash"),
    ("accent", "in-work-wash"),
    ("accent", "stop-wash"),
    ("stop-ink", "surface"),
    ("stop-ink", "ground"),
]
MARKS = [
    *[
        (mark, ground)
        for mark in ("line-strong", "focus", "unhoused-edge")
        for ground in ("ground", "surface", "sunken")
    ],
    ("side-mark", "side"),
    ("side-mark", "side-raised"),
    ("housed", "surface"),
]
FURTHER_AND_FURTHER = ("unhoused", "poorly-housed", "waiting", "planned", "in-work", "made", "housed")


def colours(scheme: str) -> dict[str, str]:
    found = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", DAYLIGHT))
    return found if scheme == "daylight" else found | dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", DARK))


def luminance(colour: str) -> float:
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (red, green, blue))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_computed_as_published():
    # WCAG 2.2: the ratio runs from 1 to 21. That #767676 on white is 4.54, just enough: from memory.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#123456", "#123456") == 1
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("scheme", ["daylight", "dark"])
def test_words_stand_out_from_their_ground(scheme):
    tokens = colours(scheme)

    faint = [(a, b) for a, b in WORDS if contrast(tokens[a], tokens[b]) < 4.5]

    assert faint == []


@pytest.mark.parametrize("scheme", ["daylight", "dark"])
def test_edges_and_marks_stand_out_from_their_ground(scheme):
    tokens = colours(scheme)

    faint = [(a, b) for a, b in MARKS if contrast(tokens[a], tokens[b]) < 3]

    assert faint == []


@pytest.mark.parametrize(("scheme", "sign"), [("daylight", -1), ("dark", 1)])
def test_the_further_an_object_is_the_more_it_stands_out_so_that_a_grey_print_tells_the_same(scheme, sign):
    tokens = colours(scheme)

    lightness = [sign * luminance(tokens[name]) for name in FURTHER_AND_FURTHER]

    assert lightness == sorted(lightness)
    assert len(set(lightness)) == len(lightness)
