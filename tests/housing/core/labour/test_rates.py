"""What hours cost, worked by hand."""

from decimal import Decimal as D

from housing.core.budget.lines import Section
from housing.core.labour.rates import HourRate, Supervision, WorkedHours, labour_lines

NOBODY = HourRate("", "", "staff", D("24"))
STAFF = HourRate("1", "Tovi", "staff", D("24"), D("0.28"), hours_per_week=D(20))
VOLUNTEER = HourRate("2", "Jessa", "volunteer", D(0), in_kind_rate=D("18.50"), hours_per_week=D(6))
INTERN = HourRate("3", "Ondra", "intern", D("14"), hours_per_week=D(24))


def test_forty_hours_with_fringe():
    # Worked by hand: 40 h x 24 = 960; with 28 % fringe 1228.80.
    lines, problems = labour_lines([WorkedHours("1", "cut", 40)], [STAFF])

    assert [line.amount for line in lines] == [D("1228.80")]
    assert problems == []


def test_hours_of_volunteers_cost_nothing_and_are_valued_apart():
    # 2 CFR 200.306(e): volunteer services are valued at the rate paid for similar work. 10 x 18.50.
    lines, problems = labour_lines([WorkedHours("2", "fit", 10)], [VOLUNTEER])

    assert [(line.section, line.amount) for line in lines] == [(Section.IN_KIND, D("185.00"))]
    assert problems == []


def test_volunteers_and_interns_take_a_share_of_a_supervisor():
    # A tenth of (10 + 30) h = 4 h at 24 x 1.28 = 122.88.
    hours = [WorkedHours("2", "fit", 10), WorkedHours("3", "cut", 30), WorkedHours("1", "cut", 8)]

    lines, _ = labour_lines(hours, [STAFF, VOLUNTEER, INTERN], Supervision(D("0.1"), "1"))

    supervising = [line for line in lines if line.section is Section.SUPERVISION]
    assert [(line.quantity, line.amount) for line in supervising] == [(D("4.00"), D("122.88"))]


def test_staff_alone_need_no_supervision():
    lines, _ = labour_lines([WorkedHours("1", "cut", 8)], [STAFF], Supervision(D("0.1"), "1"))

    assert [line.section for line in lines] == [Section.LABOUR]


def test_hours_nobody_has_are_reckoned_and_named():
    lines, problems = labour_lines([WorkedHours("", "cut", 2.5)], [NOBODY])

    assert [line.amount for line in lines] == [D("60.00")]  # 2.5 x 24
    assert [(one.what, one.makes_incomplete) for one in problems] == [
        ("Nobody has 2.50 hours of the work", False)
    ]


def test_paid_work_without_a_rate_makes_the_sum_too_low():
    _, problems = labour_lines([WorkedHours("1", "cut", 2)], [HourRate("1", "Tovi", "staff", D(0))])

    assert [(one.what, one.makes_incomplete) for one in problems] == [
        ("No rate is entered for Tovi, who is paid", True)
    ]


def test_a_volunteer_without_a_worth_and_a_person_without_hours_are_named():
    volunteer = HourRate("2", "Jessa", "volunteer", D(0), hours_per_week=D(0))

    _, problems = labour_lines([WorkedHours("2", "fit", 1)], [volunteer])

    assert [(one.what, one.makes_incomplete) for one in problems] == [
        ("Jessa has no hours a week", False),
        ("No worth of an hour is entered for Jessa, a volunteer", False),
    ]
