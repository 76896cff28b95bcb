"""Lists of people; what the list says of accounts is left aside, because a manager gives those out."""

from housing.models import Person
from housing.models.people import SKILL_SEPARATOR
from objects.intake import Field, ListKind, Row


class PersonList(ListKind):
    """Staff, volunteers and interns, one a row."""

    key = "people"
    model, identity, identity_label = Person, "name", "name"
    fields = (
        Field("name", "Name", ("person", "full name"), required=True),
        Field("kind", "Role", ("kind", "type", "position")),
        Field("hours_per_week", "Hours per week", ("hours", "weekly hours", "hours a week")),
        Field("rate_per_hour", "Rate per hour", ("rate", "hourly rate", "cost per hour")),
        Field("skills", "Skills", ("skill", "can do")),
        Field("handles_hazards", "Handles hazards", ("hazards", "may handle hazardous objects")),
    )

    def read(self, row: Row) -> None:
        row.text("name", 120)
        row.choice("kind", Person.Kind.choices)
        row.number("hours_per_week", "0", "80", places=1)
        row.number("rate_per_hour", "0", "99999")
        row.several("skills", Person.Skill.choices, SKILL_SEPARATOR)
        row.yes_no("handles_hazards")

    def settle(self, row: Row, record: Person | None) -> None:
        if record is None and "hours_per_week" not in row.values:
            row.refuse("A new person needs hours per week. Write 0 if there are none at present.")
