"""Whatever was done at the bench, undone from the last entry back, leaves the records as they were."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from boards.models import Offcut, RackEntry, StockMovement
from boards.services import keep_offcut
from housing.models import Housing, Task, WorkSpell
from housing.services.bench_entries import Ask, record, undo
from housing.services.sheets import cut_sheet
from objects.core.refusals import Refusal
from tests.examples import few
from tests.factories import (
    make_campaign,
    make_housing,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)

KEPT = {"x_mm": 0, "y_mm": 700, "along_mm": 1500.0, "across_mm": 300.0}
OF_SHEETS = st.tuples(st.sampled_from(["start", "pause", "sheet_cut", "spoiled"]), st.integers(0, 2))
OF_TASKS = st.tuples(
    st.sampled_from(["start", "pause", "done"]), st.just(2), st.sampled_from(["score", "glue", "lid"])
)


def snapshot() -> tuple:
    """All that work at the bench changes, without the ledgers themselves."""
    tasks = Task.objects.order_by("pk").values_list(
        "pk", "state", "person", "started_at", "done_at", "spent_minutes"
    )
    boxes = Housing.objects.order_by("pk").values_list("pk", "status")
    stock = sum(StockMovement.objects.values_list("quantity", flat=True))
    rack = Offcut.objects.filter(gone_at=None).values_list("along_mm", "across_mm")
    clocks = WorkSpell.objects.filter(ended_at=None).count()
    return list(tasks), list(boxes), stock, sorted(rack), clocks


class Undone(TestCase):
    @few(20)
    @given(acts=st.lists(st.one_of(OF_SHEETS, OF_TASKS), max_size=9))
    def test_all_entries_undone_leave_the_records_as_they_were(self, acts):
        campaign = make_campaign()
        boxes = [make_housing(campaign=campaign) for _ in range(3)]
        for box in boxes:
            make_tasks(box, person=make_person())
        first = make_sheet(*boxes[:2], stock=3, offcuts=[KEPT])
        rest = keep_offcut(board=first.board, along_mm=700, across_mm=500)
        sheets = [
            first,
            make_sheet(boxes[0], part="lid", sheet_size=first.sheet_size),
            make_sheet(boxes[0], part="tray", offcut=rest),
        ]
        cut_sheet(sheet=make_sheet(boxes[2]))  # its steps at the bench can be begun
        maker = make_person(user=make_user("maker"))
        before, entries = snapshot(), []
        for number, (what, place, *step) in enumerate(acts):
            at = timezone.now() - timedelta(seconds=60 * (len(acts) - number))
            of = (
                {"task": boxes[place].tasks.get(step=step[0])}
                if step
                else {"sheet": type(first).objects.get(pk=sheets[place].pk)}
            )
            ask = Ask(what, maker.user, at, person=maker, minutes=Decimal(number), **of)
            try:
                entries.append(record(entry_id=uuid4(), ask=ask).entry)
            except Refusal:
                continue
        written = StockMovement.objects.count() + RackEntry.objects.count()

        for entry in reversed(entries):
            undo(entry=entry, by=maker.user)

        assert snapshot() == before
        assert StockMovement.objects.count() + RackEntry.objects.count() >= written
