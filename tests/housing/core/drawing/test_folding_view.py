"""The nested panels turned as a browser turns them, against the folded parts."""

import math

import numpy as np
import pytest

from housing.core.drawing.folding_view import folding_view
from housing.core.enclosures.seating import turn_of
from tests.housing.core.drawing.forms import FORMS, one_of

# How a browser turns things by 90 degrees, y downward (CSS Transforms, rotateX and rotateY): a panel at the
# right or the far edge turns by -90 degrees, at the left or the near one by +90.
HINGES = {"left": ("y", 90), "right": ("y", -90), "near": ("x", 90), "far": ("x", -90)}


def turned(axis: str, degrees: float) -> np.ndarray:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    rows = {
        "x": [[1, 0, 0], [0, c, -s], [0, s, c]],
        "y": [[c, 0, s], [0, 1, 0], [-s, 0, c]],
        "z": [[c, -s, 0], [s, c, 0], [0, 0, 1]],
    }[axis]
    matrix = np.eye(4)
    matrix[:3, :3] = rows
    return matrix


def moved(x: float, y: float, z: float) -> np.ndarray:
    matrix = np.eye(4)
    matrix[:3, 3] = x, y, z
    return matrix


def boxes_of(part, share_folded: float) -> dict[str, tuple[float, ...]]:
    """The box around each panel's board in the picture, by name, when every fold is turned so far."""
    found = {}

    def visit(panel, frame):
        frame = frame @ moved(panel.left, panel.top, 0)
        if panel.edge:
            axis, degrees = HINGES[panel.edge]
            origin = {
                "left": (panel.width, panel.height / 2), "right": (0, panel.height / 2),
                "near": (panel.width / 2, 0), "far": (panel.width / 2, panel.height),
            }[panel.edge]  # fmt: skip
            hinge = moved(*origin, -part.depth)
            frame = frame @ hinge @ turned(axis, degrees * share_folded) @ np.linalg.inv(hinge)
        corners = [
            frame @ [x, y, z, 1]
            for x in (0, panel.width) for y in (0, panel.height) for z in (0, -part.thick)
        ]  # fmt: skip
        low, high = np.min(corners, axis=0)[:3], np.max(corners, axis=0)[:3]
        found[panel.name] = (*low, *high)
        for child in panel.panels:
            visit(child, frame)

    to_place = moved(part.left + part.to_x, part.top + part.to_y, part.to_z)
    visit(part.floor, to_place @ turned("z", part.turn_z) @ turned("x", part.turn_x))
    return found


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("share", [0, 0.5, 1])
def test_closed_panels_lie_where_the_folded_plates_do(form, share):
    enclosure = one_of(form, 3.0, share)
    view = folding_view(enclosure.parts, share)
    first = view.parts[0]

    for part, shown in zip(enclosure.parts, view.parts, strict=True):
        drawn = boxes_of(shown, 1)
        place = turn_of(part, enclosure.parts[0])
        for plate in part.folded.plates:
            if place is None:
                x0, y0, z0, x1, y1, z1 = plate.bounds
                left, top = shown.left, shown.top
            else:
                x0, y0, z0, x1, y1, z1 = place.of(plate.bounds)
                left, top = first.left, first.top
            assert drawn[plate.name] == pytest.approx((left + x0, top - y1, z0, left + x1, top - y0, z1))


@pytest.mark.parametrize("form", FORMS)
def test_flat_panels_lie_as_on_their_blank(form):
    enclosure = one_of(form)
    view = folding_view(enclosure.parts, 0.5)

    for part, shown in zip(enclosure.parts, view.parts, strict=True):
        floor = part.blank.panels[0]

        def place(panel, x, y, found):
            found[panel.name] = (x + panel.left, y + panel.top, panel.width, panel.height)
            for child in panel.panels:
                place(child, x + panel.left, y + panel.top, found)
            return found

        drawn = place(shown.floor, 0, 0, {})
        assert drawn == {
            panel.name: pytest.approx(
                (
                    panel.x_mm - floor.x_mm, floor.y_mm - panel.y_mm - panel.height_mm,
                    panel.width_mm, panel.height_mm,
                )
            )
            for panel in part.blank.panels
        }  # fmt: skip


@pytest.mark.parametrize("form", FORMS)
def test_blanks_lie_apart_within_the_square_that_is_shown(form):
    enclosure = one_of(form)
    view = folding_view(enclosure.parts, 0.5)
    rectangles = []
    for part, shown in zip(enclosure.parts, view.parts, strict=True):
        floor, blank = part.blank.panels[0], part.blank
        left, bottom = shown.left - floor.x_mm, shown.top + floor.y_mm
        rectangles.append((left, bottom - blank.y_mm, left + blank.x_mm, bottom))

    for number, a in enumerate(rectangles):
        for b in rectangles[:number]:
            assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
    for x0, y0, x1, y1 in rectangles:
        for x, y in ((x0, y0), (x1, y1)):
            assert math.dist((x, y), view.middle[:2]) <= view.across / 2 + 1e-6


@pytest.mark.parametrize(
    ("form", "steps"),
    [
        (
            "lidded_tray",
            ["left wall and right wall folded up", "near wall and far wall folded up", "flaps folded up",
             "lid put on"],
        ),
        ("folder", ["gusset folded up", "front folded up"]),
        ("divided_tray",
         ["left wall and right wall folded up", "near wall and far wall folded up", "flaps folded up",
          "dividers put in"]),
        ("rolled_tube", []),  # nothing folds and nothing has a place to go to
    ],
)  # fmt: skip
def test_steps_follow_the_stages_then_the_seats(form, steps):
    assert list(folding_view(one_of(form).parts, 0.5).steps) == steps


def test_openings_are_holes_in_the_face_of_their_panel():
    # By hand: a window 40 mm within a lid of 318.7 x 238.7 mm clear inside (312 and 232 around the walls of a
    # tray of 300 x 220 mm, and 2 x 3.175 of clearance each way).
    [_, lid] = folding_view(one_of("lidded_tray", window_margin=40).parts, 0.5).parts

    around, window = lid.floor.face.split("M")[1:]

    assert around.startswith("0 0H")
    corners = [tuple(map(float, point.split())) for point in window.rstrip("Z").split(" L")]
    wide, high = 312 + 2 * 3.175 - 80, 226 + 2 * 3.175 - 80
    assert max(x for x, _ in corners) - min(x for x, _ in corners) == pytest.approx(wide, abs=0.01)
    assert max(y for _, y in corners) - min(y for _, y in corners) == pytest.approx(high, abs=0.01)


def test_board_shows_its_thickness_at_cut_edges_only():
    [tray] = folding_view(one_of("tray").parts, 0.5).parts

    assert tray.floor.rims == ()
    assert {panel.name: panel.rims for panel in tray.floor.panels}["left wall"] == ("near", "far", "left")
