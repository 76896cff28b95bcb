"""Forms of boards, sheets and stock: lengths typed in either unit become millimetres here."""

from datetime import date
from decimal import Decimal

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from boards.models import Board, BoardStatement, Offcut, SheetSize
from objects.core.areas import AreaError, format_area, parse_area
from objects.core.lengths import FINEST, LengthError, format_length, format_size, parse_length
from objects.forms.catalogue import LengthField


class ExactLengthField(LengthField):
    """A length that comes back exactly as stored, even where the reader's own unit would round it."""

    def __init__(self, *, may_be_zero: bool = False, **given):
        super().__init__(**given)
        self.may_be_zero = may_be_zero
        self.read_in("in")

    def read_in(self, unit: str) -> None:
        """Take a number without a unit as being in `unit`, and say so."""
        self.bare_unit, self.unit = unit, ""
        named = "inches" if unit == "in" else unit
        self.help_text = f"Such as 10 3/4 in or 27.3 cm; a number alone is {named}."

    def prepare_value(self, value):
        if not isinstance(value, Decimal):
            return value
        text = format_length(value, self.bare_unit)
        exact = parse_length(text, may_be_zero=True) == value.quantize(FINEST)
        return text if exact else f"{value.normalize():f} mm"

    def clean(self, value) -> Decimal | None:
        text = forms.CharField.clean(self, value)
        if not text:
            return None
        try:
            length = parse_length(text, self.bare_unit, may_be_zero=self.may_be_zero or self.required)
        except LengthError as error:
            raise forms.ValidationError(str(error)) from error
        if not length and not self.may_be_zero:
            raise forms.ValidationError("Enter more than 0.")
        return length


class ExactAreaField(forms.CharField):
    """An area that becomes mm² and comes back exactly as stored, even where the reader's unit rounds it."""

    def __init__(self, *, hint: str = "", **given):
        super().__init__(**given)
        self.hint = hint
        self.read_in("in")

    def read_in(self, unit: str) -> None:
        """Take a number without a unit as being in square inches for "in", else square centimetres."""
        self.bare_unit = unit
        named = "square inches" if unit == "in" else "square centimetres"
        self.help_text = f"Such as 40 sq in or 250 cm²; a number alone is {named}. {self.hint}".strip()

    def prepare_value(self, value):
        if not isinstance(value, Decimal):
            return value
        texts = (format_area(value, unit) for unit in (self.bare_unit, "in", "cm"))
        is_exact = [text for text in texts if parse_area(text, self.bare_unit) == value]
        return is_exact[0] if is_exact else f"{value / 100:f} cm²"

    def clean(self, value) -> Decimal | None:
        text = super().clean(value)
        if not text:
            return None
        try:
            return parse_area(text, self.bare_unit)
        except AreaError as error:
            raise forms.ValidationError(str(error)) from error


class LengthsForm(forms.ModelForm):
    """A form whose lengths and areas are read in the reader's unit, and whose numbers keep to `limits`."""

    limits: dict[str, tuple[int, int | None]] = {}

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        for field in self.fields.values():
            if isinstance(field, (ExactLengthField, ExactAreaField)):
                field.read_in(unit)
        for name, (least, most) in self.limits.items():
            self._keep_between(self.fields[name], least, most)

    @staticmethod
    def _keep_between(field: forms.Field, least: int, most: int | None) -> None:
        words = f"Enter {least:,} or more." if most is None else f"Enter {least:,} to {most:,}."
        field.validators = [one for one in field.validators if not isinstance(one, MinValueValidator)]
        field.validators.append(MinValueValidator(least, message=words))
        field.widget.attrs["min"] = least
        if most is not None:
            field.validators.append(MaxValueValidator(most, message=words))
            field.widget.attrs["max"] = most


class BoardForm(LengthsForm):
    """What a board is made of and how it folds."""

    caliper_mm = ExactLengthField(label="Caliper (thickness)")

    class Meta:
        model = Board
        fields = [
            "code", "name", "construction", "flute", "caliper_mm", "fold_share", "grammage_g_m2",
            "is_buffered", "standards", "edge_crush_kn_m",
        ]  # fmt: skip
        labels = {"grammage_g_m2": "Grammage in g/m²", "edge_crush_kn_m": "Edge crush in kN/m"}
        help_texts = {"edge_crush_kn_m": "If the maker states it."}

    limits = {"grammage_g_m2": (1, None), "edge_crush_kn_m": (0, None)}

    def clean_caliper_mm(self) -> Decimal:
        if (caliper := self.cleaned_data["caliper_mm"]) > 100:
            raise forms.ValidationError("A board is less than 100 mm thick. Check the figure and the unit.")
        return caliper


