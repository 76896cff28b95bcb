"""Scores and needs as the database works them out, beside the same from the core."""

import random
from itertools import product

import pytest
from django.utils import timezone

from housing.core.factors import FACTORS
from housing.core.need import HOUSING_OF_NEED, NEED_OF_HOUSING
from housing.core.priority import BANDS, score
from housing.models import HousedObject, Housing
from housing.queries.need import need_of, unhoused_rows
from housing.queries.objects import objects_with_status
from housing.queries.priority import (
    FIELDS,
    answers_of,
    in_band,
    places_of,
    reordered,
    score_of,
    scores_in,
    stake_of,
    with_score,
    worth_of_collection,
)
from objects.models import CatalogueObject
from tests.factories import make_campaign, make_design, make_housing, make_object

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
UNEVEN = {
    "housing": 2.3, "use": 0.7, "fragility": 1.9, "projecting_parts": 3, "condition": 0, "significance": 0.1,
    "hazards": 1.3,
}  # fmt: skip
OF_A_MODEL = {
    "housing": CatalogueObject.PresentHousing,
    "use": CatalogueObject.Use,
    "fragility": CatalogueObject.Fragility,
    "condition": CatalogueObject.Condition,
    "significance": CatalogueObject.Significance,
}


def every_combination() -> None:
    """Objects with each combination of the answers of a scale; what belongs to other scales is drawn."""
    chance = random.Random(1)
    values = {
        "present_housing": CatalogueObject.PresentHousing.values,
        "need_by_hand": ["", *CatalogueObject.Need.values],
        "is_housed": [False, True],
        "use": ["", *CatalogueObject.Use.values],
        "fragility": ["", *CatalogueObject.Fragility.values],
        "projecting_parts": ["", "Spout"],
        "surveyed_at": [None, timezone.now()],
        "condition": ["", *CatalogueObject.Condition.values],
        "significance": ["", *CatalogueObject.Significance.values],
        "hazards": ["", "sharp", "sharp; arsenic", "Radioactive paint", "smells odd"],
    }
    scales = [
        ("present_housing", "need_by_hand", "is_housed", "use"),
        ("fragility", "projecting_parts", "surveyed_at", "condition"),
        ("significance",),
        ("hazards",),
    ]
    things, housed = [], []
    for names in scales:
        for combination in product(*(values[name] for name in names)):
            drawn = {name: chance.choice(each) for name, each in values.items()}
            facts = {**drawn, **dict(zip(names, combination, strict=True))}
            if facts.pop("is_housed"):
                housed.append(len(things))
            number = f"{len(things):05d}"
            note = "Said" if facts["need_by_hand"] else ""
            things.append(
                CatalogueObject(number=number, number_key=number, name="Bowl", need_note=note, **facts)
            )
    stored = CatalogueObject.objects.bulk_create(things)
    box = make_housing(status="housed")
    HousedObject.objects.bulk_create(HousedObject(housing=box, object=stored[i]) for i in housed)


@pytest.mark.parametrize("weights", [{}, UNEVEN], ids=["published", "uneven"])
def test_the_database_comes_to_the_same_total_for_every_combination_of_answers(weights):
    every_combination()
    worth = worth_of_collection()

    different = [
        (thing.number, thing.score, expected)
        for thing in with_score(objects_with_status(), weights)
        for facts in [{name: getattr(thing, name) for name in FIELDS}]
        for expected in [score(answers_of(facts, thing.housing_status == "housed"), worth, weights).total]
        if thing.score != expected
    ]

    assert different == []
    assert CatalogueObject.objects.count() > 300  # 5 x 5 x 2 x 6 of the first scale alone


def test_the_database_and_the_core_tell_the_same_need():
    every_combination()

    things = objects_with_status().select_related("need_said_by")

    assert [t.number for t in things if t.housing_need != need_of(t).need] == []


def test_records_and_scores_know_the_same_answers():
    assert {key: set(choices.values) for key, choices in OF_A_MODEL.items()} == {
        key: set(FACTORS[key].points) for key in OF_A_MODEL
    }
    assert set(NEED_OF_HOUSING) == set(CatalogueObject.PresentHousing.values)
    assert set(HOUSING_OF_NEED) == set(CatalogueObject.Need.values)


def test_a_band_holds_the_objects_whose_score_falls_in_it():
    every_combination()
    scored = with_score(objects_with_status())

    held = {band: {thing.number for thing in in_band(scored, band)} for band, *_ in BANDS}

    assert held == {
        band: {
            thing.number
            for thing in scored
            if (least is None or thing.score >= least) and (below is None or thing.score < below)
        }
        for band, _, least, below in BANDS
    }


