"""Lists of design rules: they replace all the rules of one campaign, and can be written out again."""

import csv
from collections.abc import Sequence
from decimal import Decimal
from io import StringIO
from typing import Any

from django.conf import settings
from django.db.models import QuerySet

from boards.core.standards import standard_choices
from housing.core.choosing import mark_choices
from housing.models import Campaign, Design, DesignRule
from housing.models.designs import form_choices
from objects.core.cells import neutral_cell
from objects.core.words import noted, say
from objects.intake import Field, IntakeRefused, ListKind, Row, RowReading, preview

SHIPPED = settings.BASE_DIR / "fixtures" / "rules.csv"
SEPARATOR = "; "
SEVERAL = {
    "flags": lambda: list(DesignRule.Flag.choices),
    "marks": mark_choices,
    "asks_for": standard_choices,
}
WEIGHTS = ("weight_over_g", "weight_up_to_g")
LENGTHS = ("largest_over_mm", "largest_up_to_mm", "thinnest_up_to_mm", "least_caliper_mm")
ALLOWANCES = ("height_allowance_mm", "side_allowance_mm")
TEXTS = {"classification": 80, "material": 300, "padding": 120, "reason": 300, "source": 300}
CHOICES = {
    "shape": lambda: DesignRule.Shape.choices,
    "form": form_choices,
    "board_kind": lambda: DesignRule.BoardKind.choices,
}
ADVICE = ("design", "form", "board_kind", "least_caliper_mm", "padding", *ALLOWANCES, "marks", "asks_for")


class RuleList(ListKind):
    """The rules of a campaign in their order; blank conditions match anything, blank advice says nothing."""

    key = "rules"
    model, identity, identity_label = DesignRule, "position", noted("position")
    fields = (
        Field("position", noted("Position"), ("no", "number", "order", "rule"), required=True),
        Field("classification", noted("Classification"), ("class", "category")),
        Field("material", noted("Material contains"), ("material", "materials")),
        Field("weight_over_g", noted("Weight over (kg)"), ("weight over", "heavier than", "weight over (g)")),
        Field(
            "weight_up_to_g", noted("Weight up to (kg)"), ("weight up to", "lighter than", "weight up to (g)")
        ),
        Field("largest_over_mm", noted("Largest side over"), ("larger than",)),
        Field("largest_up_to_mm", noted("Largest side up to"), ("up to",)),
        Field("thinnest_up_to_mm", noted("Thinnest side up to"), ("thickness up to", "thinner than")),
        Field("shape", noted("Shape")),
        Field("flags", noted("All of this is so"), ("flags", "also")),
        Field("design", noted("Design"), ("design name",)),
        Field("form", noted("Form"), ("enclosure", "enclosure form")),
        Field("board_kind", noted("Kind of board"), ("board", "board kind")),
        Field("least_caliper_mm", noted("Board at least as thick as"), ("least caliper", "caliper at least")),
        Field("padding", noted("Padding"), ("lining",)),
        Field("height_allowance_mm", noted("Allowance on the height"), ("height allowance",)),
        Field("side_allowance_mm", noted("Allowance on each side"), ("side allowance",)),
        Field("marks", noted("Marks on the label"), ("marks",)),
        Field("asks_for", noted("Standards the board must meet"), ("standards", "asks for")),
        Field("reason", noted("Reason"), ("why", "note", "notes")),
        Field("source", noted("Source"), ("where the advice comes from",)),
        Field("is_advice", noted("To be confirmed with a conservator"), ("to be confirmed", "is advice")),
    )
    # A rule is replaced whole, so a blank cell clears its condition instead of leaving it.
    BLANK = {
        **dict.fromkeys((*TEXTS, *CHOICES), ""),
        **dict.fromkeys((*WEIGHTS, *LENGTHS, *ALLOWANCES, "design")),
        "is_advice": False,
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
        for key, limit in TEXTS.items():
            row.text(key, limit)
        for key in WEIGHTS:
            row.weight(key)
        for key in LENGTHS:
            row.length(key)
        for key in ALLOWANCES:
            row.length(key, may_be_zero=True)
        for key, choices in CHOICES.items():
            row.choice(key, choices())
        for key, choices in SEVERAL.items():
            row.several(key, choices(), SEPARATOR)
            joined = row.values.get(key, "")
            row.values[key] = joined.split(SEPARATOR) if joined else []
        row.yes_no("is_advice")
        name = row.cell("design")
        if design := self.designs.get(name.casefold()):
            row.values["design"] = design
        elif name:
            row.refuse_cell(
                "design",
                say(
                    "there is no design called “{name}”. Take in the designs first, or correct the name.",
                    name=name,
                ),
            )
        if not row.problems and not any(row.values[key] not in (None, "", []) for key in ADVICE):
            row.refuse(
                noted("This rule advises nothing. Name a design or a form, or fill in some other advice.")
            )

    def check_whole(self, rows: Sequence[RowReading]) -> None:
        """Rules work only together: without a refused row they would choose other designs."""
        bad = [str(row.line) for row in rows if row.status == "refused"]
        if bad:
            raise IntakeRefused(
                say(
                    "The rules replace each other as a whole, and line {bad} cannot be used. Correct the "
                    "list and hand it in again.",
                    bad=", ".join(bad),
                )
            )

    def rows_to_write(self, rows: Sequence[RowReading]) -> list[RowReading]:
        """All rows, as soon as one differs or the campaign has a rule that the list has not."""
        is_same = all(row.status == "unchanged" for row in rows) and len(rows) == self.records().count()
        return [] if is_same else list(rows)

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        if self.campaign is None:
            raise IntakeRefused(say("Choose the campaign whose rules these are."))
        DesignRule.objects.filter(campaign=self.campaign).delete()
        DesignRule.objects.bulk_create(DesignRule(campaign=self.campaign, **row.values) for row in rows)


def shipped_rules() -> list[DesignRule]:
    """The rules that come with the program, not stored yet, in their order."""
    rows = preview(RuleList(), SHIPPED.read_bytes()).rows
    return [DesignRule(**row.values) for row in rows]


def rules_csv(campaign: Campaign) -> str:
    """The rules of a campaign under the headings they are read by; lengths in mm, weights in kg."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([field.label for field in RuleList.fields])
    for rule in campaign.rules.select_related("design"):
        writer.writerow([neutral_cell(_cell(rule, field.key)) for field in RuleList.fields])
    return out.getvalue()


def _cell(rule: DesignRule, key: str) -> str:
    """One value as a list has it: exact, with its unit where it is a length."""
    value = getattr(rule, key)
    if value is None or value == "":
        return ""
    if key in SEVERAL:
        return SEPARATOR.join(value)
    if key in WEIGHTS:
        return f"{(value / 1000).normalize():f}"
    if isinstance(value, bool):
        return "yes" if value else ""
    return f"{value.normalize():f} mm" if isinstance(value, Decimal) else str(value)
