"""Questions that a box waits for."""

from uuid import uuid4

import pytest
from django.utils import timezone

from housing.models import Hold
from housing.services.bench_entries import Ask, BenchRefused, record, undo
from housing.services.tasks import TaskRefused, start_task
from tests.factories import make_housing, make_tasks, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def maker():
    return make_user("maker")


def act(user, what: str, box, **detail):
    ask = Ask(what, user, timezone.now(), housing=box, detail=detail)
    return record(entry_id=uuid4(), ask=ask).entry


def ask_conservator(maker, box, question="Is the white bloom mould?"):
    return act(maker, "hold", box, reason="conservator", question=question)


def test_work_rests_until_the_question_is_answered(maker):
    box, manager = make_housing(), make_user("manager")
    (task,) = make_tasks(box, "score")
    ask_conservator(maker, box)

    with pytest.raises(TaskRefused, match="Is the white bloom mould"):
        start_task(task=task)

    act(manager, "answer", box, hold=str(Hold.objects.get().pk), answer="Salts. Go on, with gloves.")
    hold = Hold.objects.get()
    assert (start_task(task=task).state, hold.answered_by, hold.asked_by) == ("started", manager, maker)


def test_one_question_of_a_kind_is_open_at_a_time(maker):
    box = make_housing()
    ask_conservator(maker, box)

    with pytest.raises(BenchRefused, match="waits for a conservator already"):
        ask_conservator(maker, box, "And the stain?")
    act(maker, "hold", box, reason="board", question="Which board?")

    assert Hold.objects.count() == 2


@pytest.mark.parametrize(
    ("what", "detail", "problem"),
    [
        ("hold", {"reason": "conservator", "question": " "}, "Write the question"),
        ("hold", {"reason": "weather", "question": "Sun?"}, "choose one of the reasons"),
        ("answer", {"hold": "1", "answer": ""}, "Write the answer"),
        ("answer", {"hold": "x", "answer": "Yes"}, "not there any more"),
    ],
)
def test_what_asks_or_answers_nothing_is_refused(maker, what, detail, problem):
    with pytest.raises(BenchRefused, match=problem):
        act(maker, what, make_housing(), **detail)


@pytest.mark.parametrize("status", ["housed", "dropped"])
def test_a_box_that_is_over_waits_for_nothing(maker, status):
    with pytest.raises(BenchRefused, match="nothing of it waits any more"):
        ask_conservator(maker, make_housing(status=status))


def test_an_answer_is_given_once(maker):
    box = make_housing()
    ask_conservator(maker, box)
    hold = str(Hold.objects.get().pk)
    act(maker, "answer", box, hold=hold, answer="Yes")

    with pytest.raises(BenchRefused, match="It was answered already: “Yes”"):
        act(maker, "answer", box, hold=hold, answer="No")


def test_questions_and_answers_are_taken_back(maker):
    box = make_housing()
    asked = ask_conservator(maker, box)
    answered = act(maker, "answer", box, hold=str(Hold.objects.get().pk), answer="Yes")

    with pytest.raises(BenchRefused, match="It was answered since"):
        undo(entry=asked, by=maker)
    undo(entry=answered, by=maker)
    is_open = Hold.objects.get().answered_at is None
    undo(entry=asked, by=maker)

    assert is_open
    assert Hold.objects.get().answer == "Taken back by whoever asked"
