"""Campaigns of box blanks in any size, made up by a recipe, in the format of fixtures/nesting."""

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

Part = dict[str, Any]

TRIM_MM, KERF_MM, CALIPER_MM = 5, 1, 3
SHEET_A = {"id": "A", "w": 1524, "h": 1016, "cost": 1400, "stock": None}
# Two more sizes, and the share of the blank area, counted in sheets A, that their stock comes to.
LIMITED = (
    ({"id": "B", "w": 1016, "h": 813, "cost": 640}, 0.25),
    ({"id": "C", "w": 2438, "h": 1219, "cost": 2500}, 0.15),
)
LEAST_STOCK = 2
SHARED_SPREAD, OWN_SPREAD = 0.8, 0.6  # how alike the three sides of one object are
BASE_CORNER_LESS_MM, LID_CORNER_LESS_MM = 25, 20


@dataclass(frozen=True)
class Family:
    """Objects of one kind: sizes are log-normal about the medians; lengths in mm."""

    share: float
    medians_mm: tuple[int, int, int]  # length, width, height
    sigma: float
    clearance_mm: int
    grain_fixed_chance: float
    greatest_lip_mm: int


FAMILIES = (
    Family(0.35, (60, 45, 30), 0.45, 8, 0.15, 25),  # small finds
    Family(0.25, (170, 150, 160), 0.40, 20, 0.35, 50),  # vessels
    Family(0.20, (260, 190, 35), 0.30, 4, 0.70, 30),  # books
    Family(0.10, (420, 320, 20), 0.35, 12, 0.50, 25),  # flat works
    Family(0.10, (430, 310, 220), 0.35, 25, 0.60, 60),  # large objects
)


def make_campaign(objects: int, seed: int, sizes: int = 1) -> dict[str, Any]:
    """A base blank and a lid blank for each of so many objects, on 1 or on 3 sheet sizes.

    The same objects and seed give the same blanks with either number of sizes.
    """
    chance = random.Random(f"campaign-{objects}-{seed}")
    parts = [part for number in range(objects) for part in draw_object(chance, number)]
    return {
        "name": f"campaign-{objects}-s{seed}-{sizes}sheet",
        "unit": "mm",
        "kerf": KERF_MM,
        "trim": TRIM_MM,
        "guillotine": True,
        "sheets": [dict(SHEET_A), *(limited_sheets(parts) if sizes == 3 else ())],
        "parts": parts,
        "format": "nest-instance/1",
    }


def draw_object(chance: random.Random, number: int) -> list[Part]:
    """Base and lid of one object, drawn again until both fit a sheet A."""
    while True:
        (family,) = chance.choices(FAMILIES, [family.share for family in FAMILIES])
        shared = chance.gauss(0, 1)
        sides = [
            median * math.exp(family.sigma * (SHARED_SPREAD * shared + OWN_SPREAD * chance.gauss(0, 1)))
            for median in family.medians_mm
        ]
        may_turn = int(chance.random() >= family.grain_fixed_chance)
        parts = blanks_of(family, *sides, number=number, may_turn=may_turn)
        if all(fits_sheet_a(part) for part in parts):
            return parts


def blanks_of(
    family: Family, length: float, width: float, height: float, *, number: int, may_turn: int
) -> list[Part]:
    """The base blank and the lid blank round an object."""
    across_w = round(length + 2 * family.clearance_mm)
    across_d = round(width + 2 * family.clearance_mm)
    tall = round(height + family.clearance_mm)
    lip = min(tall, family.greatest_lip_mm)
    base = 2 * tall + 2 * CALIPER_MM
    lid = 2 + 2 * lip + 4 * CALIPER_MM
    return [
        {
            "id": f"{letter}{number}",
            "w": across_w + more,
            "h": across_d + more,
            "rot": may_turn,
            "corner": [wall, wall - min(less, wall // 2)],
        }
        for letter, more, wall, less in (
            ("b", base, tall, BASE_CORNER_LESS_MM),
            ("l", lid, lip, LID_CORNER_LESS_MM),
        )
    ]


def fits_sheet_a(part: Part) -> bool:
    """Whether a blank fits a sheet A less its trim in a way in which it may lie."""
    w, h = SHEET_A["w"] - 2 * TRIM_MM, SHEET_A["h"] - 2 * TRIM_MM
    return (part["w"] <= w and part["h"] <= h) or bool(part["rot"] and part["h"] <= w and part["w"] <= h)


def limited_sheets(parts: list[Part]) -> Iterator[dict[str, Any]]:
    """The two sizes of which there are only some."""
    in_sheets_a = sum(part["w"] * part["h"] for part in parts) / (SHEET_A["w"] * SHEET_A["h"])
    for sheet, share in LIMITED:
        yield {**sheet, "stock": max(LEAST_STOCK, round(share * in_sheets_a))}
