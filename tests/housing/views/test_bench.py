"""The pages for the maker at the bench, and what is sent from them."""

from datetime import timedelta
from decimal import Decimal
from io import BytesIO
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from housing.models import BenchEntry, HousedPhoto, WorkSpell
from tests.factories import (
    balance_of,
    make_campaign,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_tasks,
    make_user,
)
from tests.housing.benches import all_cut, make_due, sheet_of, task_of
from tests.housing.printing.boxes import make_box

pytestmark = pytest.mark.django_db
JSON = {"headers": {"accept": "application/json"}}


@pytest.fixture
def ada(client):
    """A maker who is signed in, as a person."""
    user = make_user("maker")
    client.force_login(user)
    return make_person(name="Ada", user=user)


@pytest.fixture
def box(ada):
    """A box on a sheet, all steps given to Ada in this week, and its object at a shelf."""
    thing = make_object(number="1990.7", name="Bowl", location=make_location("Shelf 3"))
    return make_due(ada, thing)


def send(client, what: str, *, script: bool = True, entry_id=None, **fields):
    data = {"entry_id": entry_id or uuid4(), "what": what, **fields}
    return client.post("/bench/entries/", data, **(JSON if script else {}))


# ---- The day ---------------------------------------------------------------------------------------------


def test_the_day_tells_the_next_sheet_and_the_boxes(client, ada, box):
    page = client.get("/bench/")

    assert page.context["day"].sheets[0].sheet == sheet_of(box)
    said = page.content.decode()
    assert f'href="/bench/sheets/{sheet_of(box).pk}/"' in said
    assert "A sheet of" in said and "5 in stock" in said
    assert said.count("Undo this step") == 0


def test_a_day_without_work_says_so(client, ada):
    assert "Nothing to do" in client.get("/bench/").content.decode()


def test_a_login_of_nobody_is_told_what_to_do(viewer):
    page = viewer.get("/bench/")

    assert page.status_code == 200
    assert "Your login belongs to no person yet" in page.content.decode()


def test_who_is_not_signed_in_is_asked_to_sign_in(client, db):
    assert client.get("/bench/").headers["Location"] == "/accounts/login/?next=/bench/"


def test_on_a_shared_tablet_a_maker_says_who_she_is(client, ada):
    ben = make_person(name="Ben")
    make_due(ben)

    client.post("/bench/person/", {"person": ben.pk})

    page = client.get("/bench/")
    assert (page.context["person"], len(page.context["day"].sheets)) == (ben, 1)
    assert "Bench of Ben" in page.content.decode()


def test_a_name_that_is_not_on_the_list_chooses_nobody(client, ada):
    page = client.post("/bench/person/", {"person": "99999"}, follow=True)

    assert page.context["person"] == ada
    assert "Choose a name of the list." in page.content.decode()


def test_viewers_choose_nobody(viewer):
    ben = make_person(name="Ben")

    assert viewer.post("/bench/person/", {"person": ben.pk}).status_code == 403
    assert viewer.get("/bench/").context["person"] is None


def test_a_day_asks_the_database_as_often_with_many_boxes_as_with_few(client, ada):
    def count() -> int:
        with CaptureQueriesContext(
            connection,
        ) as asked:
            client.get("/bench/")
        return len(asked)

    all_cut(make_due(ada))
    make_due(ada)
    few = count()
    for _ in range(3):
        all_cut(make_due(ada))
        make_due(ada)

    # A campaign of its own for each, which the week of each is counted from.
    assert count() == few


# ---- A sheet ---------------------------------------------------------------------------------------------


def test_a_sheet_is_drawn_with_its_cuts_and_its_boxes(client, ada, box):
    page = client.get(f"/bench/sheets/{sheet_of(box).pk}/")

    said = page.content.decode()
    assert said.count('class="drawing layout"') == 1
    assert [str(each) for each in page.context["boxes"]] == [str(box)]
    assert "metal rule with finger guard" in said
    assert said.count('name="entry_id"') == 3  # begin, cut, spoiled


