"""The import pages: hand in, look, agree or put aside; and who may not."""

import csv
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from openpyxl import Workbook, load_workbook

from housing.intake.imports import LONG_LIST, stage_list
from housing.intake.saving import save_list
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

    post(surveyor, "import-drop", listed, confirmed="yes")

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


def test_a_list_that_waits_from_before_its_reading_was_kept_is_looked_at_again(surveyor):
    listed = stage()
    ListImport.objects.update(reading={}, columns={"number": "Number"}, read_at=None, counts={})

    shown = page(surveyor, listed)

    assert "The rows are not read yet." in shown.text
    assert list(shown.context["columns_form"].headings.values()) == ["Number", "Name", "Weight"]


# ---- Long lists -------------------------------------------------------------------------------------------


def long_list() -> bytes:
    rows = "".join(f"2020.{n},Button,1 x 2 x 2 cm\n" for n in range(1, LONG_LIST + 1))
    return f"Object number,Name,Dimensions\n{rows}".encode()


def test_a_long_list_is_read_in_the_background_and_then_shown(surveyor, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        answer = hand_in(surveyor, long_list())

    job, listed = Job.objects.get(), ListImport.objects.get()
    assert answer.url == reverse("housing:job-detail", args=[job.pk])
    assert (job.kind, job.state) == ("read", "done")
    assert job.result_url == reverse("housing:import-preview", args=[listed.pk])
    shown = page(surveyor, listed)
    assert f"Save all {LONG_LIST:,} rows" in shown.text
    # 200 of the new rows are kept to be shown
    assert (shown.context["page"].paginator.count, shown.context["not_kept"]) == (200, LONG_LIST - 200)


def test_while_a_list_is_worked_on_its_page_is_that_of_the_work(surveyor):
    hand_in(surveyor, long_list())
    listed, job = ListImport.objects.get(), Job.objects.get()

    answer = page(surveyor, listed)
    again = surveyor.post(reverse("housing:import-save", args=[listed.pk]))

    assert answer.url == again.url == reverse("housing:job-detail", args=[job.pk])
    assert Job.objects.count() == 1


def test_a_long_list_whose_reading_was_cancelled_can_be_read_again(
    surveyor, django_capture_on_commit_callbacks
):
    hand_in(surveyor, long_list())
    listed = ListImport.objects.get()
    Job.objects.update(state="cancelled")
    assert "The rows are not read yet." in page(surveyor, listed).text

    with django_capture_on_commit_callbacks(execute=True):
        surveyor.post(reverse("housing:import-read", args=[listed.pk]))

    assert f"Save all {LONG_LIST:,} rows" in page(surveyor, listed).text


def test_a_long_list_is_undone_in_the_background(surveyor, django_capture_on_commit_callbacks):
    listed = stage_list(kind="objects", file_name="buttons.csv", data=long_list())
    save_list(listed=listed)

    with django_capture_on_commit_callbacks(execute=True):
        surveyor.post(reverse("housing:import-undo", args=[listed.pk]), {"confirmed": "yes"})

    assert (Job.objects.get().message, CatalogueObject.objects.count()) == ("“buttons.csv” is undone.", 0)


# ---- The same file, other sheets, rows by status ----------------------------------------------------------


def test_a_file_handed_in_before_is_told(surveyor):
    first = stage()
    post(surveyor, "import-save", first)

    shown = page(surveyor, stage())

    assert shown.context["before"] == first
    assert "This very file was handed in before" in shown.text
    assert shown.context["counts"][-1] == ("unchanged", "Unchanged", 1)


def test_another_sheet_of_a_spreadsheet_is_read_with_its_own_columns(surveyor):
    book = Workbook()
    book.active.title = "Store 1"
    book.active.append(["Number", "Name"])
    book.active.append(["7.1", "Bowl"])
    other = book.create_sheet("Store 2")
    other.append(["Title", "Inventory number"])
    other.append(["Cup", "8.1"])
    kept = BytesIO()
    book.save(kept)
    listed = stage_list(kind="objects", file_name="stores.xlsx", data=kept.getvalue())

    shown = post(surveyor, "import-preview", listed, sheet="Store 2", column_0="number", unit="cm")

    listed.refresh_from_db()
    assert (listed.columns, listed.unit) == ({"name": "Title", "number": "Inventory number"}, "cm")
    assert [each.row.key for each in shown.context["rows"]] == ["8.1"]


def test_rows_can_be_shown_by_status(surveyor):
    listed = stage()

    shown = surveyor.get(reverse("housing:import-preview", args=[listed.pk]), {"status": "refused"})

    assert [each.row.key for each in shown.context["rows"]] == ["7.2"]


@pytest.mark.parametrize("rows", [1, 3])
def test_the_page_of_a_list_asks_the_database_as_often_for_one_row_as_for_three(
    surveyor, rows, django_assert_num_queries
):
    listed = stage("Number,Name\n" + "".join(f"7.{n},Bowl\n" for n in range(rows)))

    # session, user, roles, preferences, list, job, the same file before (2), rows counted and shown, rules
    with django_assert_num_queries(11):
        page(surveyor, listed)


# ---- The report, and undoing ------------------------------------------------------------------------------


@pytest.fixture
def saved_list():
    listed = stage()
    save_list(listed=listed)
    return listed


def test_the_report_is_taken_as_csv(surveyor, saved_list):
    answer = surveyor.get(reverse("housing:import-report-csv", args=[saved_list.pk]))

    lines = list(csv.reader(answer.getvalue().decode("utf-8-sig").splitlines()))
    assert answer["Content-Disposition"] == 'attachment; filename="list - report.csv"'
    assert [line[:3] for line in lines] == [
        ["Line", "Row", "Status"],
        ["2", "7.1", "New"],
        ["3", "7.2", "Refused"],
    ]


def test_the_report_is_taken_as_a_spreadsheet(surveyor, saved_list):
    answer = surveyor.get(reverse("housing:import-report-xlsx", args=[saved_list.pk]), {"status": "refused"})

    sheet = load_workbook(BytesIO(answer.content)).active
    assert [row[:3] for row in sheet.values] == [("Line", "Row", "Status"), (3, "7.2", "Refused")]


def test_a_report_too_long_for_a_spreadsheet_is_offered_as_csv(surveyor, saved_list, monkeypatch):
    monkeypatch.setattr("housing.views.imports.XLSX_ROWS", 1)

    answer = surveyor.get(reverse("housing:import-report-xlsx", args=[saved_list.pk]), follow=True)

    assert "A spreadsheet of more than 1 rows takes too long to write. Take it as CSV" in answer.text


def test_undoing_takes_the_objects_away(surveyor, saved_list):
    answer = post(surveyor, "import-undo", saved_list, confirmed="yes")

    assert "“list.csv” is undone: all is as it was before." in answer.text
    assert not CatalogueObject.objects.exists()


def test_what_stands_in_the_way_of_undoing_is_told_with_where_to_look(surveyor, saved_list):
    thing = CatalogueObject.objects.get()
    make_campaign(thing, name="Move")

    answer = post(surveyor, "import-undo", saved_list, confirmed="yes")

    assert answer.status_code == 409
    assert f'<a href="/objects/{thing.pk}/">7.1 Bowl</a>: it is in the campaign “Move”.' in answer.text
    assert CatalogueObject.objects.exists()


def test_a_list_that_waits_cannot_be_undone(surveyor):
    answer = post(surveyor, "import-undo", stage(), confirmed="yes")

    assert answer.status_code == 409


@pytest.mark.parametrize("name", ["import-read", "import-undo", "import-save", "import-drop"])
def test_what_changes_something_is_never_only_looked_up(surveyor, name):
    assert page(surveyor, stage(), name).status_code == 405


@pytest.mark.parametrize("name", ["import-report-csv", "import-report-xlsx", "import-preview"])
def test_a_viewer_sees_no_lists(client, saved_list, name):
    client.force_login(make_user("viewer"))

    assert page(client, saved_list, name).status_code == 403
