"""Stating the need of objects: who says it, why, and taking it back."""

import pytest

from housing.services.need import state_need, state_needs
from objects.models import CatalogueObject, NeedStatement
from objects.services.need import NeedRefused
from tests.factories import make_housing, make_object, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def test_a_stated_need_keeps_why_who_and_when_and_raises_the_version():
    thing, by = make_object(), make_user("surveyor")

    stated = state_need(thing=thing, need="not_needed", note="  Cast iron. ", by=by)

    assert (stated.need_by_hand, stated.need_note, stated.need_said_by) == ("not_needed", "Cast iron.", by)
    assert stated.need_said_at is not None
    assert stated.version == 2


def test_a_need_taken_back_leaves_its_trail():
    thing, by = make_object(), make_user("surveyor")
    state_need(thing=thing, need="not_needed", note="Cast iron.", by=by)

    stated = state_need(thing=thing, need="", note="The handle is wood.", by=by)

    assert (stated.need_by_hand, stated.need_note, stated.need_said_by, stated.need_said_at) == (
        "", "", None, None,
    )  # fmt: skip
    assert list(NeedStatement.objects.values_list("need", "note", "by")) == [
        ("", "The handle is wood.", by.pk), ("not_needed", "Cast iron.", by.pk),
    ]  # fmt: skip


def test_stating_a_need_does_not_put_a_plan_out_of_date():
    thing = make_object()

    state_need(thing=thing, need="poor", note="Damp.")

    assert CatalogueObject.objects.get().changed_at == thing.changed_at


def test_where_nothing_was_said_nothing_is_taken_back():
    assert state_needs(objects=CatalogueObject.objects.filter(pk=make_object().pk), need="") == 0
    assert not NeedStatement.objects.exists()


def test_several_objects_get_one_need_with_one_note():
    things = [make_object() for _ in range(3)]

    number = state_needs(
        objects=CatalogueObject.objects.filter(pk__in=[t.pk for t in things[:2]]), need="poor", note="Damp."
    )

    assert number == 2
    assert [t.need_by_hand for t in CatalogueObject.objects.order_by("pk")] == ["poor", "poor", ""]


@pytest.mark.parametrize(
    ("need", "note", "sentence"),
    [
        ("poor", "  ", "Say in a few words why the need is stated over what the present housing says."),
        ("lost", "Why", "“lost” is no housing need. Choose one of the list."),
    ],
)
def test_a_need_without_a_reason_or_a_meaning_is_refused(need, note, sentence):
    thing = make_object()

    with pytest.raises(NeedRefused) as refused:
        state_need(thing=thing, need=need, note=note)

    assert str(refused.value) == sentence
    assert CatalogueObject.objects.get().need_by_hand == ""


def test_objects_in_their_boxes_are_refused_and_none_of_the_others_is_changed():
    make_object(number="1")
    for number in ("2", "3"):
        box = make_housing(make_object(number=number), status="housed")

    with pytest.raises(NeedRefused) as refused:
        state_needs(objects=CatalogueObject.objects.all(), need="poor", note="Damp.")

    first = f"Box {box.pk - 1:04d}"
    assert str(refused.value) == (
        f"2 and 1 other lie in a box made for it. Nothing is stored. If {first} is no good, drop it on the "
        "object's page first; then the object counts as unhoused again."
    )
    assert not CatalogueObject.objects.exclude(need_by_hand="").exists()