def test_a_sheet_is_begun_and_cut(client, ada, box):
    sheet = sheet_of(box)

    begun = send(client, "start", sheet=sheet.pk)
    cut = send(client, "sheet_cut", sheet=sheet.pk, minutes="12,5")

    assert begun.json()["kept"] and cut.json()["is_new"]
    sheet.refresh_from_db()
    assert sheet.cut_at is not None
    assert balance_of(sheet.sheet_size) == 4  # of five one is used
    assert {task.state for task in box.tasks.filter(step__in=["fetch", "cut"])} == {"done"}
    assert BenchEntry.objects.get(what="sheet_cut").minutes == Decimal("12.5")
    assert "It is cut" in client.get(f"/bench/sheets/{sheet.pk}/").content.decode()


def test_a_spoiled_sheet_is_written_off_with_its_reason(client, ada, box):
    answer = send(client, "spoiled", sheet=sheet_of(box).pk, **{"detail-reason": "miscut"})

    assert answer.json()["kept"]
    entry = BenchEntry.objects.get()
    assert entry.detail["asked"] == {"reason": "miscut"}


def test_a_sheet_that_is_not_there(client, ada):
    assert client.get("/bench/sheets/99999/").status_code == 404


# ---- A box -----------------------------------------------------------------------------------------------


def test_a_box_shows_number_cautions_drawing_and_one_step(client, ada):
    box = make_due(ada, make_object(number="1990.7", name="Bowl", hazards="arsenic"))

    page = client.get(f"/bench/boxes/{box.pk}/?step=2")

    said = page.content.decode()
    assert "1990.7" in said
    assert said.index("Take care") < said.index("2 of")
    assert page.context["page"].hazards == ["Arsenic"]
    assert page.context["step"] == 2
    assert said.count("Next step") == 1


def test_a_box_shows_the_photo_of_what_goes_into_it(client, ada):
    thing = make_object(photo="photos/bowl.jpg")
    box = make_due(ada, make_object(), thing)

    text = client.get(f"/bench/boxes/{box.pk}/").content.decode()

    assert f'src="/catalogue/{thing.pk}/photo/"' in text


def test_all_steps_are_shown_at_once_on_request(client, ada, box):
    page = client.get(f"/bench/boxes/{box.pk}/?step=all")

    said = page.content.decode()
    assert all(step.split(".")[0][:20] in said for step in page.context["page"].steps)
    assert "Next step" not in said


@pytest.mark.parametrize(
    ("asked", "shown"), [("", 1), ("0", 1), ("999", None), ("x", 1), ("²", 1), ("9999999", 1)]
)
def test_a_step_that_is_not_there_shows_the_nearest(client, ada, box, asked, shown):
    page = client.get(f"/bench/boxes/{box.pk}/", {"step": asked})

    assert page.context["step"] == (shown or len(page.context["page"].steps))


def test_a_step_is_begun_and_done_with_the_minutes_of_the_clock(client, ada, box):
    all_cut(box)
    score = task_of(box, "score")
    send(client, "start", task=score.pk, at=(timezone.now() - timedelta(minutes=9)).isoformat())

    page = client.get(f"/bench/boxes/{box.pk}/")
    assert 'placeholder="9"' in page.content.decode()
    answer = send(client, "done", task=score.pk)

    assert answer.json()["url"] == f"/bench/boxes/{box.pk}/"
    score.refresh_from_db()
    assert (score.state, round(score.spent_minutes)) == ("done", 9)
    assert client.get("/bench/").context["day"].minutes_done == score.spent_minutes


def test_the_next_box_of_the_sheet_is_offered(client, ada, box):
    other = make_box(make_object())
    make_tasks(other, person=ada)
    blank = other.blanks.first()
    sheet_of(box).placements.create(blank=blank, x_mm=5, y_mm=900, along_mm=50, across_mm=50)

    page = client.get(f"/bench/boxes/{box.pk}/")

    assert page.context["next_box"] == other


