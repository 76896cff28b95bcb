"""The figures of a report, each worked by hand, and what lies just inside and outside of its period."""

from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest
from django.core.files.base import ContentFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boards.models import StockMovement, Supply, SupplyMovement
from boards.services import receive_sheets, reverse_movement, use_sheets, write_off_sheets
from housing.models import FitCheck, Grade, HousedPhoto, HousingEvent
from housing.queries.periods import Period, month_of
from housing.queries.report_counts import CountRow, counts_of
from housing.queries.report_goods import goods_of
from housing.queries.report_photos import MOST, photos_of
from housing.queries.report_work import work_of
from housing.queries.reports import report_of
from tests.factories import (
    make_campaign,
    make_design,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet,
    make_sheet_size,
    make_tasks,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]

MAY = Period(date(2026, 5, 1), date(2026, 5, 31))


def on(day: int, month: int = 5, hour: int = 12, minute: int = 0) -> datetime:
    return timezone.make_aware(datetime(2026, month, day, hour, minute))


def stepped(box, *steps: tuple[str, datetime]):
    """The trail of a box: these steps and no others."""
    box.events.all().delete()
    for status, at in steps:
        event = HousingEvent.objects.create(housing=box, status=status)
        HousingEvent.objects.filter(pk=event.pk).update(at=at)
    return box


@pytest.fixture
def design():
    return make_design()


def housed(design, at: datetime, thing=None, **given):
    box = make_housing(*([thing] if thing else []), design=design, status="housed", **given)
    return stepped(box, ("made", at - timedelta(hours=1)), ("housed", at))


# ---- Periods ---------------------------------------------------------------------------------------------


def test_the_last_day_counts_to_its_end_by_the_clock_of_the_museum(settings):
    settings.TIME_ZONE = "America/New_York"
    with timezone.override("America/New_York"):
        # four hours behind UTC in summer: Energy Policy Act of 2005 (US), section 110, from memory
        assert MAY.start.astimezone(timezone.get_fixed_timezone(0)).isoformat() == "2026-05-01T04:00:00+00:00"
        assert MAY.end.astimezone(timezone.get_fixed_timezone(0)).isoformat() == "2026-06-01T04:00:00+00:00"


@pytest.mark.parametrize(
    ("day", "last"),
    [
        (date(2026, 2, 3), date(2026, 2, 28)),
        (date(2028, 2, 29), date(2028, 2, 29)),  # a leap year, Gregorian calendar
        (date(2026, 12, 31), date(2026, 12, 31)),
    ],
)
def test_the_month_of_a_day_ends_with_its_last_day(day, last):
    assert month_of(day) == Period(day.replace(day=1), last)


# ---- Objects ---------------------------------------------------------------------------------------------


def test_objects_are_counted_at_both_ends_of_the_period(design):
    make_object()  # never housed
    housed(design, on(30, month=4, hour=23, minute=59))  # before
    housed(design, on(1, hour=0))  # the first moment
    housed(design, on(31, hour=23, minute=59))  # the last minute
    housed(design, on(1, month=6, hour=0))  # after

    # 5 objects. In no box at the start: all but the first housed, 4. Housed: 2. At the end: 4 - 2.
    assert counts_of(MAY).in_all == CountRow("All objects", at_start=4, housed=2, taken_out=0, at_end=2)
    assert counts_of(MAY).boxes == 2


def test_what_was_put_back_and_taken_out_again_balances(design):
    stepped(
        make_housing(design=design, status="made"),
        ("housed", on(20, month=4)),
        ("made", on(3)),  # not on its shelf after all
    )
    stepped(make_housing(design=design, status="made"), ("housed", on(3)), ("made", on(4)))
    stepped(make_housing(design=design, status="dropped"), ("housed", on(2, month=4)), ("dropped", on(2)))

    # At the start two were housed, both are out at the end; the one in and out between counts as neither.
    assert counts_of(MAY).in_all == CountRow("All objects", at_start=1, housed=0, taken_out=2, at_end=3)