class SheetForm(LengthsForm):
    """A sheet size a board is sold in; a size is entered once a board."""

    along_mm = ExactLengthField(label="Length along the flutes or grain")
    across_mm = ExactLengthField(label="Width across the flutes or grain")

    class Meta:
        model = SheetSize
        fields = ["along_mm", "across_mm", "price", "pack", "is_offered"]

    limits = {"price": (0, None), "pack": (1, 10_000)}

    def clean(self) -> dict:
        clean = super().clean()
        same = SheetSize.objects.filter(
            board=self.instance.board, along_mm=clean.get("along_mm"), across_mm=clean.get("across_mm")
        )
        if same.exclude(pk=self.instance.pk).exists():
            self.add_error("along_mm", "This board has a sheet of this size already. Change that one.")
        return clean

    @transaction.atomic
    def save(self, commit: bool = True) -> SheetSize:
        """Store the sheet and note the change at its board, which plans are compared with."""
        sheet = super().save(commit)
        sheet.board.save(update_fields=["changed_at"])
        return sheet


class StatementForm(forms.ModelForm):
    """That somebody states of a board that it meets a standard, and when."""

    class Meta:
        model = BoardStatement
        fields = ["standard", "stated_by", "stated_on", "note"]
        widgets = {"stated_on": forms.DateInput(attrs={"type": "date"})}
        error_messages = {"stated_by": {"required": "Say who states it, such as the supplier."}}

    def clean_stated_on(self) -> date | None:
        if (stated_on := self.cleaned_data["stated_on"]) and stated_on > timezone.localdate():
            raise forms.ValidationError("This day is still to come. Enter the day on which it was stated.")
        return stated_on


class OffcutForm(LengthsForm):
    """An offcut as it is measured at the rack."""

    along_mm = ExactLengthField(label="Length along the flutes or grain")
    across_mm = ExactLengthField(label="Width across the flutes or grain")

    class Meta:
        model = Offcut
        fields = ["along_mm", "across_mm", "note"]
        help_texts = {"note": "Such as where it stands."}

    def clean(self) -> dict:
        """Refuse what is longer than every sheet of the board: a slip, and plans would rely on it."""
        clean = super().clean()
        for name, side in (("along_mm", "long"), ("across_mm", "wide")):
            largest = self.instance.board.sheet_sizes.aggregate(most=Max(name))["most"]
            if largest and (length := clean.get(name)) and length > largest:
                told, most = (format_length(each, self.fields[name].bare_unit) for each in (length, largest))
                self.add_error(
                    name, f"{told} is more than any sheet of this board is {side} ({most}). Check the figure."
                )
        return clean


class SheetChoice(forms.ModelChoiceField):
    """Sheets to choose from, told in the reader's unit."""

    told_in = "in"

    def label_from_instance(self, sheet: SheetSize) -> str:
        return f"{sheet.board.code} {format_size((sheet.along_mm, sheet.across_mm), self.told_in)}"


class StockForm(forms.Form):
    """Sheets of one board that came in, or that were spoiled or are missing."""

    sheet_size = SheetChoice(SheetSize.objects.none(), label="Sheet", empty_label=None)
    count = forms.IntegerField(
        label="Sheets",
        min_value=1,
        max_value=100_000,
        error_messages={"min_value": "Enter 1 or more.", "max_value": "Enter 100,000 or fewer."},
    )
    note = forms.CharField(max_length=200, required=False, help_text="Such as the delivery note.")
    action = forms.ChoiceField(choices=[("receive", "Receive"), ("write_off", "Write off")])

    def __init__(self, *given, board: Board, unit: str, **named):
        super().__init__(*given, **named)
        self.fields["sheet_size"].told_in = unit
        self.fields["sheet_size"].queryset = board.sheet_sizes.select_related("board")