def test_a_reader_who_may_not_work_on_it_sees_it_without_buttons(viewer, client):
    box = make_due(make_person(name="Ben"), make_object())

    page = viewer.get(f"/bench/boxes/{box.pk}/")

    said = page.content.decode()
    assert "This is given to Ben." in said
    assert 'action="/bench/entries/"' not in said


def test_a_step_that_waits_for_another_says_for_which_and_offers_no_buttons(client, ada):
    box = make_due(make_person(name="Ben"))
    task_of(box, "score").delete()
    box.tasks.filter(step="glue").update(person=ada)

    said = client.get(f"/bench/boxes/{box.pk}/").content.decode()

    assert "Waits for cut, by Ben." in said
    assert 'value="done"' not in said and 'value="start"' not in said


def test_a_box_still_to_be_planned_has_a_page_too(client, ada):
    waiting = make_housing(status="waiting")

    assert client.get(f"/bench/boxes/{waiting.pk}/").status_code == 200


# ---- Entries ---------------------------------------------------------------------------------------------


def test_an_entry_sent_twice_is_kept_once(client, ada, box):
    all_cut(box)
    task, entry_id = task_of(box, "score"), uuid4()

    answers = [send(client, "done", task=task.pk, entry_id=entry_id, minutes="5").json() for _ in range(2)]

    assert [answer["is_new"] for answer in answers] == [True, False]
    assert answers[0]["message"] == answers[1]["message"]
    assert BenchEntry.objects.count() == 1


def test_an_entry_kept_before_is_answered_when_its_task_is_gone(client, ada, box):
    all_cut(box)
    task, entry_id = task_of(box, "score"), uuid4()
    send(client, "start", task=task.pk, entry_id=entry_id)
    pk = task.pk
    task.delete()

    assert send(client, "start", task=pk, entry_id=entry_id).json()["kept"]


def test_without_script_an_entry_leads_back_to_its_page(client, ada, box):
    all_cut(box)

    page = send(client, "done", script=False, task=task_of(box, "score").pk, next="/bench/")

    assert page.headers["Location"] == "/bench/"
    assert "is done." in client.get("/bench/").content.decode()


def test_an_address_elsewhere_is_not_followed(client, ada, box):
    all_cut(box)

    page = send(client, "done", script=False, task=task_of(box, "score").pk, next="https://example.org/")

    assert page.headers["Location"] == f"/bench/boxes/{box.pk}/"


def test_without_script_a_refusal_shows_what_was_entered(client, ada, box):
    page = send(client, "done", script=False, task=task_of(box, "score").pk, minutes="7")

    assert page.status_code == 409
    assert "<dt>minutes</dt><dd>7</dd>" in page.content.decode()
    assert not BenchEntry.objects.exists()


UNKNOWN_KIND = "This kind of entry is not known here. Reload the page and enter it again."
LOST_ID = "The entry has no number of its own. Reload the page and enter it again."
MINUTES = "Enter minutes as a number from 0 to 1440, such as 12 or 7.5, or leave them blank."
PLANNED_AGAIN = "is not in the plan any more: the campaign was planned again since. Reload the page."


@pytest.mark.parametrize(
    ("fields", "status", "said"),
    [
        ({"what": "dance"}, 400, UNKNOWN_KIND),
        ({"what": "undo"}, 400, UNKNOWN_KIND),
        ({"entry_id": "7"}, 400, LOST_ID),
        (
            {"minutes": "-1"},
            400,
            MINUTES,
        ),
        (
            {"minutes": "ten"},
            400,
            MINUTES,
        ),
        (
            {"task": "99999"},
            409,
            f"That step {PLANNED_AGAIN}",
        ),
        (
            {"sheet": "99999"},
            409,
            f"That sheet {PLANNED_AGAIN}",
        ),
        ({"housing": "99999"}, 409, "That box is not there any more. Reload the page."),
        ({"person": "99999"}, 409, "The person whose work this is was removed. Choose who you are again."),
    ],
)
def test_what_cannot_be_kept_is_refused_with_the_reason(client, ada, box, fields, status, said):
    all_cut(box)
    given = {"entry_id": uuid4(), "what": "done", "task": task_of(box, "score").pk, **fields}

    answer = client.post("/bench/entries/", given, **JSON)

    assert (answer.status_code, answer.json()["message"]) == (status, said)
    assert not BenchEntry.objects.exists()


