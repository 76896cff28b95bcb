"""The import pages: hand in, look, agree or put aside; and who may not."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from housing.intake.imports import LONG_LIST, stage_list
from housing.models import Job
from objects.models import CatalogueObject, ListImport
from tests.factories import make_campaign, make_design, make_user

pytestmark = pytest.mark.django_db
LIST = "Number,Name,Weight\n7.1,Bowl,1 kg\n7.2,Cup,heavy\n"


@pytest.fixture
def surveyor(client):
    client.force_login(make_user("surveyor"))
    return client


@pytest.fixture
def manager(client):
    client.force_login(make_user("manager"))
    return client


def stage(text: str = LIST, kind: str = "objects", **given) -> ListImport:
    return stage_list(kind=kind, file_name="list.csv", data=text.encode(), **given)


def hand_in(client, text: bytes, kind: str = "objects"):
    file = SimpleUploadedFile("list.csv", text)
    return client.post(reverse("housing:import-start"), {"file": file, "kind": kind, "unit": ""})


def page(client, listed: ListImport, name: str = "import-preview"):
    return client.get(reverse(f"housing:{name}", args=[listed.pk]))


def post(client, name: str, listed: ListImport, /, **values):
    return client.post(reverse(f"housing:{name}", args=[listed.pk]), values, follow=True)


def test_a_list_handed_in_is_shown_before_anything_is_saved(surveyor):
    answer = hand_in(surveyor, LIST.encode())

    listed = ListImport.objects.get()
    assert answer.url == reverse("housing:import-preview", args=[listed.pk])
    shown = surveyor.get(answer.url).content.decode()
    assert "Weight: “heavy” is not a weight." in shown
    assert "Save 1 row and leave 1 out" in shown
    assert not CatalogueObject.objects.exists()


def test_each_row_shows_the_size_that_was_read(surveyor):
    listed = stage("Object number,Name,Dimensions\n7.1,Bowl,25.4 x 50.8 x 76.2 cm\n7.2,Jug,\n")

    shown = " ".join(page(surveyor, listed).text.split())

    # by hand: 25.4 cm is 10 in
    assert '<td data-label="Name">Bowl</td>' in shown
    assert '<td data-label="Size" class="size">10 in × 20 in × 30 in</td>' in shown
    assert '<td data-label="Size" class="size">—</td>' in shown


def test_agreeing_saves_the_rows_that_were_not_refused(surveyor):
    listed = stage()

    answer = post(surveyor, "import-save", listed)

    assert [thing.number for thing in CatalogueObject.objects.all()] == ["7.1"]
    assert "“list.csv” is saved: 1 refused, 1 new." in answer.content.decode()
    assert "list.csv" in surveyor.get(reverse("housing:import-start")).content.decode()


def test_putting_aside_saves_nothing(surveyor):
    listed = stage()

    post(surveyor, "import-drop", listed)

    listed.refresh_from_db()
    assert (listed.state, CatalogueObject.objects.count()) == ("dropped", 0)
    assert "put aside" in page(surveyor, listed).content.decode()


def test_columns_matched_by_hand_are_read_again(surveyor):
    listed = stage("Ref,Name\n7.1,Bowl\n")
    assert "Choose the column for: Object number" in page(surveyor, listed).content.decode()

    answer = post(surveyor, "import-preview", listed, column_0="number", column_1="name", unit="cm")

    listed.refresh_from_db()
    assert (listed.columns, listed.unit) == ({"number": "Ref", "name": "Name"}, "cm")
    assert "Save all 1 row" in answer.content.decode()


def test_two_columns_cannot_mean_one_thing(surveyor):
    answer = post(
        surveyor, "import-preview", stage(), column_0="number", column_1="number", column_2="weight_g"
    )

    assert "“Number” is the Object number already. Choose another field." in answer.text


def test_problems_come_first_and_long_lists_come_in_pages(surveyor):
    rows = "".join(f"7.{n},Bowl,1 kg\n" for n in range(1, 251))
    shown = page(surveyor, stage(f"Number,Name,Weight\n{rows}8.1,Cup,heavy\n")).context["page"]

    assert (shown.object_list[0].key, len(shown.object_list), shown.paginator.num_pages) == ("8.1", 200, 2)


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"one column\nonly\n", b"\x00\x01"])
def test_a_file_that_is_no_list_gets_a_sentence_beside_the_field(surveyor, data):
    answer = hand_in(surveyor, data)

    assert list(answer.context["form"].errors) == ["file"]
    assert not ListImport.objects.exists()


def test_rules_ask_for_their_campaign(manager):
    make_design(name="Box")
    campaign = make_campaign()
    listed = stage("Position,Design\n1,Box\n", kind="rules")

    without = post(manager, "import-save", listed)
    post(manager, "import-save", listed, campaign=campaign.pk)

    assert "Choose the campaign whose rules these are." in without.content.decode()
    assert campaign.rules.count() == 1


def test_a_list_saved_already_says_so(surveyor):
    listed = stage()
    post(surveyor, "import-save", listed)

    assert "is already saved" in post(surveyor, "import-save", listed).content.decode()


def test_nobody_unknown_sees_the_page(client):
    answer = client.get(reverse("housing:import-start"))

    assert answer.url.startswith(reverse("login"))


@pytest.mark.parametrize("role", ["viewer", "maker", ""])
def test_other_roles_may_not_take_in_lists(client, role):
    client.force_login(make_user(role))

    assert client.get(reverse("housing:import-start")).status_code == 403


def test_a_surveyor_may_not_take_in_people(surveyor):
    listed = stage("Name,Hours per week\nAda Vole,3\n", kind="people")

    assert list(hand_in(surveyor, LIST.encode(), "people").context["form"].errors) == ["kind"]
    assert page(surveyor, listed).status_code == 403
    assert post(surveyor, "import-save", listed).status_code == 403


def test_a_list_that_is_not_there_is_not_found(surveyor):
    assert surveyor.get(reverse("housing:import-preview", args=[999])).status_code == 404


@pytest.mark.parametrize("rows", [1, 3])
def test_the_page_asks_the_database_as_often_for_one_row_as_for_three(
    surveyor, rows, django_assert_num_queries
):
    for _ in range(rows):
        stage(by=make_user("surveyor"))

    # session, user, roles, preferences, lists
    with django_assert_num_queries(5):
        surveyor.get(reverse("housing:import-start"))


def test_a_long_list_is_saved_in_the_background(surveyor, django_capture_on_commit_callbacks):
    rows = "".join(f"2020.{n},Button,1 x 2 x 2 cm\n" for n in range(1, LONG_LIST + 1))
    listed = stage_list(
        kind="objects", file_name="buttons.csv", data=f"Object number,Name,Dimensions\n{rows}".encode()
    )

    with django_capture_on_commit_callbacks(execute=True):
        answer = surveyor.post(reverse("housing:import-save", args=[listed.pk]))

    job = Job.objects.get()
    assert answer.url == reverse("housing:job-detail", args=[job.pk])
    assert (job.state, job.message) == ("done", "“buttons.csv” is saved.")
    assert CatalogueObject.objects.count() == LONG_LIST


def test_a_saved_list_still_says_which_rows_to_look_at_after_the_objects_were_changed(surveyor):
    listed = stage(
        "Number,Name,Dimensions,Weight\n7.1,Bowl,about 30 x 20 x 10 cm,\n7.2,Cup,,heavy\n7.3,Jug,,1 kg\n"
    )
    post(surveyor, "import-save", listed)
    CatalogueObject.objects.all().delete()

    shown = page(surveyor, listed)

    assert [(each.row.line, each.row.key, each.status_name) for each in shown.context["rows"]] == [
        (3, "7.2", "Refused"),
        (2, "7.1", "To be checked"),
        (4, "7.3", "New"),
    ]
    assert "Weight: “heavy” is not a weight." in shown.text
    assert f"{reverse('housing:object-list')}?size_state=check" in shown.text


def test_every_row_of_a_saved_list_is_told_page_by_page(surveyor):
    rows = "".join(f"8.{n},Cup,heavy\n" for n in range(1, 204))
    listed = stage(f"Number,Name,Weight\n7.1,Bowl,1 kg\n{rows}")
    post(surveyor, "import-save", listed)

    first = page(surveyor, listed)
    last = surveyor.get(first.request["PATH_INFO"], {"page": 2})

    # 203 refused rows come before the new one: 200 on the first page, 3 and that one on the second
    assert (len(first.context["rows"]), [each.status_name for each in last.context["rows"]]) == (
        200,
        ["Refused", "Refused", "Refused", "New"],
    )


def test_each_column_stands_beside_its_values_its_meaning_and_the_reason(surveyor):
    shown = page(surveyor, stage("Number,Name,Glaze\n7.1,Bowl,A\n7.2,Cup,B\n7.3,Jug,A\n"))

    columns = [
        (field.label, samples, field.initial, why)
        for field, why, samples in shown.context["columns_form"].column_fields()
    ]
    assert columns == [
        ("Number", ["7.1", "7.2", "7.3"], "number", "by name"),
        ("Name", ["Bowl", "Cup", "Jug"], "name", "by name"),
        ("Glaze", ["A", "B"], "", ""),
    ]
