"""The folding view in a real browser: by keyboard, by its buttons, and its measures when closed."""

from contextvars import copy_context
from decimal import Decimal

import pytest
from django.contrib.staticfiles import finders
from playwright.sync_api import Page, Route, expect

from housing.services.housings import design_enclosure
from tests.factories import make_board, make_design, make_user
from tests.housing.printing.boxes import make_box

pytestmark = pytest.mark.django_db
FLAT = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]
# The transform of an element without and about its origin, as 16 numbers by columns.
MATRIX = """name => {
  const style = getComputedStyle(document.querySelector(`[data-panel="${name}"]`)).transform;
  return Array.from(new DOMMatrix(style).toFloat64Array(), (n) => Math.round(n * 1e6) / 1e6 + 0);
}"""
# Seen straight from above, so that one px is as long along the table as across it.
FROM_ABOVE = """() => {
  const figure = document.querySelector("[data-folding]");
  for (const name of ["--tilt", "--turn"]) figure.style.setProperty(name, 0);
}"""
SIDES = """name => {
  const box = document.querySelector(`[data-panel="${name}"] > .inner`).getBoundingClientRect();
  return [box.width, box.height];
}"""


SITE = "http://localhost"  # an origin that browsers trust without a certificate


@pytest.fixture
def design(db):
    return make_design(board=make_board(caliper_mm=Decimal("3")), drawn="compensated")


@pytest.fixture
def viewer(page: Page, client) -> Page:
    """A browser that the site answers with all its headers; an error in its console fails the test."""
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    client.force_login(make_user("viewer"))
    here = (
        copy_context()
    )  # the browser calls from another one, and would get a database connection of its own

    def answer(route: Route) -> None:
        address = route.request.url.removeprefix(SITE)
        if address.startswith("/static/"):
            route.fulfill(path=finders.find(address.removeprefix("/static/").partition("?")[0]))
            return
        sent = {name: value for name, value in route.request.headers.items() if name.startswith("hx-")}
        given = here.run(client.get, address, headers=sent)
        route.fulfill(status=given.status_code, headers=dict(given.items()), body=given.content)

    page.set_default_timeout(8000)
    page.route(f"{SITE}/**", answer)
    yield page
    assert errors == []


def slider(page: Page):
    return page.get_by_label("From flat to closed")


def rotated(x: int = 0, y: int = 0) -> list[float]:
    """A turn by 90 degrees about x or y, the sign telling which way (CSS Transforms, rotateX and rotateY)."""
    if x:
        return [1, 0, 0, 0, 0, 0, x, 0, 0, -x, 0, 0, 0, 0, 0, 1]
    return [0, 0, -y, 0, 0, 1, 0, 0, y, 0, 0, 0, 0, 0, 0, 1]


def test_keyboard_folds_walls_from_flat_to_a_right_angle(viewer: Page, design):
    viewer.goto(f"{SITE}/designs/{design.pk}/")
    slider(viewer).focus()
    assert viewer.evaluate(MATRIX, "left wall") == FLAT

    viewer.keyboard.press("ArrowRight")

    turn = viewer.evaluate(MATRIX, "left wall")
    assert turn[0] == pytest.approx(0.996917, abs=1e-5)  # the cosine of 4.5 degrees, a twentieth of 90

    viewer.keyboard.press("End")

    assert viewer.evaluate(MATRIX, "left wall") == pytest.approx(rotated(y=1), abs=1e-6)
    assert viewer.evaluate(MATRIX, "right wall") == pytest.approx(rotated(y=-1), abs=1e-6)
    assert viewer.evaluate(MATRIX, "near wall") == pytest.approx(rotated(x=1), abs=1e-6)
    assert viewer.evaluate(MATRIX, "far wall") == pytest.approx(rotated(x=-1), abs=1e-6)

    viewer.keyboard.press("Home")

    assert viewer.evaluate(MATRIX, "far wall") == FLAT


def test_slider_says_what_is_folded(viewer: Page, design):
    viewer.goto(f"{SITE}/designs/{design.pk}/")
    said = []

    for press in ("Home", "PageUp", "End"):
        slider(viewer).press(press)
        said.append(slider(viewer).get_attribute("aria-valuetext"))

    assert said[0] == "flat"
    assert said[1].endswith("of step 1 of 4") and said[1].startswith("Left wall and right wall folded up")
    assert said[2] == "closed"


def test_buttons_fold_one_step_after_the_other(viewer: Page, design):
    viewer.emulate_media(reduced_motion="reduce")
    viewer.goto(f"{SITE}/designs/{design.pk}/")
    fold_next = viewer.get_by_role("button", name="Fold next")

    fold_next.click()

    assert viewer.evaluate(MATRIX, "left wall") == pytest.approx(rotated(y=1), abs=1e-6)
    assert viewer.evaluate(MATRIX, "near wall") == FLAT
    expect(viewer.locator(".fold-steps [aria-current]")).to_have_text("Left wall and right wall folded up")

    fold_next.click()

    assert viewer.evaluate(MATRIX, "near wall") == pytest.approx(rotated(x=1), abs=1e-6)
    viewer.get_by_role("button", name="Flat", exact=True).click()
    assert viewer.evaluate(MATRIX, "near wall") == FLAT


def test_closed_panels_measure_what_the_folded_parts_do(viewer: Page, design):
    thing = make_box(design=design)
    enclosure = design_enclosure(design=design, contents=[thing.contents.get().object])
    viewer.goto(f"{SITE}/objects/{thing.contents.get().object_id}/")
    slider(viewer).press("End")
    viewer.evaluate(FROM_ABOVE)
    plates = {plate.name: plate.bounds for plate in enclosure.parts[0].folded.plates}
    x0, y0, _, x1, y1, _ = plates["floor"]

    floor = viewer.evaluate(SIDES, "floor")
    px_per_mm = floor[0] / (x1 - x0)

    assert floor[1] == pytest.approx((y1 - y0) * px_per_mm, abs=1)
    for wall in ("left wall", "right wall", "near wall", "far wall"):
        x0, y0, _, x1, y1, _ = plates[wall]
        wide, deep = viewer.evaluate(SIDES, wall)
        if "left" in wall or "right" in wall:
            assert (wide, deep) == pytest.approx((0, (y1 - y0) * px_per_mm), abs=1.5)
        else:
            assert (wide, deep) == pytest.approx(((x1 - x0) * px_per_mm, 0), abs=1.5)


def test_figure_swapped_in_stays_folded_as_it_was(viewer: Page, design):
    viewer.goto(f"{SITE}/designs/{design.pk}/")
    slider(viewer).press("End")
    before = viewer.locator("[data-folding]").get_attribute("data-set")

    viewer.get_by_label("Height", exact=False).first.fill("30 in")

    expect(viewer.locator("[data-folding]")).not_to_have_attribute("data-set", before)
    assert slider(viewer).get_attribute("aria-valuetext") == "closed"
    assert viewer.evaluate(MATRIX, "left wall") == pytest.approx(rotated(y=1), abs=1e-6)


def test_view_fits_a_phone(viewer: Page, design):
    viewer.set_viewport_size({"width": 390, "height": 780})
    viewer.goto(f"{SITE}/designs/{design.pk}/")

    stage = viewer.locator(".fold-stage").bounding_box()

    assert stage["x"] >= 0 and stage["x"] + stage["width"] <= 390
    for control in (slider(viewer), viewer.get_by_label("Turn the view")):
        box = control.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= 390
