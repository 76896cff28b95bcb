"""What the code of a label leads to, for whoever scans it."""

import pytest
from django.urls import reverse

from housing.core.label_codes import check_sign
from housing.models import Housing
from housing.services.housings import move_housing
from housing.services.label_codes import give_codes
from tests.factories import make_housing, make_object, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def viewer(client):
    client.force_login(make_user())
    return client


def code_of(housing: Housing) -> str:
    give_codes(boxes=[housing.pk])
    housing.refresh_from_db()
    return housing.code


def test_it_opens_the_page_of_the_object(viewer):
    thing = make_object()
    housing = make_housing(thing)

    answer = viewer.get(reverse("housing:label-code", args=[code_of(housing)]))

    assert answer.url == reverse("housing:object-detail", args=[thing.pk])


def test_it_lists_the_objects_of_a_box_with_several(viewer):
    things = [make_object(), make_object()]

    page = viewer.get(reverse("housing:label-code", args=[code_of(make_housing(*things))])).content.decode()

    assert [reverse("housing:object-detail", args=[thing.pk]) in page for thing in things] == [True, True]


def test_whoever_is_not_signed_in_signs_in_first_and_gets_there(client):
    address = reverse("housing:label-code", args=[code_of(make_housing())])

    answer = client.get(address)

    assert answer.status_code == 302
    assert answer.url == f"{reverse('login')}?next={address}"


def test_a_misread_code_is_told_so(viewer):
    code = code_of(make_housing())
    wrong = code[:-1] + next(sign for sign in "23" if sign != code[-1])

    answer = viewer.get(reverse("housing:label-code", args=[wrong]))

    assert answer.status_code == 404
    assert "is not the code of a label" in answer.content.decode()


def test_a_code_of_other_records_is_told_so(viewer):
    body = next(body for body in ("7GH2K9PM", "7GH2K9PN", "7GH2K9PQ") if check_sign(body) not in "ILOU")

    answer = viewer.get(reverse("housing:label-code", args=[body + check_sign(body)]))

    assert answer.status_code == 404
    assert "No box in these records has the code" in answer.content.decode()


def test_an_old_label_says_which_box_the_object_has_now(viewer):
    thing = make_object()
    old = make_housing(thing)
    code = code_of(old)
    move_housing(housing=old, status="dropped", by=make_user("maker", username="tovi"), note="Too short")
    new = make_housing(thing)

    answer = viewer.get(reverse("housing:label-code", args=[code]))

    page = answer.content.decode()
    assert answer.status_code == 410
    assert f"{old} was dropped on" in page
    assert "by tovi" in page
    assert "Too short" in page
    assert f"Its object has now {new}" in page


def test_a_code_can_be_typed_where_no_camera_reads_it(viewer):
    thing = make_object()
    code = code_of(make_housing(thing))

    empty = viewer.get(reverse("housing:label-code-typed"))
    typed = viewer.get(
        reverse("housing:label-code-typed"), {"code": f"{code[:3]} {code[3:6]}-{code[6:]}".lower()}
    )

    assert empty.status_code == 200
    assert typed.url == reverse("housing:object-detail", args=[thing.pk])


def test_a_box_keeps_its_code_when_it_is_printed_again(viewer):
    first, second = make_housing(), make_housing()
    code = code_of(first)

    given = give_codes(boxes=[first.pk, second.pk])

    assert given == 1
    assert Housing.objects.get(pk=first.pk).code == code
    assert Housing.objects.get(pk=second.pk).code not in (None, code)


def test_the_code_of_a_cut_sheet_opens_the_box_at_the_bench_with_its_version(viewer):
    housing = make_housing()

    answer = viewer.get(f"/Q/{code_of(housing)}/QN1S")

    assert answer.url == f"{reverse('housing:bench-box', args=[housing.pk])}?v=QN1S"


def test_the_cut_sheet_of_a_dropped_box_is_told_so(viewer):
    housing = make_housing()
    code = code_of(housing)
    move_housing(housing=housing, status=Housing.Status.DROPPED)

    assert viewer.get(f"/Q/{code}/QN1S").status_code == 410


def test_a_misread_code_of_a_cut_sheet_is_told_so(viewer):
    assert viewer.get("/Q/NONSENSE/QN1S").status_code == 404