def test_a_step_of_planning_written_down_late_takes_nothing_out_of_its_box(design):
    stepped(make_housing(design=design, status="housed"), ("housed", on(3)), ("planned", on(4)))

    assert counts_of(MAY).in_all.housed == 1


def test_objects_that_need_no_box_are_not_counted():
    make_object(present_housing="good")
    make_object(present_housing="not_needed")
    make_object(present_housing="poor")

    assert counts_of(MAY).in_all == CountRow("All objects", at_start=1, at_end=1)


def test_a_set_in_one_box_counts_as_its_objects_and_as_one_box(design):
    box = make_housing(make_object(), make_object(), make_object(), design=design, status="housed")
    stepped(box, ("housed", on(9)))

    counts = counts_of(MAY)

    assert (counts.in_all.housed, counts.boxes) == (3, 1)


def test_groups_are_by_classification_priority_and_room(design):
    store = make_location("Old mill")
    room = make_location("Room 2", parent=store)
    shelf = make_location("Shelf 7", parent=room)
    housed(design, on(4), make_object(classification="Glass", priority="A", location=shelf))
    make_object(classification="Glass", priority="B", location=room)
    make_object(classification="", priority="B")

    counts = counts_of(MAY)

    assert counts.by_classification == (
        CountRow("Glass", at_start=2, housed=1, at_end=1),
        CountRow("Not classified", at_start=1, at_end=1),
    )
    assert [(row.label[:1], row.at_start, row.housed, row.at_end) for row in counts.by_priority] == [
        ("A", 1, 1, 0),
        ("B", 2, 0, 2),
    ]
    assert [(row.label, row.at_end) for row in counts.by_room] == [
        ("Old mill / Room 2", 1),
        ("No location", 1),
    ]


def test_a_campaign_counts_its_own_objects_only(design):
    mine, other = make_object(), make_object()
    campaign = make_campaign(mine)
    housed(design, on(4), mine, campaign=campaign)
    housed(design, on(4), other, campaign=make_campaign(other))

    counts = counts_of(MAY, campaign)

    assert (counts.in_all.housed, counts.in_all.at_start, counts.boxes) == (1, 1, 1)


# ---- Work ------------------------------------------------------------------------------------------------


def done(box, *steps, person=None, minutes="30", at=None):
    spent = None if minutes is None else Decimal(minutes)
    return make_tasks(box, *steps, state="done", person=person, spent_minutes=spent, done_at=at or on(10))


@pytest.fixture
def worked(design):
    """Work of May, and a step on either side of it."""
    box = make_housing(design=design, campaign=make_campaign(rate_per_hour=Decimal("12")))
    grade = Grade.objects.create(
        name="Technician", rate_per_hour=Decimal("20"), on_cost_share=Decimal("0.25")
    )
    paid = make_person(name="Ana", grade=grade, rate_per_hour=0)
    given = make_person(name="Bo", kind="volunteer", in_kind_rate=Decimal("15.55"))
    done(box, "cut", "score", person=paid, minutes="50")
    done(box, "glue", person=given, minutes="40", at=on(31, hour=23, minute=30))
    done(box, "fetch", person=None, minutes="10", at=on(1, hour=0))
    done(box, "fit", person=paid, minutes=None)
    done(box, "label", person=paid, minutes="600", at=on(1, month=6, hour=0))
    done(box, "measure", person=paid, minutes="600", at=on(30, month=4, hour=23, minute=59))
    make_tasks(box, "return", person=paid)
    return box.campaign


