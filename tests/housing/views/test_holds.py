"""The page of questions: open ones first, answered there by whoever may, and taken back."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from housing.models import Hold
from tests.factories import make_campaign, make_design, make_housing, make_person, make_tasks

QUESTIONS = reverse("housing:hold-list")
ENTRY = reverse("housing:bench-entry")

pytestmark = pytest.mark.django_db


@pytest.fixture
def design():
    return make_design()


def ask(design, question="Is this mould?", days=0, **given) -> Hold:
    box = given.pop("box", None) or make_housing(design=design, campaign=make_campaign())
    at = timezone.now() - timedelta(days=days)
    return Hold.objects.create(housing=box, question=question, asked_at=at, **given)


def shown(client, **narrowed) -> list[Hold]:
    return [row.record for row in client.get(QUESTIONS, narrowed).context["table"].rows]


def answer_to(hold, **more) -> dict:
    return {"entry_id": uuid4(), "what": "answer", "housing": hold.housing_id, "detail-hold": hold.pk,
            "detail-answer": "It is old dust. Go on.", "next": QUESTIONS, **more}  # fmt: skip


def test_open_questions_stand_first_the_longest_waiting_at_the_top(viewer, design):
    new, old = ask(design, days=1), ask(design, days=9)
    answered = ask(design, days=20, answer="Yes", answered_at=timezone.now())

    page = viewer.get(QUESTIONS)

    assert [row.record for row in page.context["table"].rows] == [old, new, answered]
    assert "<b>2</b> open questions" in page.content.decode()


def test_they_are_narrowed_by_reason_campaign_and_state(viewer, design):
    first = ask(design)
    other = ask(design, reason="board", answer="It came", answered_at=timezone.now())

    assert shown(viewer, reason="board") == [other]
    assert shown(viewer, campaign=first.housing.campaign_id) == [first]
    assert shown(viewer, state="open") == [first]
    assert shown(viewer, state="answered") == [other]
    assert viewer.get(QUESTIONS, {"reason": "whim"}).status_code == 400


def test_a_manager_answers_and_the_work_goes_on(manager, design):
    hold = ask(design)
    assert f"answer_{hold.pk}" in manager.get(QUESTIONS).content.decode()

    reply = manager.post(ENTRY, answer_to(hold), follow=True)

    hold.refresh_from_db()
    assert reply.redirect_chain == [(QUESTIONS, 302)]
    assert (hold.answer, hold.answered_at is None) == ("It is old dust. Go on.", False)
    assert hold.answered_by == reply.context["user"]


def test_an_answer_is_taken_back_on_the_same_page(manager, design):
    hold = ask(design)
    manager.post(ENTRY, answer_to(hold))
    last = manager.get(QUESTIONS).context["last"]

    manager.post(reverse("housing:bench-undo"), {"entry_id": uuid4(), "entry": last.pk, "next": QUESTIONS})

    hold.refresh_from_db()
    assert (hold.answer, hold.answered_at) == ("", None)


def test_whoever_works_on_the_box_may_answer_others_may_not(viewer, design):
    mine, other = ask(design), ask(design)
    own = make_person(user=viewer.get(QUESTIONS).context["user"])
    make_tasks(mine.housing, "glue", person=own)

    text = viewer.get(QUESTIONS).content.decode()
    refused = viewer.post(ENTRY, answer_to(other), headers={"accept": "application/json"})

    assert (f"answer_{mine.pk}" in text, f"answer_{other.pk}" in text) == (True, False)
    assert (refused.status_code, other.housing.holds.get().answered_at) == (409, None)


def test_without_questions_the_page_says_where_to_ask(viewer):
    text = viewer.get(QUESTIONS).content.decode()

    assert "No question is open, no work rests." in text
    assert "ask one on its page at the bench" in text


def test_one_question_and_three_take_the_same_number_of_queries(manager, design):
    def queries() -> int:
        with CaptureQueriesContext(connection) as caught:
            manager.get(QUESTIONS)
        return len(caught)

    ask(design)
    manager.get(QUESTIONS)
    one = queries()
    ask(design)
    ask(design)

    assert queries() == one
