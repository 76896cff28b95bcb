"""Lists of people; what the list says of accounts is left aside, because a manager gives those out."""

from collections.abc import Iterable
from typing import Any

from boards.intake.buying import read_day
from housing.models import Grade, Person
from housing.models.people import SKILL_SEPARATOR
from objects.core.words import noted, say
from objects.intake import Field, ListKind, Row, RowReading

FIGURES = {"rate_per_hour", "on_cost_share", "in_kind_rate"}
LONGEST_SOURCE = 300


class PersonList(ListKind):
    """Staff, volunteers and interns, one a row."""

    key = "people"
    model, identity, identity_label = Person, "name", noted("name")
    fields = (
        Field("name", noted("Name"), ("person", "full name"), required=True),
        Field("kind", noted("Role"), ("kind", "type", "position")),
        Field("hours_per_week", noted("Hours per week"), ("hours", "weekly hours", "hours a week")),
        Field("rate_per_hour", noted("Rate per hour"), ("rate", "hourly rate", "cost per hour")),
        Field("grade", noted("Grade"), ("pay grade",)),
        Field(
            "on_cost_share", noted("On-costs %"), ("on-costs", "on costs", "fringe %", "fringe benefits %")
        ),
        Field(
            "in_kind_rate", "Worth of an hour given", ("in-kind rate", "in-kind value", "value of an hour")
        ),
        Field("skills", noted("Skills"), ("skill", "can do")),
        Field("handles_hazards", noted("Handles hazards"), ("hazards", "may handle hazardous objects")),
        Field("training", noted("Training"), ("training level", "experience")),
        Field("starts_on", noted("First day"), ("starts on", "start date", "works from")),
        Field("ends_on", noted("Last day"), ("ends on", "end date", "works until")),
    )

    def __init__(self, **context: Any) -> None:
        super().__init__(**context)
        self.grades = {grade.name.casefold(): grade for grade in Grade.objects.all()}

    def records(self) -> Iterable[Person]:
        return Person.objects.select_related("grade")

    def read(self, row: Row) -> None:
        row.text("name", 120)
        row.choice("kind", Person.Kind.choices)
        row.number("hours_per_week", "0", "80", places=1)
        row.number("rate_per_hour", "0", "99999")
        self._read_grade(row)
        row.number("on_cost_share", "0", "200")
        if "on_cost_share" in row.values:
            row.values["on_cost_share"] /= 100
        row.number("in_kind_rate", "0", "99999")
        row.several("skills", Person.Skill.choices, SKILL_SEPARATOR)
        row.yes_no("handles_hazards")
        row.choice("training", Person.Training.choices)
        read_day(row, "starts_on")
        read_day(row, "ends_on")

    def _read_grade(self, row: Row) -> None:
        row.text("grade", 80)
        if name := row.values.get("grade"):
            known = self.grades.setdefault(name.casefold(), Grade(name=name))
            if known.pk is None:
                row.notes.append(
                    say(
                        "“{name}” is not known as a grade yet and is entered as one, with the figures of its "
                        "first row.",
                        name=name,
                    )
                )
            row.values["grade"] = known

    def settle(self, row: Row, record: Person | None) -> None:
        if record is None and "hours_per_week" not in row.values:
            row.refuse(noted("A new person needs hours per week. Write 0 if there are none at present."))
        first = row.values.get("starts_on", record.starts_on if record else None)
        last = row.values.get("ends_on", record.ends_on if record else None)
        if first and last and last < first:
            row.refuse(
                say(
                    "The last day, {last}, lies before the first, {first}. Check both.",
                    last=last,
                    first=first,
                )
            )

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        for row in rows:
            grade = row.values.get("grade")
            if grade is not None and grade.pk is None:
                for figure in FIGURES & row.values.keys():
                    setattr(grade, figure, row.values[figure])
                grade.source = noted("List {file}, line {line}").format(
                    file=self.file_name or "of people", line=row.line
                )[:LONGEST_SOURCE]
                grade.save()
        super().save(rows, by)
