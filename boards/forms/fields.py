"""Fields that forms share: lengths and areas typed in either unit, shares typed in per cent, price breaks."""

from decimal import Decimal

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.text import format_lazy

from boards.core.price_breaks import Breaks, BreaksRefused, breaks_text, parse_breaks
from objects.core.areas import AreaError, format_area, parse_area
from objects.core.lengths import FINEST, LengthError, clear_figure, format_exact, format_length, parse_length
from objects.core.words import noted, say
from objects.forms.catalogue import LengthField
from objects.speaking import say_later

WHOLE, PLACES = Decimal(1), 4


class ExactLengthField(LengthField):
    """A length that comes back exactly as stored, even where the reader's own unit would round it."""

    def __init__(self, *, may_be_zero: bool = False, hint: str = "", **given):
        super().__init__(**given)
        self.may_be_zero, self.hint = may_be_zero, hint
        self.read_in("in")

    def read_in(self, unit: str) -> None:
        """Take a number without a unit as being in `unit`, and say so."""
        self.bare_unit, self.unit = unit, ""
        said = (
            say_later("Such as 10 3/4 in or 27.3 cm; a number alone is inches.")
            if unit == "in"
            else say_later("Such as 10 3/4 in or 27.3 cm; a number alone is {unit}.", unit=unit)
        )
        self.help_text = format_lazy("{} {}", self.hint, said) if self.hint else said

    def prepare_value(self, value):
        if not isinstance(value, Decimal):
            return value
        text = format_length(value, self.bare_unit)
        exact = parse_length(text, may_be_zero=True) == value.quantize(FINEST)
        return text if exact else format_exact(value)

    def clean(self, value) -> Decimal | None:
        text = forms.CharField.clean(self, value)
        if not text:
            return None
        try:
            length = parse_length(text, self.bare_unit, may_be_zero=self.may_be_zero or self.required)
        except LengthError as error:
            raise forms.ValidationError(str(error)) from error
        if not length and not self.may_be_zero:
            raise forms.ValidationError(say("Enter more than 0."))
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
        said = (
            say_later("Such as 40 sq in or 250 cm²; a number alone is square inches.")
            if unit == "in"
            else say_later("Such as 40 sq in or 250 cm²; a number alone is square centimetres.")
        )
        self.help_text = format_lazy("{} {}", said, self.hint) if self.hint else said

    def prepare_value(self, value):
        if not isinstance(value, Decimal):
            return value
        texts = (format_area(value, unit) for unit in (self.bare_unit, "in", "cm"))
        is_exact = [text for text in texts if parse_area(text, self.bare_unit) == value]
        return is_exact[0] if is_exact else f"{clear_figure(value / 100)} cm²"

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
        words = (
            say("Enter {least:,} or more.", least=least)
            if most is None
            else say("Enter {least:,} to {most:,}.", least=least, most=most)
        )
        field.validators = [one for one in field.validators if not isinstance(one, MinValueValidator)]
        field.validators.append(MinValueValidator(least, message=words))
        field.widget.attrs["min"] = least
        if most is not None:
            field.validators.append(MaxValueValidator(most, message=words))
            field.widget.attrs["max"] = most


class PercentField(forms.DecimalField):
    """A share from 0 to 1, typed and shown in per cent."""

    def __init__(self, *, least: Decimal = Decimal(0), most: Decimal = WHOLE, below: bool = False, **given):
        message = (
            noted("Enter {least:.0f} to less than {most:.0f} per cent.")
            if below
            else noted("Enter {least:.0f} to {most:.0f} per cent.")
        )
        words = say_later(message, least=least * 100, most=most * 100)
        widget = forms.TextInput(attrs={"inputmode": "decimal"})
        super().__init__(error_messages={"invalid": words}, widget=widget, **given)
        self.least, self.most, self.below, self.words = least, most, below, words
        self.unit = "%"

    def prepare_value(self, value):
        return f"{clear_figure(value * 100)} %" if isinstance(value, Decimal) else value

    def to_python(self, value) -> Decimal | None:
        return super().to_python(
            value.replace("%", "").replace(",", ".") if isinstance(value, str) else value
        )

    def clean(self, value) -> Decimal | None:
        percent = super().clean(value)
        if percent is None:
            return None
        share = round(percent / 100, PLACES)
        if not self.least <= share <= self.most or (self.below and share == self.most):
            raise forms.ValidationError(self.words)
        return share

    def has_changed(self, initial, data) -> bool:
        try:
            return bool(self.clean(data) != initial)
        except forms.ValidationError:
            return True


class BreaksField(forms.CharField):
    """Price breaks, one a line or set apart by semicolons: from how many, and the price of each."""

    def __init__(self, **given):
        words = say_later("Such as 10: 4.50; 50: 4.10. From so many, and the price of each.")
        super().__init__(
            **{"required": False, "help_text": words, "label": say_later("Price breaks"), **given}
        )

    def prepare_value(self, value):
        return value if isinstance(value, str) else breaks_text(value or ())

    def clean(self, value) -> Breaks:
        try:
            return parse_breaks(super().clean(value))
        except BreaksRefused as refused:
            raise forms.ValidationError(str(refused)) from refused


def day_input() -> forms.DateInput:
    """A day, chosen from the browser's calendar."""
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
