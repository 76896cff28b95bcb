"""What waits, as the database tells it and as the order of the steps does."""

from itertools import chain, combinations

import pytest
from django.utils import timezone

from housing.core.steps import STEPS, waits_for
from housing.models import Hold, Task
from housing.queries.waits import may_wait, open_holds, waits_for_others
from tests.factories import make_housing, make_person, make_tasks

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
# Every set of steps that can be done when nobody leaves one out, found by trying all sets of all nine steps.
CAN_BE_DONE = [
    done
    for done in chain.from_iterable(combinations(STEPS, size) for size in range(len(STEPS) + 1))
    if all(set(waits_for(step, STEPS)) <= set(done) for step in done)
]


@pytest.mark.parametrize("done", CAN_BE_DONE, ids=lambda done: done[-1] if done else "nothing")
def test_the_database_tells_what_waits_as_the_order_of_steps_does(done):
    box = make_housing()
    make_tasks(box, *STEPS)
    box.tasks.filter(step__in=done).update(state="done", done_at=timezone.now())

    waiting = set(box.tasks.exclude(state="done").filter(may_wait()).values_list("step", flat=True))

    still_open = set(STEPS) - set(done)
    assert waiting == {step for step in still_open if set(waits_for(step, STEPS)) - set(done)}


def test_what_is_ones_own_to_do_is_not_waited_for():
    ada, box = make_person(), make_housing()
    make_tasks(box, "score", "glue", "lid", person=ada)
    before = list(Task.objects.filter(waits_for_others(ada)))

    box.tasks.filter(step="score").update(person=None)
    after = Task.objects.filter(waits_for_others(ada)).values_list("step", flat=True)

    assert (before, list(after.order_by("sequence"))) == ([], ["glue", "lid"])


def test_all_work_on_a_box_waits_for_an_answer():
    box, other = make_housing(), make_housing()
    make_tasks(box, "glue")
    make_tasks(other, "glue")
    hold = Hold.objects.create(housing=box, reason="board", question="Which board?", asked_at=timezone.now())
    asked = list(Task.objects.filter(may_wait()).values_list("housing", flat=True))
    words = open_holds([box.pk, other.pk])

    hold.answer, hold.answered_at = "The thin one.", timezone.now()
    hold.save()

    assert (asked, words) == ([box.pk], {box.pk: ("for board or supplies: Which board?",)})
    assert not Task.objects.filter(may_wait()).exists()
