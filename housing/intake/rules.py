"""Lists of design rules: they replace all the rules of one campaign."""

from collections.abc import Sequence
from typing import Any

from django.db.models import QuerySet

from housing.models import Design, DesignRule
from objects.intake import Field, IntakeRefused, ListKind, Row, RowReading


class RuleList(ListKind):
    """The rules of a campaign in their order; blank conditions match anything."""

    key = "rules"
    model, identity, identity_label = DesignRule, "position", "position"
    fields = (
        Field("position", "Position", ("no", "number", "order", "rule"), required=True),
        Field("classification", "Classification", ("class", "category")),
        Field("material", "Material contains", ("material", "materials")),
        Field("weight_over_g", "Weight over (kg)", ("weight over", "heavier than", "weight over (g)")),
        Field("largest_over_mm", "Largest side over", ("larger than",)),
        Field("largest_up_to_mm", "Largest side up to", ("up to",)),
        Field("design", "Design", ("design name",), required=True),
        Field("reason", "Reason", ("why", "note", "notes")),
    )
    # A rule is replaced whole, so a blank cell clears its condition instead of leaving it.
    BLANK = {
        "classification": "",
        "material": "",
        "weight_over_g": None,
        "largest_over_mm": None,
        "largest_up_to_mm": None,
        "reason": "",
    }

    def __init__(self, **context) -> None:
        super().__init__(**context)
        self.designs = {design.name.casefold(): design for design in Design.objects.all()}

    def records(self) -> QuerySet[DesignRule]:
        return DesignRule.objects.filter(campaign=self.campaign).select_related("design")

    def existing(self) -> dict[str, DesignRule]:
        return {str(rule.position): rule for rule in self.records()}

    def read(self, row: Row) -> None:
        row.values |= self.BLANK
        row.whole("position", 1, 10_000)
        row.text("classification", 80)
        row.text("material", 80)
        row.weight("weight_over_g")
        row.length("largest_over_mm")
        row.length("largest_up_to_mm")
        row.text("reason", 300)
        name = row.cell("design")
        if design := self.designs.get(name.casefold()):
            row.values["design"] = design
        elif name:
            row.refuse_cell(
                "design",
                f"there is no design called “{name}”. Take in the designs first, or correct the name.",
            )

    def check_whole(self, rows: Sequence[RowReading]) -> None:
        """Rules work only together: without a refused row they would choose other designs."""
        bad = [str(row.line) for row in rows if row.status == "refused"]
        if bad:
            raise IntakeRefused(
                f"The rules replace each other as a whole, and line {', '.join(bad)} cannot be used. "
                "Correct the list and hand it in again."
            )

    def rows_to_write(self, rows: Sequence[RowReading]) -> list[RowReading]:
        """All rows, as soon as one differs or the campaign has a rule that the list has not."""
        is_same = all(row.status == "unchanged" for row in rows) and len(rows) == self.records().count()
        return [] if is_same else list(rows)

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        if self.campaign is None:
            raise IntakeRefused("Choose the campaign whose rules these are.")
        DesignRule.objects.filter(campaign=self.campaign).delete()
        DesignRule.objects.bulk_create(DesignRule(campaign=self.campaign, **row.values) for row in rows)
