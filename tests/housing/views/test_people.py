"""People and their grades: what an hour costs is entered, shown, taken in as a list, and refused."""

from decimal import Decimal

import pytest
from django.urls import reverse

from housing.intake.imports import stage_list, understood_of
from housing.intake.saving import save_list
from housing.models import Grade, Person
from tests.factories import make_person

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
    manager.post(address)
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