def test_hours_are_paid_at_rates_with_on_costs_or_given_at_their_worth(worked):
    work = work_of(MAY, worked, shows_costs=True)

    assert [
        (row.person, row.kind, row.steps, row.unlogged, row.minutes, row.money) for row in work.people
    ] == [
        # 100 min / 60 × 20 × 1.25 = 41.666…
        ("Ana", "Paid", 3, 1, 100, Decimal("41.67")),
        # 10 min / 60 × 12, the campaign's rate
        ("Nobody named", "Paid", 1, 0, 10, Decimal("2.00")),
        # 40 min / 60 × 15.55 = 10.3666…
        ("Bo", "Given in kind", 1, 0, 40, Decimal("10.37")),
    ]
    assert work.cost == [(Decimal("43.67"), "USD")]
    assert work.worth == [(Decimal("10.37"), "USD")]
    assert round(work.paid_hours, 4) == Decimal("1.8333")  # 110 / 60


def test_steps_stand_in_the_order_of_the_work_beside_what_was_planned(worked):
    rows = work_of(MAY, worked).steps

    # planned: 10 minutes a step, none for the step without minutes
    assert [(row.label, row.done, row.minutes, row.planned) for row in rows] == [
        ("Fetch board", 1, 10, 10),
        ("Cut", 1, 50, 10),
        ("Mark out and score", 1, 50, 10),
        ("Fold and glue", 1, 40, 10),
        ("Pad and fit", 1, 0, 0),
    ]


def test_money_is_told_only_where_it_is_to_be_shown(worked):
    work = work_of(MAY, worked)

    assert {row.money for row in work.people} == {None}
    assert work.cost == work.worth == []


# ---- Board and goods -------------------------------------------------------------------------------------


def moved(movement, at: datetime):
    type(movement).objects.filter(pk=movement.pk).update(at=at)
    return movement


def test_board_used_and_spoiled_and_what_was_paid_for_what_came():
    size = make_sheet_size(along_mm=Decimal(2000), across_mm=Decimal(1000), price=Decimal("12.50"))
    moved(receive_sheets(sheet_size=size, count=20, paid_each=Decimal("11.11")), on(1, hour=0))
    moved(receive_sheets(sheet_size=size, count=5), on(2))
    moved(receive_sheets(sheet_size=size, count=9), on(30, month=4))
    wrong = moved(receive_sheets(sheet_size=size, count=4, paid_each=Decimal(99)), on(3))
    reverse_movement(movement=wrong)
    moved(use_sheets(sheet_size=size, count=6), on(31, hour=23, minute=59))
    moved(use_sheets(sheet_size=size, count=3), on(1, month=6, hour=0))
    moved(write_off_sheets(sheet_size=size, count=2, note="", reason="miscut"), on(5))
    moved(write_off_sheets(sheet_size=size, count=1, note="", reason="damaged"), on(6))

    goods = goods_of(MAY)

    # 20 × 11.11; 5 of 25 sheets without a price
    assert [(row.quantity, row.paid, row.untold) for row in goods.receipts] == [(25, Decimal("222.20"), 5)]
    assert (goods.paid, goods.untold) == (Decimal("222.20"), 1)
    # 6 sheets of 2 m² are 12 m², at 12.50 worth 75; 3 spoiled are worth 37.50
    assert (goods.used, goods.used_m2, goods.used_worth) == (6, 12, Decimal("75.00"))
    assert (goods.spoiled, goods.spoiled_worth) == (3, Decimal("37.50"))
    assert [(row.label, row.sheets, row.worth) for row in goods.reasons] == [
        ("Cut or scored wrongly", 2, Decimal("25.00")),
        ("Damaged in the store", 1, Decimal("12.50")),
    ]


def test_supplies_that_came_are_listed_with_what_was_paid():
    tape = Supply.objects.create(name="Tape", kind="tape", unit="roll", price=Decimal(4))
    entry = SupplyMovement.objects.create(
        supply=tape,
        sequence=1,
        kind="receipt",
        quantity=Decimal("2.5"),
        balance=Decimal("2.5"),
        paid=Decimal(9),
    )
    moved(entry, on(7))

    (row,) = goods_of(MAY).receipts

    assert (row.what, row.quantity, row.paid, row.untold) == ("Tape", Decimal("2.5"), 9, 0)


