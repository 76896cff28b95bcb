"""People and their grades: what an hour costs is entered, shown, taken in as a list, and refused."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from housing.intake.imports import stage_list, understood_of
from housing.intake.saving import save_list
from housing.models import Absence, Grade, Person
from tests.factories import make_campaign, make_housing, make_person, make_tasks

PEOPLE, GRADES = reverse("housing:person-list"), reverse("housing:grade-list")
NEW_PERSON, NEW_GRADE = reverse("housing:person-new"), reverse("housing:grade-new")
PERSON = {"name": "Ada Vole", "kind": "staff", "hours_per_week": "20", "rate_per_hour": "24"}
GRADE = {
    "name": "Technician", "rate_per_hour": "24", "on_cost_share": "28", "in_kind_rate": "18.50",
    "source": "Pay scale 2026",
}  # fmt: skip

pytestmark = pytest.mark.django_db


def make_grade(**given) -> Grade:
    return Grade.objects.create(**{"name": "Technician", "rate_per_hour": 24, "source": "Scale", **given})


# ---- Grades -----------------------------------------------------------------------------------------------


def test_a_grade_is_entered_and_shown_with_the_cost_of_an_hour(manager):
    manager.post(NEW_GRADE, GRADE)

    grade = Grade.objects.get()
    assert (grade.on_cost_share, grade.in_kind_rate) == (Decimal("0.28"), Decimal("18.50"))
    # 24 an hour and 28 % on-costs: 24 × 1.28 = 30.72
    assert ">30.72<" in manager.get(GRADES).content.decode()


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"source": ""}, "Say where the figures come from"),
        ({"rate_per_hour": "-1"}, "Enter 0 or more."),
        ({"on_cost_share": "201"}, "Enter 0 to 200 per cent."),
        ({"in_kind_rate": "-0.5"}, "Enter 0 or more."),
        ({"name": "Intern"}, "There is a grade of this name already."),
    ],
)
def test_a_grade_that_cannot_be_is_refused(manager, typed, told):
    make_grade(name="Intern")

    page = manager.post(NEW_GRADE, {**GRADE, **typed})

    assert told in page.content.decode()
    assert Grade.objects.count() == 1


def test_a_grade_is_deleted_only_when_nobody_has_it(manager):
    grade = make_grade()
    ada = make_person(name="Ada Vole", grade=grade)
    address = reverse("housing:grade-delete", args=[grade.pk])

    page = manager.post(address, follow=True)
    assert "is the grade of Ada Vole." in page.content.decode()
    assert Grade.objects.exists()

    ada.delete()
    manager.post(address, {"confirmed": "yes"})
    assert not Grade.objects.exists()


def test_only_managers_change_grades(maker):
    grade = make_grade()

    pages = [maker.post(NEW_GRADE, GRADE), maker.post(reverse("housing:grade-delete", args=[grade.pk]))]

    assert [page.status_code for page in pages] == [403, 403]
    assert Grade.objects.get() == grade


# ---- People -----------------------------------------------------------------------------------------------


def test_a_person_has_figures_of_their_own_or_those_of_the_grade(manager):
    grade = make_grade(on_cost_share=Decimal("0.5"))

    manager.post(NEW_PERSON, {**PERSON, "grade": grade.pk, "rate_per_hour": "0"})
    manager.post(NEW_PERSON, {**PERSON, "name": "Bo Wren", "grade": grade.pk, "on_cost_share": "10"})

    ada, bo = Person.objects.all()
    assert (ada.on_cost_share, bo.on_cost_share) == (None, Decimal("0.1"))
    page = manager.get(PEOPLE).content.decode()
    assert ">36.00<" in page  # 24 × 1.5, as the grade has it
    assert ">26.40<" in page  # 24 × 1.1


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"kind": "volunteer", "rate_per_hour": 0, "in_kind_rate": 18}, "0; worth 18.00"),
        ({"kind": "volunteer", "rate_per_hour": 0}, "0; worth not entered"),
        ({"rate_per_hour": 0}, "Not entered"),
    ],
)
def test_the_list_says_what_hours_cost(viewer, given, told):
    make_person(**given)

    assert f">{told}<" in viewer.get(PEOPLE).content.decode()


def test_the_list_of_people_asks_no_more_for_more_people(viewer, django_assert_max_num_queries):
    make_person(grade=make_grade())
    viewer.get(PEOPLE)
    with django_assert_max_num_queries(20) as of_one:
        viewer.get(PEOPLE)
    make_person(grade=make_grade(name="Intern"))
    make_person(grade=make_grade(name="Guest"))

    with django_assert_max_num_queries(len(of_one)):
        viewer.get(PEOPLE)


def test_the_list_shows_training_and_who_is_away_next(viewer):
    today = timezone.localdate()
    ada = make_person(training="experienced", starts_on=date(2026, 9, 1))
    for first, last in ((-9, -5), (30, 31), (-1, 2)):
        days = {"first_day": today + timedelta(first), "last_day": today + timedelta(last)}
        Absence.objects.create(person=ada, **days)

    (row,) = viewer.get(PEOPLE).context["table"].rows

    assert row.get_cell("training") == "Experienced"
    assert row.get_cell("is_active") == "Yes, from 01 Sep 2026"
    # the one that today lies in, not the one that is over nor the later one
    assert (row.record.away_from, row.record.away_to) == (today - timedelta(1), today + timedelta(2))


def test_a_person_is_entered_with_training_and_days(manager):
    days = {"starts_on": "2026-12-01", "ends_on": "2027-03-31"}

    manager.post(NEW_PERSON, {**PERSON, **days, "training": "newcomer"})

    ada = Person.objects.get()
    assert (ada.training, ada.starts_on, ada.ends_on) == ("newcomer", date(2026, 12, 1), date(2027, 3, 31))


def test_a_last_day_before_the_first_is_refused_beside_the_field(manager):
    days = {"starts_on": "2026-12-01", "ends_on": "2026-11-30"}

    form = manager.post(NEW_PERSON, {**PERSON, **days}).context["form"]

    told = "The first day is 01 December 2026; enter that day or a later one."
    assert form.errors == {"ends_on": [told]}
    assert not Person.objects.exists()


@pytest.mark.parametrize(
    ("typed", "leads_to"), [({"training": "newcomer"}, "#give-out"), ({"rate_per_hour": "25"}, "/people/")]
)
def test_what_changes_the_work_leads_to_the_button_that_gives_it_out_again(manager, typed, leads_to):
    ada = make_person(name="Ada Vole")
    campaign = make_campaign()
    campaign.people.add(ada)
    make_tasks(make_housing(campaign=campaign), "cut")
    same = {"skills": ["measure", "cut", "fold", "fit", "label", "return"], "handles_hazards": "on"}
    same |= {"is_active": "on", "training": "practised"}

    answer = manager.post(reverse("housing:person-edit", args=[ada.pk]), {**PERSON, **same, **typed})

    assert answer.url.endswith(leads_to)
    page = manager.get(reverse("housing:person-edit", args=[ada.pk])).content.decode()
    assert reverse("housing:campaign-give-out", args=[campaign.pk]) in page


# ---- Lists ------------------------------------------------------------------------------------------------

HEADER = "Name,Role,Hours per week,Grade,Rate per hour,On-costs %,Worth of an hour given\n"


def stage(*rows: str):
    text = HEADER + "\n".join(rows)
    return stage_list(kind="people", file_name="people.csv", data=text.encode())


def take_in(*rows: str):
    return save_list(listed=stage(*rows))


def test_a_list_brings_grades_on_costs_and_the_worth_of_hours():
    known = make_grade(name="Technician")

    take_in("Ada Vole,staff,20,technician,24,28,", "Bo Wren,volunteer,4,Volunteer,0,,18.50")

    ada, bo = Person.objects.all()
    assert (ada.grade, ada.on_cost_share, ada.in_kind_rate) == (known, Decimal("0.28"), None)
    assert (bo.grade.name, bo.on_cost_share, bo.in_kind_rate) == ("Volunteer", None, Decimal("18.50"))
    assert Grade.objects.count() == 2
    assert (bo.grade.rate_per_hour, bo.grade.in_kind_rate) == (0, Decimal("18.50"))
    assert bo.grade.source == "List people.csv, line 3"
    assert ada.grade.in_kind_rate == 0  # a grade that is known already keeps its own figures


def test_a_list_brings_training_and_days():
    text = (
        "Name,Hours per week,Training,First day,Last day\n"
        "Ada Vole,20,experienced,2026-12-01,2027-03-31\nBo Wren,4,Newcomer: easy forms first,,\n"
    )

    save_list(listed=stage_list(kind="people", file_name="people.csv", data=text.encode()))

    ada, bo = Person.objects.all()
    assert (ada.training, ada.starts_on, ada.ends_on) == ("experienced", date(2026, 12, 1), date(2027, 3, 31))
    assert (bo.training, bo.starts_on, bo.ends_on) == ("newcomer", None, None)


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        ("expert,,", "“expert” is not known here. Write one of: newcomer, practised, experienced."),
        (",1 Dec,", "“1 Dec” is no date."),
        (",2026-12-02,2026-12-01", "The last day, 2026-12-01, lies before the first, 2026-12-02."),
        (",,2026-08-31", "The last day, 2026-08-31, lies before the first, 2026-09-01."),
    ],
)
def test_training_and_days_of_a_list_that_cannot_be_are_refused(cells, told):
    make_person(name="Ada Vole", starts_on=date(2026, 9, 1))
    text = f"Name,Training,First day,Last day\nAda Vole,{cells}\n"

    listed = stage_list(kind="people", file_name="people.csv", data=text.encode())

    (reading,) = understood_of(listed).rows
    assert reading.status == "refused"
    assert told in reading.messages[0]


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("Ada Vole,staff,20,,24,300,", "“300” is not between 0 and 200"),
        ("Ada Vole,staff,20,,24,much,", "“much” is not a number"),
        ("Ada Vole,staff,20,,24,,-3", "“-3” is not between 0 and 99999"),
    ],
)
def test_rates_of_a_list_that_cannot_be_are_refused(row, told):
    (reading,) = understood_of(stage(row)).rows

    assert reading.status == "refused"
    assert told in reading.messages[0]
