"""Taking sheets off a plan and laying their blanks anew."""

from random import Random

from boards.core.nesting import Rules
from boards.core.nesting.guillotine import lay, shorter_rest
from boards.core.nesting.job import grow
from boards.core.nesting.plan import Plan, value
from boards.core.nesting.relaying import Relaying
from boards.core.nesting.supply import Supply, cheapest_area
from tests.boards.core.nesting.made import campaign, make_pieces, make_sheet


def test_blanks_left_out_go_on_sheets_that_have_come_free():
    job = grow(make_pieces((50, 30), (60, 30)), [make_sheet(stock=1)], Rules())
    relaying = Relaying(job, Plan([], [0, 1]), Random(0))

    relaying.use_what_is_left()

    assert relaying.left_out == []
    assert [sorted(laid.blank for laid in sheet.laid) for sheet in relaying.sheets] == [[0, 1]]


def test_no_try_makes_a_plan_worse_or_takes_more_than_the_stock():
    job = grow(*campaign("50_s1_3sheet"))
    supply = Supply([kind.stock for kind in job.kinds], cheapest_area)
    relaying = Relaying(job, Plan(*lay(job, range(len(job.blanks)), supply, shorter_rest)), Random(0))

    values = []
    for _ in range(200):
        relaying.try_once()
        values.append(value(job, relaying.sheets, relaying.left_out))

    assert values == sorted(values, reverse=True)
    assert values[-1] < values[0]
    used = [sum(sheet.kind is kind for sheet in relaying.sheets) for kind in job.kinds]
    assert [kind.stock - count for kind, count in zip(job.kinds, used, strict=True)] == relaying.stock
    assert min(relaying.stock) >= 0
