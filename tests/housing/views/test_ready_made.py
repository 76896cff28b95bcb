"""The price list of ready-made boxes: entered, changed, taken in as a list, and what keeps a box off it."""

from decimal import Decimal

import pytest
from django.urls import reverse

from boards.models import Supplier
from housing.intake.saving import save_list, stage_list
from housing.models import ReadyMadeBox
from objects.intake import IntakeRefused

LIST = reverse("housing:ready-made-list")
NEW = reverse("housing:ready-made-new")
TYPED = {
    "name": "Cube 10", "inner_x_mm": "10 in", "inner_y_mm": "10 in", "inner_z_mm": "10 in", "pack": "5",
    "price": "52.50",
}  # fmt: skip

pytestmark = pytest.mark.django_db


def make_box(**given) -> ReadyMadeBox:
    return ReadyMadeBox.objects.create(
        **{"name": "Cube", "inner_x_mm": 254, "inner_y_mm": 254, "inner_z_mm": 254, "price": 10, **given}
    )


def test_a_box_is_entered_with_what_one_of_its_pack_costs(manager):
    manager.post(NEW, TYPED)

    box = ReadyMadeBox.objects.get()
    assert (box.inner_x_mm, box.price, box.pack) == (Decimal("254"), Decimal("52.50"), 5)
    assert "10.50" in manager.get(LIST).content.decode()  # 52.50 / 5


def test_a_box_is_changed_and_taken_off_the_list(manager):
    box = make_box()

    manager.post(reverse("housing:ready-made-edit", args=[box.pk]), {**TYPED, "name": "Cube 11"})
    assert ReadyMadeBox.objects.get().name == "Cube 11"

    manager.post(reverse("housing:ready-made-delete", args=[box.pk]), {"confirmed": "yes"})
    assert not ReadyMadeBox.objects.exists()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"price": None}, "No price"),
        ({"price": 0}, "No price"),
        ({"withdrawn_on": "2020-05-01"}, "No longer sold since 01 May 2020"),
        ({"priced_on": "2999-01-01"}, "The price holds only from 01 January 2999"),
    ],
)
def test_the_list_says_what_keeps_a_box_from_being_bought(viewer, given, told):
    make_box(**given)

    assert told in viewer.get(LIST).content.decode()


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"inner_x_mm": ""}, "This field is required"),
        ({"inner_z_mm": "0"}, "Enter more than 0"),
        ({"pack": "0"}, "Enter 1 to 10,000"),
        ({"price": "-1"}, "Enter 0 or more"),
    ],
)
def test_a_form_that_cannot_be_so_is_refused_and_nothing_is_stored(manager, typed, told):
    page = manager.post(NEW, {**TYPED, **typed}).content.decode()

    assert told in page
    assert not ReadyMadeBox.objects.exists()


def test_a_viewer_sees_the_list_and_changes_nothing(viewer):
    box = make_box()

    assert viewer.get(LIST).status_code == 200
    assert viewer.post(NEW, TYPED).status_code == 403
    assert viewer.post(reverse("housing:ready-made-delete", args=[box.pk])).status_code == 403


@pytest.mark.parametrize("rows", [1, 3])
def test_the_list_page_asks_the_database_as_often_for_many_as_for_one(
    viewer, rows, django_assert_max_num_queries
):
    for n in range(rows):
        make_box(name=f"Cube {n}", supplier=Supplier.objects.create(name=f"Mill {n}"))

    with django_assert_max_num_queries(6):
        viewer.get(LIST)


# ---- As a list -------------------------------------------------------------------------------------------

HEADINGS = "Name,Supplier,Width inside,Depth inside,Height inside,Pack,Price per pack,Price holds from\n"


def taken_in(*rows: str):
    data = (HEADINGS + "\n".join(rows)).encode()
    listed = stage_list(kind="ready_made", file_name="prices.csv", data=data)
    return listed, save_list(listed=listed)


def test_a_price_list_is_taken_in_with_a_supplier_not_known_yet():
    taken_in("Flat box,Millrace,12 1/4 in,9 1/4 in,3 in,10,81.00,2026-06-15")

    box = ReadyMadeBox.objects.get()
    # 12 1/4 x 25.4 = 311.15, 9 1/4 x 25.4 = 234.95, 3 x 25.4 = 76.2
    assert (box.inner_x_mm, box.inner_y_mm, box.inner_z_mm) == (
        Decimal("311.15"), Decimal("234.95"), Decimal("76.2"),
    )  # fmt: skip
    assert (box.supplier.name, box.price, str(box.priced_on)) == ("Millrace", Decimal("81.00"), "2026-06-15")


def test_a_row_of_a_box_on_the_list_changes_its_price_and_leaves_the_rest():
    make_box(name="Flat box", pack=10)

    _, counts = taken_in("flat box,,,,,,90.00,", "Other box,,4 in,4 in,4 in,,,")

    assert ReadyMadeBox.objects.get(name="Flat box").price == Decimal("90.00")
    assert ReadyMadeBox.objects.get(name="Flat box").pack == 10
    assert counts["changed"] == 1


def test_rows_that_cannot_be_read_say_why_and_nothing_is_half_saved():
    with pytest.raises(IntakeRefused):
        taken_in("Flat box,New Mill,12 in,wide,3 in,0,-4,next week", "Lone box,New Mill,,,,,,")

    assert not ReadyMadeBox.objects.exists()
    assert not Supplier.objects.exists()
