"""Prints made in the background: the list of them, going on with one, removing one, and what to expect."""

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from housing.models import Job
from housing.printing import pieces
from tests.factories import make_campaign, make_object, make_user
from tests.housing.printing.boxes import make_box

LIST = "housing:print-list"


def make_print(by=None, **given) -> Job:
    return Job.objects.create(**{"kind": "print", "title": "1,000 cut sheets", "by": by, **given})


@pytest.fixture
def reader(db, client):
    user = make_user("viewer")
    client.force_login(user)
    client.user = user
    return client


@pytest.fixture
def media(settings, tmp_path):
    settings.MEDIA_ROOT, settings.VAR_DIR = tmp_path / "media", tmp_path


def test_a_reader_sees_her_own_prints_and_a_manager_all(reader, client):
    own, other = make_print(by=reader.user, title="12 labels"), make_print(title="7 cut sheets")

    seen = reader.get(reverse(LIST)).text
    client.force_login(make_user("manager"))
    seen_by_manager = client.get(reverse(LIST)).text

    assert (own.title in seen, other.title in seen) == (True, False)
    assert own.title in seen_by_manager and other.title in seen_by_manager


def test_a_reader_without_prints_is_told_so(reader):
    assert "You have no prints yet" in reader.get(reverse(LIST)).text


def test_more_prints_take_no_more_queries(reader, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    counts = []
    for _ in range(2):
        make_print(by=reader.user)
        with CaptureQueriesContext(connection) as queries:
            reader.get(reverse(LIST))
        counts.append(len(queries))

    assert counts[0] == counts[1]


@pytest.mark.parametrize("state", ["cancelled", "failed"])
def test_a_print_that_was_stopped_goes_on_and_its_page_offers_it(reader, state, monkeypatch):
    job = make_print(by=reader.user, state=state, percent=40)
    page = reader.get(reverse("housing:job-detail", args=[job.pk])).text

    answer = reader.post(reverse("housing:print-go-on", args=[job.pk]))

    job.refresh_from_db()
    assert "Go on with it" in page and "40 % of it is done" in page
    assert (answer.url, job.state, job.wish) == (reverse("housing:job-detail", args=[job.pk]), "waiting", "")


@pytest.mark.parametrize("state", ["waiting", "running", "done"])
def test_a_print_that_was_not_stopped_is_not_gone_on_with(reader, state):
    job = make_print(by=reader.user, state=state)

    answer = reader.post(reverse("housing:print-go-on", args=[job.pk]), follow=True)

    job.refresh_from_db()
    assert job.state == state
    assert "There is nothing to go on with" in answer.text


def test_a_print_is_removed_with_its_file_and_its_pieces(reader, media):
    job = make_print(by=reader.user, state="done")
    job.file.save("cut-sheets.pdf", ContentFile(b"%PDF"))
    (pieces.folder_of(job.pk) / "a.pdf").write_bytes(b"%PDF")
    storage, name = job.file.storage, job.file.name

    answer = reader.post(reverse("housing:print-drop", args=[job.pk]), follow=True)

    assert not Job.objects.filter(pk=job.pk).exists()
    assert (storage.exists(name), pieces.kept_pieces(job.pk)) == (False, 0)
    assert "“1,000 cut sheets” is removed." in answer.text


def test_a_print_at_work_is_not_removed(reader):
    job = make_print(by=reader.user, state="running")

    answer = reader.post(reverse("housing:print-drop", args=[job.pk]), follow=True)

    assert Job.objects.filter(pk=job.pk).exists()
    assert "Only a print that is over can be removed" in answer.text


@pytest.mark.parametrize("name", ["housing:print-go-on", "housing:print-drop"])
def test_prints_of_others_are_left_alone(reader, name):
    job = make_print(state="cancelled")

    assert reader.post(reverse(name, args=[job.pk])).status_code == 403
    assert reader.get(reverse(name, args=[job.pk])).status_code == 405
    assert reader.post(reverse(name, args=[job.pk + 1])).status_code == 404


def test_what_a_selection_comes_to_is_told_before_anything_is_printed(reader):
    # By hand: 25 boxes fill one sheet of 24 labels and begin another; the bare object has no box
    things = [make_object() for _ in range(25)]
    for thing in things:
        make_box(thing)
    campaign = make_campaign(*things, make_object())

    told = " ".join(reader.get(reverse("housing:print-count"), {"campaign": campaign.pk}).text.split())
    nothing = reader.get(reverse("housing:print-count")).text.strip()

    assert told == (
        "25 boxes: 25 cut sheets, a page or more each. Their labels take 2 sheets. "
        "1 object has no box with blanks yet and is left out."
    )
    assert nothing == ""


def test_a_big_print_may_be_made_into_a_file_for_each_place(reader, monkeypatch, media):
    from housing.views import prints

    monkeypatch.setitem(prints.AT_ONCE, "labels", 1)
    things = [make_object(), make_object()]
    for thing in things:
        make_box(thing)
    address = f"{reverse('housing:print-labels')}?" + "&".join(f"object={thing.pk}" for thing in things)

    page = reader.get(address).text
    reader.post(address, {"files": "location"})

    assert "A ZIP with a PDF file for each place" in page and "About 1 page." in page
    assert Job.objects.get().parameters["options"]["files"] == "location"


def test_a_way_that_is_not_offered_makes_one_file(reader, monkeypatch, media):
    from housing.views import prints

    monkeypatch.setitem(prints.AT_ONCE, "labels", 0)
    thing = make_object()
    make_box(thing)

    reader.post(f"{reverse('housing:print-labels')}?object={thing.pk}", {"files": "../secret"})

    assert "files" not in Job.objects.get().parameters["options"]