def test_a_photo_that_is_none_is_refused(client, ada, box):
    answer = send(client, "photo", housing=box.pk, photo=SimpleUploadedFile("a.jpg", b"no picture"))

    assert answer.status_code == 400
    assert answer.json()["message"].startswith("The file is no photo that can be read here.")


def test_somebody_elses_work_is_refused(viewer, client):
    box = make_due(make_person(name="Ben"))

    answer = send(viewer, "start", task=task_of(box, "score").pk)

    assert answer.status_code == 409
    assert answer.json()["message"].startswith("This is somebody else's work.")


def test_whoever_has_a_task_may_work_on_it_whatever_their_role(client):
    user = make_user("viewer")
    client.force_login(user)
    box = make_due(make_person(name="Eve", user=user))
    all_cut(box)

    assert send(client, "start", task=task_of(box, "score").pk).json()["kept"]
    assert WorkSpell.objects.get().person.name == "Eve"


def test_a_login_without_the_role_enters_only_its_own_work(client):
    user = make_user("viewer")
    client.force_login(user)
    box = make_due(make_person(name="Eve", user=user))
    all_cut(box)
    ben = make_person(name="Ben")

    answer = send(client, "start", task=task_of(box, "score").pk, person=ben.pk)

    assert answer.json()["message"] == "Your login can enter only your own work. Reload the page."


def test_an_entry_made_under_another_login_waits_for_that_one(client, ada, box):
    all_cut(box)

    answer = send(client, "start", task=task_of(box, "score").pk, user=str(make_user().pk))

    assert answer.status_code == 401
    assert not BenchEntry.objects.exists()


def test_an_entry_without_a_login_is_not_taken(client, ada, box):
    client.logout()

    assert send(client, "start", task=task_of(box, "score").pk).status_code == 302


def made(box):
    """The box as it is once all is folded and glued."""
    all_cut(box).tasks.filter(step__in=["score", "glue", "lid"]).update(state="done", done_at=timezone.now())
    type(box).objects.filter(pk=box.pk).update(status="made")
    return box


def test_a_finished_box_is_tried_and_put_back(client, ada, box):
    made(box).tasks.filter(step__in=["fit", "label"]).update(state="done", done_at=timezone.now())

    said = client.get(f"/bench/boxes/{box.pk}/").content.decode()

    assert ('id="fit"' in said, 'id="return"' in said, 'id="ask"' in said) == (True, True, True)


@pytest.mark.parametrize(
    ("short", "unit", "direction", "mm"),
    [
        ("3/8", "in", "short", Decimal("9.525")),  # 3/8 x 25.4 = 9.525
        ("9", "mm", "short", Decimal(9)),
        ("1/2", "in", "large", Decimal("-12.7")),  # 1/2 x 25.4 = 12.7, below 0: too large
    ],
)
def test_by_how_much_a_box_does_not_fit_is_kept_in_mm(client, ada, box, short, unit, direction, mm):
    detail = {"cause": "measurement", "side": "depth", "short": short, "unit": unit, "direction": direction}

    answer = send(client, "adjust", housing=made(box).pk, **{f"detail-{k}": v for k, v in detail.items()})

    assert answer.json()["kept"]
    assert box.fit_checks.get().short_mm == mm


def test_a_length_that_cannot_be_read_is_refused(client, ada, box):
    answer = send(
        client, "adjust", housing=made(box).pk, **{"detail-cause": "board", "detail-short": "a bit"}
    )

    assert answer.status_code == 400
    assert answer.json()["message"].startswith("How much the box is too small or too large: ")
    assert not box.fit_checks.exists()


