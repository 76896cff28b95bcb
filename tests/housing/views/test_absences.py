"""Days away: entered, shown by week, changed, deleted, and refused."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from housing.models import Absence
from housing.queries.absences import weeks_away
from tests.factories import make_campaign, make_housing, make_person, make_tasks

AWAY = reverse("housing:absence-list")
DAYS = {"first_day": "2026-12-21", "last_day": "2027-01-01", "note": "Holiday"}

pytestmark = pytest.mark.django_db


def make_absence(**given) -> Absence:
    today = timezone.localdate()
    return Absence.objects.create(
        **{"person": given.get("person") or make_person(), "first_day": today, "last_day": today, **given}
    )


def new(person) -> str:
    return reverse("housing:absence-new", args=[person.pk])


def test_days_away_are_entered_and_stand_with_the_person(manager):
    ada = make_person(name="Ada Vole")

    answer = manager.post(new(ada), DAYS, follow=True)

    absence = Absence.objects.get()
    assert (absence.first_day, absence.last_day) == (date(2026, 12, 21), date(2027, 1, 1))
    assert answer.redirect_chain == [(f"/people/{ada.pk}/edit/#away", 302)]
    (told,) = map(str, answer.context["messages"])
    assert told.startswith("Ada Vole is away 21 Dec 2026 to 1 Jan 2027. Give out the work again")
    assert "21 Dec 2026 to 1 Jan 2027" in answer.content.decode()


def test_days_away_may_overlap_and_a_single_day_is_one(manager):
    ada = make_person()

    manager.post(new(ada), DAYS)
    manager.post(new(ada), {"first_day": "2026-12-24", "last_day": "2026-12-24"})

    assert ada.absences.count() == 2


def test_days_away_are_changed_and_deleted(manager):
    absence = make_absence()

    manager.post(reverse("housing:absence-edit", args=[absence.pk]), DAYS)
    absence.refresh_from_db()
    assert absence.note == "Holiday"

    manager.post(reverse("housing:absence-delete", args=[absence.pk]), {"confirmed": "yes"})
    assert not Absence.objects.exists()


def test_who_is_away_is_shown_by_week_with_a_button_to_give_out_the_work_again(manager):
    campaign = make_campaign()
    make_tasks(make_housing(campaign=campaign), "cut")
    make_absence(person=make_person(name="Ada Vole"), last_day=timezone.localdate() + timedelta(7))

    page = manager.get(AWAY)

    assert [one.absence.person.name for week in page.context["weeks"] for one in week.away][0] == "Ada Vole"
    assert reverse("housing:campaign-give-out", args=[campaign.pk]) in page.content.decode()


def test_each_week_tells_how_many_of_its_days_are_taken():
    # From Thursday 10 to Tuesday 15 December 2026: Thursday and Friday of the one week, two days of the next.
    absence = make_absence(first_day=date(2026, 12, 10), last_day=date(2026, 12, 15))

    weeks = weeks_away([absence], date(2026, 12, 9), 3)

    assert [week.words for week in weeks] == [
        "7 to 11 Dec 2026", "14 to 18 Dec 2026", "21 to 25 Dec 2026",
    ]  # fmt: skip
    assert [[one.share for one in week.away] for week in weeks] == [["2 of 5 days"], ["2 of 5 days"], []]


def test_the_page_asks_no_more_for_more_absences(viewer):
    counts = []
    for _ in range(3):
        make_absence()
        with CaptureQueriesContext(connection) as made:
            viewer.get(AWAY)
        counts.append(len(made))

    assert counts[0] == counts[1] == counts[2]


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "field", "told"),
    [
        ({"last_day": "2026-12-20"}, "last_day", "The first day away is 21 December 2026;"),
        ({"last_day": "2062-01-01"}, "last_day", "That is more than three years."),
        ({"first_day": ""}, "first_day", "This field is required."),
        ({"first_day": "soon"}, "first_day", "Enter a valid date."),
    ],
)
def test_days_that_cannot_be_are_refused_beside_their_field(manager, typed, field, told):
    form = manager.post(new(make_person()), {**DAYS, **typed}).context["form"]

    assert list(form.errors) == [field]
    assert told in form.errors[field][0]
    assert not Absence.objects.exists()


def test_only_managers_enter_days_away(maker):
    absence = make_absence()
    addresses = [
        new(absence.person),
        reverse("housing:absence-edit", args=[absence.pk]),
        reverse("housing:absence-delete", args=[absence.pk]),
    ]

    assert [maker.post(address, DAYS).status_code for address in addresses] == [403, 403, 403]
    assert Absence.objects.get().note == ""


def test_an_absence_that_is_not_there_is_missing(manager):
    assert manager.post(reverse("housing:absence-delete", args=[999])).status_code == 404
    assert manager.get(reverse("housing:absence-new", args=[999])).status_code == 404


def test_who_is_not_signed_in_is_asked_to(client):
    assert client.get(AWAY).status_code == 302
