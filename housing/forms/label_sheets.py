"""The form of a label sheet: what a ruler tells, as much of it as is needed; the rest follows."""

from decimal import Decimal

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from boards.forms import ExactLengthField
from housing.core.label_sheets import MOST_LABELS, Along, LabelLayout, LayoutRefused, complete
from housing.models import LabelSheet
from housing.printing.papers import PAPERS
from objects.core.lengths import FINEST, in_unit

OWN = "own"
PAGES = [("A4", "A4"), ("letter", gettext_lazy("US Letter")), (OWN, gettext_lazy("Another size, or a roll"))]


class ShiftField(ExactLengthField):
    """A length that may point the other way: -1 mm is to the left or up."""

    def prepare_value(self, value):
        if isinstance(value, Decimal) and value < 0:
            return f"-{super().prepare_value(-value)}"
        return super().prepare_value(value)

    def clean(self, value) -> Decimal | None:
        plain = (value or "").strip().replace("−", "-").replace("–", "-")
        length = super().clean(plain.removeprefix("-"))
        return -length if length and plain.startswith("-") else length


class LabelSheetForm(forms.ModelForm):
    """A sheet by its measures. After is_valid() `layout` is the sheet, complete."""

    page = forms.ChoiceField(label=gettext_lazy("Page"), choices=PAGES, initial="A4")
    page_width_mm = ExactLengthField(label=gettext_lazy("Width of the page"), required=False)
    page_height_mm = ExactLengthField(label=gettext_lazy("Height of the page"), required=False)
    columns = forms.IntegerField(label=gettext_lazy("Labels across"))
    rows = forms.IntegerField(label=gettext_lazy("Labels down"))
    left_mm = ExactLengthField(label=gettext_lazy("Margin on the left"), may_be_zero=True, required=False)
    right_mm = ExactLengthField(label=gettext_lazy("Margin on the right"), may_be_zero=True, required=False)
    label_width_mm = ExactLengthField(label=gettext_lazy("Width of a label"), required=False)
    gap_x_mm = ExactLengthField(label=gettext_lazy("Gap between columns"), may_be_zero=True, required=False)
    top_mm = ExactLengthField(label=gettext_lazy("Margin above"), may_be_zero=True, required=False)
    bottom_mm = ExactLengthField(label=gettext_lazy("Margin below"), may_be_zero=True, required=False)
    label_height_mm = ExactLengthField(label=gettext_lazy("Height of a label"), required=False)
    gap_y_mm = ExactLengthField(label=gettext_lazy("Gap between rows"), may_be_zero=True, required=False)
    offset_x_mm = ShiftField(label=gettext_lazy("Move to the right"), may_be_zero=True, required=False)
    offset_y_mm = ShiftField(label=gettext_lazy("Move down"), may_be_zero=True, required=False)

    class Meta:
        model = LabelSheet
        fields = [
            "name", "page_width_mm", "page_height_mm", "columns", "rows", "left_mm", "label_width_mm",
            "gap_x_mm", "top_mm", "label_height_mm", "gap_y_mm", "offset_x_mm", "offset_y_mm",
        ]  # fmt: skip

    GROUPS = (
        (gettext_lazy("The page"), ("name", "page", "page_width_mm", "page_height_mm", "columns", "rows")),
        (gettext_lazy("Across"), ("left_mm", "label_width_mm", "gap_x_mm", "right_mm")),
        (gettext_lazy("Down"), ("top_mm", "label_height_mm", "gap_y_mm", "bottom_mm")),
        (gettext_lazy("Where the printer shifts"), ("offset_x_mm", "offset_y_mm")),
    )

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        self.unit, self.layout = unit, None
        for field in self.fields.values():
            if isinstance(field, ExactLengthField):
                field.read_in(unit)
                field.help_text = ""
        for name in ("columns", "rows"):
            said = _("Enter a whole number from 1 to {most}.").format(most=MOST_LABELS)
            self.fields[name].validators = [
                MinValueValidator(1, message=said), MaxValueValidator(MOST_LABELS, message=said)
            ]  # fmt: skip
            self.fields[name].error_messages["invalid"] = said
            self.fields[name].widget.attrs["min"] = 1
        if self.instance.pk:
            self.initial["page"] = _page_of(self.instance)

    @property
    def groups(self) -> list[tuple[str, list]]:
        """Fields under their headings."""
        return [(heading, [self[name] for name in names]) for heading, names in self.GROUPS]

    def clean(self) -> dict:
        clean = super().clean()
        if self.errors:
            return clean
        if clean["page"] != OWN:
            paper = PAPERS[clean["page"]]
            clean["page_width_mm"], clean["page_height_mm"] = _mm(paper.width_mm), _mm(paper.height_mm)
        for name in ("page_width_mm", "page_height_mm"):
            if not clean.get(name):
                self.add_error(name, _("Measure the page, or choose one of the papers."))
        if self.errors:
            return clean
        self._complete(clean, "x", "page_width_mm", "columns", ("left", "right", "label_width", "gap_x"))
        self._complete(clean, "y", "page_height_mm", "rows", ("top", "bottom", "label_height", "gap_y"))
        for name in ("offset_x_mm", "offset_y_mm"):
            clean[name] = clean[name] or Decimal(0)
        if not self.errors:
            self._check(clean)
        return clean

    def _complete(self, clean: dict, axis: str, page: str, number: str, names: tuple[str, ...]) -> None:
        """Fill in what was not measured along one side, or say beside its fields what is wrong."""
        told = [None if clean[f"{name}_mm"] is None else float(clean[f"{name}_mm"]) for name in names]
        try:
            found = complete(Along(float(clean[page]), clean[number], *told), is_width=axis == "x")
        except LayoutRefused as refused:
            self.add_error(f"{names[2]}_mm", in_unit(str(refused), self.unit))
        else:
            for name, value in zip((names[0], names[2], names[3]), found, strict=True):
                clean[f"{name}_mm"] = _mm(value)

    def _check(self, clean: dict) -> None:
        names = [field for field in self.Meta.fields if field != "name"]
        try:
            self.layout = LabelLayout(
                **{name: clean[name] if name in ("columns", "rows") else float(clean[name]) for name in names}
            )
        except LayoutRefused as refused:
            self.add_error(None, in_unit(str(refused), self.unit))


def _mm(value: float) -> Decimal:
    return Decimal(str(value)).quantize(FINEST)


def _page_of(sheet: LabelSheet) -> str:
    sides = float(sheet.page_width_mm), float(sheet.page_height_mm)
    return next((key for key, paper in PAPERS.items() if (paper.width_mm, paper.height_mm) == sides), OWN)