def test_a_photo_of_the_housed_object_is_kept(client, ada, box):
    picture = BytesIO()
    Image.new("RGB", (40, 20), "teal").save(picture, "JPEG")
    photo = SimpleUploadedFile("a.jpg", picture.getvalue())

    answer = send(client, "photo", housing=made(box).pk, photo=photo)

    assert answer.json()["kept"]
    assert HousedPhoto.objects.get().housing == box


# ---- Undoing ---------------------------------------------------------------------------------------------


def test_the_last_step_is_undone_once(client, ada, box):
    all_cut(box)
    send(client, "done", task=task_of(box, "score").pk, minutes="5")
    last = client.get("/bench/").context["last"]
    entry_id = uuid4()

    answers = [
        client.post("/bench/undo/", {"entry": last.pk, "entry_id": entry_id}, **JSON).json() for _ in range(2)
    ]

    assert [answer["is_new"] for answer in answers] == [True, False]
    assert task_of(box, "score").state == "to_do"
    assert client.get("/bench/").context["last"] is None


def test_what_was_done_by_somebody_else_is_not_undone_by_a_viewer(viewer, client):
    entry = BenchEntry.objects.create(what="start", at=timezone.now(), by=make_user("maker"))

    answer = viewer.post("/bench/undo/", {"entry": entry.pk, "entry_id": uuid4()}, **JSON)

    assert answer.json()["message"] == "Only whoever entered this, or a maker, can undo it."


def test_an_entry_that_is_not_there_is_not_undone(client, ada):
    answer = client.post("/bench/undo/", {"entry": "99999", "entry_id": uuid4()}, **JSON)

    assert answer.json()["message"] == "There is no such entry to undo. Reload the page."


@pytest.mark.parametrize("address", ["/bench/entries/", "/bench/undo/", "/bench/person/"])
def test_nothing_is_entered_by_looking(client, ada, address):
    assert client.get(address).status_code == 405


# ---- A box that is made no more ----------------------------------------------------------------------------


def test_a_box_that_was_dropped_says_so_and_names_the_one_instead(client, ada, box):
    thing = box.contents.get().object
    box.contents.update(is_live=False)
    box.status = box.Status.DROPPED
    box.save()
    instead = make_housing(thing)

    answer = client.get(f"/bench/boxes/{box.pk}/")

    assert answer.status_code == 410
    assert "no-store" in answer.headers["Cache-Control"]  # a 410 may be kept for good (RFC 9110, 15.5.11)
    said = answer.content.decode()
    assert f"{box} was dropped" in said
    assert str(instead) in said
    assert f'href="/objects/{thing.pk}/"' in said
    assert "Take its label off" in said and 'href="/bench/"' in said


def test_the_way_back_is_offered_when_it_is_its_turn(client):
    maker = make_user("maker")
    client.force_login(maker)
    box = make_housing(campaign=make_campaign(), status="made")
    fit, _ = make_tasks(box, "fit", "return", person=make_person(user=maker))
    address = reverse("housing:bench-box", args=[box.pk])

    before = client.get(address).content.decode()
    fit.state, fit.done_at = "done", timezone.now()
    fit.save()

    assert "It goes back to its shelf when “Pad and fit” is done." in before
    assert "It is on its shelf" not in before
    assert "It is on its shelf" in client.get(address).content.decode()


# ---- The cut sheet in the hand ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("held", "words"),
    [
        ("0000", "The cut sheet in your hand is out of date."),
        ("12", "is not the version of a cut sheet"),
        ("current", "is the one that holds"),
    ],
)
def test_a_box_says_whether_the_cut_sheet_in_the_hand_still_holds(client, ada, held, words):
    box = make_box()
    current = client.get(f"/bench/boxes/{box.pk}/").context["page"].version

    page = client.get(f"/bench/boxes/{box.pk}/", {"v": current if held == "current" else held})

    assert words in page.content.decode()
    assert ("format=pdf" in page.content.decode()) == (held == "0000")
