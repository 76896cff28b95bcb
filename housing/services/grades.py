"""Grades of pay: taken away only when nobody has them."""

from django.db import transaction

from housing.models import Grade
from objects.core.refusals import Refusal
from objects.core.words import say

NAMED = 3  # people named in a refusal


class GradeRefused(Refusal):
    """A grade cannot be taken away; the message is a sentence for the reader."""


@transaction.atomic
def delete_grade(*, grade: Grade) -> None:
    """Delete a grade. Raises GradeRefused while somebody has it, since their rates would be gone with it."""
    grade = Grade.objects.select_for_update().get(pk=grade.pk)
    people = [person.name for person in grade.people.order_by("name")]
    if people:
        more = say(" and {count} more", count=len(people) - NAMED) if len(people) > NAMED else ""
        raise GradeRefused(
            say(
                "“{grade}” is the grade of {people}{more}. Give them another grade, or rates of their "
                "own, then delete it.",
                grade=grade,
                people=", ".join(people[:NAMED]),
                more=more,
            )
        )
    grade.delete()
