"""Reads the files of machines back, apart from what wrote them: lengths, areas and lines by layer, in mm."""

import io
import math
import re
from itertools import pairwise
from xml.etree import ElementTree

import ezdxf
from ezdxf.document import Drawing
from ezdxf.math import bulge_to_arc

from housing.core.blank import Blank

SVG = "{http://www.w3.org/2000/svg}"


def read_dxf(text: str) -> Drawing:
    """The file as ezdxf reads it, which its own audit must find in order."""
    doc = ezdxf.read(io.StringIO(text))
    audit = doc.audit()
    assert not audit.errors and not audit.fixes, [error.message for error in audit.errors]
    return doc


def dxf_length(doc: Drawing, *layers: str) -> float:
    """How long all lines on some layers are together."""
    return sum(_entity_length(entity) for entity in doc.modelspace() if entity.dxf.layer in layers)


def _entity_length(entity) -> float:
    match entity.dxftype():
        case "LINE":
            return entity.dxf.start.distance(entity.dxf.end)
        case "CIRCLE":
            return 2 * math.pi * entity.dxf.radius
        case "LWPOLYLINE":
            rows = list(entity.get_points("xyb"))
            ends = pairwise([*rows, rows[0]] if entity.closed else rows)
            return sum(_piece((x, y), (to_x, to_y), bulge) for (x, y, bulge), (to_x, to_y, _) in ends)
        case _:
            return 0.0


def _piece(start, end, bulge: float) -> float:
    if not bulge:
        return math.dist(start, end)
    _, from_angle, to_angle, radius = bulge_to_arc(start, end, bulge)
    return radius * ((to_angle - from_angle) % math.tau)


def closed_runs(doc: Drawing, layer: str) -> list[list[tuple[float, float]]]:
    """Corners of each closed polyline on a layer; arcs in it by many points."""
    runs = []
    for entity in doc.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'):
        if entity.closed:
            points = []
            rows = list(entity.get_points("xyb"))
            for (x, y, bulge), (to_x, to_y, _) in pairwise([*rows, rows[0]]):
                points.append((x, y))
                if bulge:
                    centre, from_angle, to_angle, radius = bulge_to_arc((x, y), (to_x, to_y), bulge)
                    sweep = (to_angle - from_angle) % math.tau
                    turns = [from_angle + sweep * i / 200 for i in range(1, 200)]
                    arc = [(centre.x + radius * math.cos(a), centre.y + radius * math.sin(a)) for a in turns]
                    points += arc if bulge > 0 else arc[::-1]
            runs.append(points)
    return runs


def straight_lines(doc: Drawing, *layers: str) -> list[tuple[float, float, float, float]]:
    """Ends of all straight lines on some layers, those of polylines one by one."""
    found = []
    for entity in doc.modelspace():
        if entity.dxf.layer not in layers:
            continue
        if entity.dxftype() == "LINE":
            found.append((*entity.dxf.start.vec2, *entity.dxf.end.vec2))
        elif entity.dxftype() == "LWPOLYLINE":
            rows = list(entity.get_points("xyb"))
            ends = pairwise([*rows, rows[0]] if entity.closed else rows)
            found += [(x, y, to_x, to_y) for (x, y, bulge), (to_x, to_y, _) in ends if not bulge]
    return found


def doubled(lines: list[tuple[float, float, float, float]], within: float = 0.005) -> list[tuple]:
    """Pairs of upright or of level lines that lie on each other for more than a hundredth of a mm."""
    for upright in (True, False):
        at, low, high = (0, 1, 3) if upright else (1, 0, 2)
        alike = sorted(
            (line[at], min(line[low], line[high]), max(line[low], line[high]), line)
            for line in lines
            if abs(line[at] - line[at + 2]) < within
        )
        pairs = [
            (a[3], b[3])
            for i, a in enumerate(alike)
            for b in alike[i + 1 : i + 60]
            if b[0] - a[0] < within and min(a[2], b[2]) - max(a[1], b[1]) > 0.01
        ]
        if pairs:
            return pairs
    return []


def rim_of_waste(blank: Blank) -> float:
    """How much of the edge of the blank's rectangle is that of what falls off."""
    near_zero = 1e-6
    return sum(
        w.height_mm * ((w.x_mm < near_zero) + (w.x_mm + w.width_mm > blank.x_mm - near_zero))
        + w.width_mm * ((w.y_mm < near_zero) + (w.y_mm + w.height_mm > blank.y_mm - near_zero))
        for w in blank.waste
    )


def open_sides(blank: Blank) -> float:
    """The sides of openings that lie on the rim, where nothing is left to cut."""
    return sum(
        o.height_mm if o.open_edge in ("left", "right") else o.width_mm
        for o in blank.openings
        if o.open_edge and o.shape in ("notch", "rectangle")
    )


def svg_length(root: ElementTree.Element, *layers: str) -> float:
    """How long the lines of some groups are together, arcs by the radius written and their ends."""
    groups = [group for group in root.iter(f"{SVG}g") if group.get("id") in layers]
    circles = sum(2 * math.pi * float(c.get("r")) for group in groups for c in group.iter(f"{SVG}circle"))
    return circles + sum(_path_length(p.get("d")) for group in groups for p in group.iter(f"{SVG}path"))


def _path_length(d: str) -> float:
    total, first, at = 0.0, (0.0, 0.0), (0.0, 0.0)
    for letter, rest in re.findall(r"([MLAZ])([^MLAZ]*)", d):
        numbers = [float(number) for number in rest.split()]
        if letter == "M":
            first = at = (numbers[0], numbers[1])
            continue
        to = first if letter == "Z" else (numbers[-2], numbers[-1])
        chord = math.dist(at, to)
        if letter == "A":
            assert numbers[3] == 0  # no arc here is more than a half circle
            total += 2 * numbers[0] * math.asin(min(1.0, chord / (2 * numbers[0])))
        else:
            total += chord
        at = to
    return total
