"""Printed pages as pictures, measured as a ruler would: where lines lie, what a code says."""

import subprocess
from pathlib import Path

import numpy as np
from PIL import Image

DOTS_AN_INCH = 300
MM = 25.4 / DOTS_AN_INCH  # of a dot
DARK = 128


def pictures(file: bytes, folder: Path) -> list[Image.Image]:
    """Each page of a PDF as a picture at 300 dots an inch; by poppler, which knows nothing of the planner."""
    (folder / "print.pdf").write_bytes(file)
    command = ["pdftoppm", "-r", str(DOTS_AN_INCH), "-gray", "-png", "print.pdf", "page"]
    subprocess.run(command, cwd=folder, check=True, timeout=120)
    return [Image.open(path).convert("L") for path in sorted(folder.glob("page-*.png"))]


def edges_mm(page: Image.Image, at_mm: float, along: str, least_mm: float) -> list[float]:
    """Where straight lines at least so long run across a strip of the page, mm from its left or upper edge.

    at_mm: where the strip begins; it is as wide as least_mm. along: "x" for upright lines, "y" for level.
    Lines closer than half a millimetre are one.
    """
    dark = np.asarray(page) < DARK
    strip = dark if along == "x" else dark.T
    first, last = round(at_mm / MM), round((at_mm + least_mm) / MM)
    found = np.flatnonzero(strip[first:last].mean(axis=0) > 0.95) * MM + MM / 2
    lines: list[list[float]] = []
    for place in found:
        if lines and place - lines[-1][-1] < 0.5:
            lines[-1].append(place)
        else:
            lines.append([place])
    return [sum(line) / len(line) for line in lines]