def test_a_campaign_used_the_sheets_issued_for_its_own_plan(design):
    mine = make_sheet(make_housing(design=design, campaign=make_campaign()), stock=9)
    other = make_sheet(make_housing(design=design, campaign=make_campaign()), sheet_size=mine.sheet_size)
    for sheet in (mine, other, other):
        used = use_sheets(sheet_size=mine.sheet_size, count=1, reference=f"planned_sheet:{sheet.pk}")
        moved(used, on(8))

    assert goods_of(MAY, mine.plan.campaign).used == 1
    assert goods_of(MAY).used == 3
    assert StockMovement.objects.count() == 4


# ---- What went wrong, photos, the whole ------------------------------------------------------------------


def photographed(box, thing):
    thing.photo.save("before.jpg", ContentFile(b"x"))
    photo = HousedPhoto(housing=box, at=on(9))
    photo.photo.save("after.jpg", ContentFile(b"y"))


def test_twelve_pairs_of_photos_are_shown_and_the_rest_is_counted(design, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    for number in range(MOST + 2):
        thing = make_object(number=f"2026.{number:02d}")
        photographed(housed(design, on(9), thing), thing)
    housed(design, on(9))  # no photo
    late = make_object()
    photographed(housed(design, on(9, month=6), late), late)

    photos = photos_of(MAY)

    assert [pair.thing.number for pair in photos.shown] == [f"2026.{number:02d}" for number in range(12)]
    assert (photos.left_out, photos.without) == (2, 1)


def test_what_did_not_fit_and_what_was_asked_is_of_the_period(design):
    box = make_housing(design=design, status="made", campaign=make_campaign())
    for at in (on(31, hour=23), on(1, month=6, hour=1)):
        FitCheck.objects.create(
            housing=box, fits=False, lid_closes=True, nothing_touches=True, cause="cutting", remedy="adjust",
            minutes=Decimal(5), work_cost=Decimal("1.50"), at=at,
        )  # fmt: skip
    box.holds.create(question="Old?", reason="conservator", asked_at=on(2), answered_at=on(31), answer="Yes")
    box.holds.create(
        question="Open?", reason="conservator", asked_at=on(31), answered_at=on(2, month=6), answer="No"
    )
    box.holds.create(question="Later?", reason="board", asked_at=on(1, month=6))

    report = report_of(box.campaign, MAY.first, MAY.last, today=date(2026, 6, 3))

    assert (report.tried.adjusted, report.tried.remade, report.tried.wrong) == (1, 0, 1)
    assert report.tried.causes[0].amounts == [(Decimal("1.50"), "USD")]
    assert report.blocks.questions == (("For a conservator", 1),)


def test_of_all_campaigns_the_budget_of_each_and_no_forecast(design):
    make_campaign(currency="USD")
    make_campaign(currency="EUR")

    report = report_of(None, MAY.first, MAY.last)

    assert (report.currency, report.finish, report.burn_up) == ("", None, None)


def asked(campaign) -> int:
    with CaptureQueriesContext(
        connection,
    ) as queries:
        report_of(campaign, MAY.first, MAY.last, shows_costs=True, today=date(2026, 5, 20))
    return len(queries)


def test_more_records_ask_no_more_questions(design, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    campaign, size = make_campaign(), make_sheet_size()
    receive_sheets(sheet_size=size, count=9)
    counted = []
    for more in (1, 3):
        for _ in range(more):
            thing = make_object()
            campaign.objects_in_it.add(thing)
            box = housed(design, on(9), thing, campaign=campaign)
            photographed(box, thing)
            done(box, "cut", person=make_person())
            sheet = make_sheet(box, sheet_size=size)
            moved(
                use_sheets(sheet_size=sheet.sheet_size, count=1, reference=f"planned_sheet:{sheet.pk}"), on(9)
            )
            FitCheck.objects.create(housing=box, fits=True, lid_closes=True, nothing_touches=True, at=on(9))
        counted.append((asked(campaign), asked(None)))

    assert counted[0] == counted[1]
