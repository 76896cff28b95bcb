"""The curve of cost against the number of sizes."""

from xml.etree import ElementTree

from housing.core.drawing.curve_chart import curve_svg

POINTS = [(1, 900.0), (2, 600.0), (3, 550.0)]


def test_the_curve_falls_as_its_values_do():
    drawn = ElementTree.fromstring(curve_svg("Cost", POINTS, "USD"))

    line = next(part for part in drawn.iter() if part.tag.endswith("polyline"))
    places = [tuple(map(float, place.split(","))) for place in line.attrib["points"].split()]
    assert [x for x, _ in places] == sorted(x for x, _ in places)
    # y counts downward: 900, 600 and 550 fall by 300 and 50 of 350
    (_, top), (_, middle), (_, bottom) = places
    assert round((middle - top) / (bottom - top), 2) == round(300 / 350, 2)


def test_the_values_are_told_in_words():
    drawn = curve_svg("Cost < 1 & more", POINTS, "USD")

    told = ElementTree.fromstring(drawn).findtext("{http://www.w3.org/2000/svg}desc")
    assert told == "1: 900 USD; 2: 600 USD; 3: 550 USD"


def test_no_points_no_drawing():
    assert curve_svg("Cost", [], "USD") == ""


def test_one_point_is_drawn_too():
    assert ElementTree.fromstring(curve_svg("Cost", [(1, 5.0)], "USD")) is not None
