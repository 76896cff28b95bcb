"""What boxes take of glue, labels, linings, filling and of what their forms ask for, worked by hand."""

from decimal import Decimal as D

import pytest

from housing.core.budget.facts import BoxFacts
from housing.core.budget.glue import GlueFigures
from housing.core.budget.lines import Section
from housing.core.budget.purchases import buy
from housing.core.budget.supplies import SupplyFacts, SupplyTerms, supply_needs
from housing.core.clearances import INCH

STICK = SupplyFacts("1", "Glue stick", "glue", "stick", grams_each=23.4, is_usual=True)
BULK = SupplyFacts("2", "Glue pellets", "glue", "kg", is_usual=True)
TAPE = SupplyFacts("3", "cotton tape", "tape", "m", is_usual=True)
LABEL = SupplyFacts("4", "Label", "label", "piece", is_usual=True)
FOAM = SupplyFacts("5", "20 mm foam", "foam", "m²")
IN_SHEETS = SupplyFacts("7", "pad", "other", "sheet")
TISSUE = SupplyFacts("6", "Tissue", "tissue", "m²", fills_litres=2.5, is_usual=True)


def box(key="1", **given) -> BoxFacts:
    return BoxFacts(key=key, form="lidded_tray", design="1", board="1", **given)


def needed(boxes, supplies, **terms) -> dict[str, D]:
    needs, _ = supply_needs(boxes, supplies, SupplyTerms(**{"labels_each": 0, **terms}))
    return {need.what: need.needed for need in needs}


def problems(boxes, supplies, **terms) -> list[str]:
    _, found = supply_needs(boxes, supplies, SupplyTerms(**{"labels_each": 0, **terms}))
    return [problem.what for problem in found]


def test_glue_is_reckoned_from_joints_and_beads_into_sticks_and_kilograms():
    # Base of a box of Davis, Tray and Box Construction, 1992: four joints of 11 in with two 3 mm beads each
    # are 88 in of bead, 2.235 m. Cylinder: pi/4 x 0.3² cm² x 223.5 cm x 0.95 g/cm3 = 15.0 g = 0.64 stick.
    tray = box(joint_m=4 * 11 * INCH / 1000)

    assert float(needed([tray], [STICK])["Glue stick"]) == pytest.approx(0.64, abs=0.005)
    assert float(needed([tray], [BULK])["Glue pellets"]) == pytest.approx(0.0150, abs=0.00005)


def test_twice_the_boxes_take_twice_the_glue():
    glue = GlueFigures(bead_mm=2, beads_per_joint=1)

    once = needed([box(joint_m=1.7)], [BULK], glue=glue)["Glue pellets"]
    twice = needed([box(joint_m=1.7), box("2", joint_m=1.7)], [BULK], glue=glue)["Glue pellets"]

    assert float(twice) == pytest.approx(2 * float(once), abs=2e-6)  # kept to a millionth


def test_without_glue_on_the_list_the_campaign_s_price_of_a_kilogram_holds():
    needs, found = supply_needs([box(joint_m=100)], [], SupplyTerms(labels_each=0, glue_price_kg=D("12.00")))
    (line,) = buy(needs, [], None).lines

    # 200 m of 3 mm bead at 6.715 g/m (pi/4 x 0.3² x 100 x 0.95) = 1,343 g
    assert (line.section, line.unit, line.quantity) == (Section.ADHESIVE, "kg", D("1.343"))
    assert line.amount == D("16.12")  # 1.343 x 12.00
    assert found == []


def test_labels_are_counted_by_the_box():
    assert needed([box(), box("2"), box("3")], [LABEL], labels_each=2) == {"Label": 6}


def test_lining_is_its_area_and_its_volume_is_told():
    boxes = [
        box(lining="20 mm foam", lining_m2=0.5, lining_mm=20),
        box("2", lining="20 mm foam", lining_m2=1),
    ]

    (need,), _ = supply_needs(boxes, [FOAM], SupplyTerms(labels_each=0))

    assert (need.section, need.needed) == (Section.PADDING, D("1.5"))
    assert "10.0 litres" in need.computed_from  # 0.5 m² x 20 mm = 10 litres; of the second no thickness


def test_a_lining_that_nobody_sells_is_reckoned_at_the_design_s_price():
    boxes = [box(lining="felt", lining_m2=2)]

    needs, _ = supply_needs(boxes, [], SupplyTerms(labels_each=0, lining_prices={"felt": D("6.50")}))

    assert [line.amount for line in buy(needs, [], None).lines] == [D("13.00")]  # 2 m² x 6.50


def test_the_gap_is_filled_by_what_a_unit_fills():
    # 30 litres, half of it filled, 2.5 litres a square metre: 15 / 2.5 = 6 m²
    boxes = [box(gap_litres=10), box("2", gap_litres=20)]

    assert needed(boxes, [TISSUE], gap_filled_share=0.5) == {"Tissue": 6}


def test_what_forms_ask_for_is_found_by_name_and_tape_else_by_the_usual_one():
    boxes = [
        box(supplies=(("cotton tape", 2, 0.9),)),
        box("2", supplies=(("flat cotton tape 12 mm wide", 1, 1.2),)),
    ]

    assert needed(boxes, [TAPE]) == {"cotton tape": D("3.0")}  # 2 x 0.9 + 1.2


@pytest.mark.parametrize(
    ("given", "supplies", "told"),
    [
        ({"supplies": (("foam pads", 1, 0.0),)}, [], "No supply is listed for foam pads"),
        ({"supplies": (("pad", 1, 0.0),)}, [SupplyFacts("7", "pad", "foam", "m²")], "pad is counted in m²"),
        ({"supplies": (("pad", 1, 0.4),)}, [IN_SHEETS], "pad is counted in sheet"),
        ({"lining": "pad", "lining_m2": 1}, [IN_SHEETS], "pad is counted in sheet"),
        ({"gap_litres": 5}, [], "No supply is listed for tissue or batting"),
        (
            {"gap_litres": 5},
            [SupplyFacts("7", "Wadding", "batting", "m²", is_usual=True)],
            "How many litres a m² of Wadding fills is not entered",
        ),
        (
            {"joint_m": 1},
            [SupplyFacts("7", "Stick", "glue", "stick", is_usual=True)],
            "How many grams a stick of Stick has is not entered",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_reckoned_is_named_and_makes_the_sum_incomplete(given, supplies, told):
    _, found = supply_needs([box(**given)], supplies, SupplyTerms(labels_each=0, gap_filled_share=0.5))

    assert [(one.what, one.makes_incomplete) for one in found] == [(told, True)]


def test_bought_boxes_take_no_glue():
    assert needed([box(joint_m=2, ready_made="5")], [STICK]) == {}