# ---- Status and need -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("facts", "need", "status"),
    [
        ({}, "unhoused", "unhoused"),
        ({"present_housing": "poor"}, "poor", "poorly_housed"),
        ({"present_housing": "good"}, "adequate", "housed_before"),
        ({"present_housing": "good", "need_by_hand": "poor", "need_note": "Damp"}, "poor", "poorly_housed"),
        ({"need_by_hand": "adequate", "need_note": "In a case"}, "adequate", "housed_before"),
        ({"need_by_hand": "not_needed", "need_note": "Anvil"}, "not_needed", "not_needed"),
    ],
)
def test_what_a_person_stated_decides_what_counts_as_unhoused(facts, need, status):
    make_object(**facts)

    assert list(objects_with_status().values_list("housing_need", "housing_status")) == [(need, status)]


def test_a_planned_box_leaves_the_need_and_a_housed_object_has_none():
    planned, housed = make_object(number="1", present_housing="poor"), make_object(number="2")
    make_housing(planned)
    make_housing(housed, status="housed")

    assert list(objects_with_status().values_list("number", "housing_need", "housing_status")) == [
        ("1", "poor", "planned"), ("2", "adequate", "housed"),
    ]  # fmt: skip


# ---- Order -----------------------------------------------------------------------------------------------


def test_the_class_comes_before_the_score_and_housed_objects_have_no_place():
    first = make_object(number="1", priority="A", fragility="robust")
    second = make_object(number="2", priority="B", fragility="very_delicate")
    third = make_object(number="3", priority="B", fragility="ordinary")
    done = make_object(number="4", priority="A")
    make_housing(done, status="housed")
    campaign = make_campaign(first, second, third, done)

    found = {
        thing.number: [(p.place, p.of) for p in places_of(thing, [campaign])]
        for thing in objects_with_status()
    }

    assert found == {"1": [(1, 3)], "2": [(2, 3)], "3": [(3, 3)], "4": []}
    assert [p.is_high for t in objects_with_status()[:3] for p in places_of(t, [])] == [True, True, False]


def test_weights_change_the_order_within_a_class_and_it_is_told_how():
    fragile = make_object(number="1", priority="B", fragility="very_delicate", use="never")
    used = make_object(number="2", priority="B", fragility="robust", use="weekly")
    last = make_object(number="3", priority="C", fragility="very_delicate", use="weekly")
    campaign = make_campaign(fragile, used, last)

    rows = reordered(campaign, {"fragility": 0}, limit=2)

    # By hand: with 1 each, B 4 and A 3 against B 2 and A 5, which is the same; both are first. Without
    # fragility only use counts: A 5 against A 3.
    assert [(row.pk, row.place, row.new_place, row.moves) for row in rows] == [
        (used.pk, 1, 1, 0), (fragile.pk, 1, 2, -1),
    ]  # fmt: skip


def test_scores_of_a_campaign_are_by_its_own_weights():
    thing = make_object(fragility="very_delicate")
    campaign = make_campaign(thing, weights={"fragility": 0})

    # By hand, alone in its collection: A 4 (none), B 3 instead of 4, C 5.
    assert scores_in(campaign) == {thing.pk: 1200}
    assert score_of(objects_with_status().get()).total == 1300


# ---- What is at stake ------------------------------------------------------------------------------------


def test_a_campaign_says_what_it_carries_and_what_good_housing_spares():
    unhoused = make_object(use="yearly", fragility="ordinary", condition="fair", significance="ordinary")
    make_object(
        present_housing="good", use="yearly", fragility="ordinary", condition="fair", significance="ordinary"
    )

    stake = stake_of(make_campaign(unhoused))

    # By hand: A 4 against 1.5 is 10^2.5 = 316 times the loss. It carries 316 / 317 = 99.7 % of all and
    # would carry 1 / 317 = 0.3 % once well housed: 99.4 % are spared.
    assert stake.percent == pytest.approx(99.7, abs=0.05)
    assert stake.spared_percent == pytest.approx(99.4, abs=0.05)
    assert (stake.objects, stake.incomplete) == (1, 1)  # nobody has looked whether anything projects


def test_an_empty_campaign_has_nothing_at_stake():
    stake = stake_of(make_campaign())

    assert (stake.percent, stake.spared_percent, stake.objects) == (0, 0, 0)


# ---- What is unhoused and where --------------------------------------------------------------------------


def test_rows_by_score_count_each_object_once():
    every_combination()

    rows = unhoused_rows("score")

    assert sum(row.objects for row in rows) == CatalogueObject.objects.count()
    assert sum(row.still for row in rows) == (
        objects_with_status().filter(housing_status__in=("unhoused", "poorly_housed")).count()
    )


def test_a_box_in_hand_is_counted_apart():
    for status in ("waiting", "planned", "in_work", "made", "housed", "dropped"):
        make_housing(make_object(), status=status, design=make_design())
    make_object(present_housing="poor", height_mm=None, surveyed_at=timezone.now())

    (row,) = unhoused_rows("priority")

    # By hand: four boxes in hand and one dropped leave five with no housing; one poor, one housed.
    assert (row.in_hand, row.unhoused, row.poorly_housed, row.still, row.objects) == (4, 5, 1, 6, 7)
    assert (row.not_surveyed, row.not_measured) == (5, 1)
    assert Housing.objects.filter(status="housed").count() == 1
