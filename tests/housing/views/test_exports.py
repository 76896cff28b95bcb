"""Taking the catalogue out: the page, the file at once, and a big one in the background."""

import io

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from housing.models import Job
from housing.services.jobs import run_job
from housing.views import exports
from objects.core.lists import read_list
from objects.models import ListImport
from tests.factories import make_object, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def reader(client):
    client.force_login(make_user())
    return client


@pytest.fixture
def few_at_once(monkeypatch):
    """As if two objects were many."""
    monkeypatch.setattr(exports, "AT_ONCE", 1)


def content(answer) -> bytes:
    return b"".join(answer.streaming_content)


def rows(data: bytes) -> list[dict[str, str]]:
    read = read_list(data)
    return [dict(zip(read.header, cells, strict=True)) for cells in read.rows]


def test_the_page_tells_how_much_is_taken_out(reader):
    make_object(name="Bowl")
    make_object(name="Hat")

    whole = reader.get("/export/").content.decode()
    part = reader.get("/export/", {"q": "hat", "status": "", "page": "2"}).content.decode()

    assert "The whole catalogue: 2 objects." in whole
    assert (
        "1 object of the object list&#x27;s filter." in part
        or "1 object of the object list's filter." in part
    )
    assert '<input type="hidden" name="q" value="hat">' in part
    assert 'name="status"' not in part and 'name="page"' not in part


def test_everybody_signed_in_gets_the_file_at_once(reader):
    make_object(number="1995.10", name="Bowl")

    answer = reader.get("/export/file/", {"as_format": "csv", "as_headings": "own", "as_mark": "on"})

    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"].startswith('attachment; filename="objects-')
    data = content(answer)
    assert data.startswith(b"\xef\xbb\xbf")
    assert [row["Object number"] for row in rows(data)] == ["1995.10"]


def test_a_file_without_the_mark_begins_with_its_headings(reader):
    make_object()

    data = content(reader.get("/export/file/", {"as_format": "tsv", "as_headings": "own"}))

    assert data.startswith(b"Object number\tName\t")


@pytest.mark.parametrize("kind, first", [("xlsx", b"PK\x03\x04"), ("xml", b"<?xml")])
def test_spreadsheets_and_records_are_given_too(reader, kind, first):
    make_object()

    assert content(reader.get("/export/file/", {"as_format": kind, "as_headings": "own"})).startswith(first)


def test_the_filter_in_the_address_holds_for_the_file(reader):
    make_object(number="1", name="Bowl")
    make_object(number="2", name="Hat")

    answer = reader.get("/export/file/", {"as_format": "csv", "as_headings": "own", "q": "hat"})

    assert [row["Object number"] for row in rows(content(answer))] == ["2"]


def test_the_list_saved_last_lends_its_headings(reader):
    make_object(number="7")
    ListImport.objects.create(
        kind="objects", state="saved", file_name="ours.csv", data=b"", columns={"number": "Inv. no."}
    )

    assert "Of the list saved last, ours.csv" in reader.get("/export/").content.decode()
    answer = reader.get("/export/file/", {"as_format": "csv", "as_headings": "latest"})
    assert [row["Inv. no."] for row in rows(content(answer))] == ["7"]


def test_a_long_list_is_asked_about_then_written_by_the_worker(reader, few_at_once):
    make_object()
    make_object()
    address = "/export/file/?as_format=csv&as_headings=own"

    assert "2 objects take a while to write" in reader.get(address).content.decode()
    answer = reader.post(address)
    job = Job.objects.get()
    assert answer["Location"] == reverse("housing:job-detail", args=[job.pk])
    assert reader.get(f"/export/{job.pk}/file/").status_code == 404  # not written yet

    run_job.call(job.pk)

    job.refresh_from_db()
    assert (job.state, job.percent, job.message) == ("done", 100, "2 objects are in the file.")
    page = reader.get(answer["Location"]).content.decode()
    assert f'href="/export/{job.pk}/file/">Download the list' in page
    assert len(rows(content(reader.get(f"/export/{job.pk}/file/")))) == 2


def test_a_list_that_cannot_be_written_says_why(reader, few_at_once):
    make_object()
    make_object()
    reader.post("/export/file/?as_format=xml&as_headings=own")
    job = Job.objects.get()
    job.parameters |= {"filter": "q=nothing-like-it"}
    job.save()

    run_job.call(job.pk)

    job.refresh_from_db()
    assert (job.state, job.file.name) == ("failed", "")
    assert job.message.startswith("No object matches, and a LIDO file holds one record at least.")


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"as_format": "pdf"}, "Select a valid choice. pdf is not one of the available choices."),
        ({"as_format": ""}, "This field is required."),
        ({"as_headings": "99"}, "Select a valid choice. 99 is not one of the available choices."),
        ({"as_format": "xml", "q": "nothing-like-it"}, "No object matches, and a LIDO file holds one record"),
        ({"status": "nothing"}, "The filter of the list cannot be read (Status: Select a valid choice."),
    ],
)
def test_what_cannot_be_written_is_refused_on_the_page(reader, asked, told):
    make_object()

    answer = reader.get("/export/file/", {"as_format": "csv", "as_headings": "own", **asked})

    assert answer.status_code == 400
    assert told in answer.content.decode().replace("&#x27;", "'")


@pytest.mark.parametrize("address", ["/export/", "/export/file/?as_format=csv", "/export/1/file/"])
def test_nobody_takes_anything_out_without_signing_in(client, address):
    assert (
        client.get(address)["Location"].startswith("/accounts/login/")
        or client.get(address).status_code == 302
    )


def test_the_file_of_another_kind_of_work_is_not_given(reader):
    job = Job.objects.create(kind=Job.Kind.PRINT, title="Labels")

    assert reader.get(f"/export/{job.pk}/file/").status_code == 404


# ---- The command -----------------------------------------------------------------------------------------


def test_the_command_writes_the_file_that_the_ending_says(tmp_path):
    make_object(number="1", name="Bowl")
    make_object(number="2", name="Hat")
    out = io.StringIO()

    call_command(
        "export_objects", tmp_path / "hats.csv", "--filter", "q=hat", "--headings", "own", stdout=out
    )

    assert out.getvalue() == f"1 object is in {tmp_path / 'hats.csv'}.\n"
    assert [row["Object number"] for row in rows((tmp_path / "hats.csv").read_bytes())] == ["2"]
    assert [path.name for path in tmp_path.iterdir()] == ["hats.csv"]


@pytest.mark.parametrize(
    ("name", "options", "told"),
    [
        (
            "list.pdf",
            [],
            "“list.pdf” ends in none of .csv, .tsv, .xlsx, .xml. Give the file one of these endings.",
        ),
        ("list", [], "“list” ends in none of .csv, .tsv, .xlsx, .xml. Give the file one of these endings."),
        ("list.csv", ["--headings", "9"], "The list whose headings were chosen is not there any more."),
        (
            "list.csv",
            ["--filter", "batch=x"],
            "The filter of the list cannot be read (Batch: Enter the batch as a whole number.).",
        ),
        ("none/list.csv", [], "cannot be written: No such file or directory."),
    ],
)
def test_the_command_refuses_what_cannot_be_and_leaves_no_file(tmp_path, name, options, told):
    make_object()

    with pytest.raises(CommandError) as refused:
        call_command("export_objects", tmp_path / name, *options)

    assert told in str(refused.value)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_stays_when_a_new_one_cannot_be_written(tmp_path):
    (tmp_path / "list.xml").write_text("earlier")

    with pytest.raises(CommandError, match="No object matches"):
        call_command("export_objects", tmp_path / "list.xml")

    assert (tmp_path / "list.xml").read_text() == "earlier"
