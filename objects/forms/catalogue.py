"""Forms of the catalogue: lengths typed in either unit become millimetres here."""

from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from objects.core.lengths import LengthError, clear_figure, format_length, parse_length
from objects.core.weights import GRAMS, WeightError, parse_weight
from objects.core.words import LANGUAGES, noted, say
from objects.models import CatalogueObject, Location, Preferences
from objects.models.locations import SEPARATOR
from objects.models.objects import HAZARD_SEPARATOR
from objects.queries.catalogue import places_outside
from objects.services.catalogue import SIZE_FIELDS
from objects.services.photos import PhotoRefused, clean_photo

NO_CHOICE = noted("- Select an option -")  # the framework says it, but its Spanish catalogue lacks it


class LengthField(forms.CharField):
    """A length as text, "10 3/4" or "27.3 cm", that becomes millimetres; a bare number is in `unit`."""

    def __init__(self, *, unit: str = "in", **given):
        super().__init__(**given)
        self.unit = unit

    def prepare_value(self, value):
        return format_length(value, self.unit) if isinstance(value, Decimal) else value

    def clean(self, value) -> Decimal | None:
        text = super().clean(value)
        if not text:
            return None
        try:
            return parse_length(text, self.unit)
        except LengthError as error:
            raise forms.ValidationError(str(error)) from error

    def has_changed(self, initial, data) -> bool:
        try:
            return self.clean(initial) != self.clean(data)
        except forms.ValidationError:
            return True


class WeightField(forms.CharField):
    """A weight as text, "1.2 kg" or "2 lb 4 oz", that becomes grams; a bare number is in `unit`."""

    def __init__(self, *, unit: str = "g", **given):
        super().__init__(**given)
        self.unit = unit

    def prepare_value(self, value):
        if not isinstance(value, Decimal):
            return value
        figure = round(value / GRAMS[self.unit], 4).normalize()  # finer than the tenth of a gram that is kept
        return f"{clear_figure(figure)} {self.unit}"

    def clean(self, value) -> Decimal | None:
        text = super().clean(value)
        if not text:
            return None
        try:
            return parse_weight(text, self.unit)
        except WeightError as error:
            raise forms.ValidationError(str(error)) from error

    def has_changed(self, initial, data) -> bool:
        try:
            return self.clean(self.prepare_value(initial)) != self.clean(data)
        except forms.ValidationError:
            return True


class ObjectForm(forms.ModelForm):
    """An object's data. Each field carries along what it was when the page was opened."""

    height_mm = LengthField(label=_("Height"), required=False)
    width_mm = LengthField(label=_("Width"), required=False)
    depth_mm = LengthField(label=_("Depth"), required=False)
    weight_g = WeightField(
        label=_("Weight"),
        required=False,
        help_text=_("Such as 850 g, 1.2 kg or 2 lb 4 oz; a number alone is grams."),
    )
    hazards = forms.MultipleChoiceField(
        label=_("Hazards"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("They stand on the label and at the bench. When in doubt tick it and ask a conservator."),
    )
    size_checked = forms.BooleanField(required=False, label=_("I have checked the size and it is right"))
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    class Meta:
        model = CatalogueObject
        fields = [
            "number", "name", "classification", "materials", "description", "height_mm", "width_mm",
            "depth_mm", "size_checked", "measured_with", "may_lie", "weight_g", "quantity",
            "condition", "fragility", "projecting_parts", "use", "significance", "hazards", "location",
            "priority", "present_housing", "need_by_hand", "need_note", "photo",
        ]  # fmt: skip
        labels = {
            "number": _("Object number"),
            "name": _("Name"),
            "classification": _("Classification"),
            "materials": _("Materials"),
            "description": _("Description"),
            "measured_with": _("Measured with"),
            "quantity": _("Quantity"),
            "condition": _("Condition"),
            "fragility": _("Fragility"),
            "significance": _("Significance"),
            "location": _("Location"),
            "priority": _("Priority"),
            "present_housing": _("Present housing"),
            "photo": _("Photo"),
            "need_by_hand": _("Housing need, over what the present housing says"),
            "need_note": _("Why this need"),
        }
        help_texts = {
            "number": _("As the catalogue has it, such as 1995.4.3a; it is printed like that on the label."),
            "classification": _("Such as Ceramics or Textiles; rules choose a box by it."),
            "materials": _("Such as oak, brass, wool. Rules choose board and warnings by these words."),
            "quantity": _("Pieces that keep together in one box; size and weight are of all of them."),
            "condition": _("Fragile things get more room, and come first."),
            "fragility": _("What would happen if it were knocked."),
            "use": _("What is taken out often gets a lid that cannot be lost."),
            "significance": _("How much would be lost with it, within your collection."),
            "location": _("Where it is kept now. Its shelf stands on the label."),
            "present_housing": _(
                "None and poor mean that it needs a box; adequate and good that it does not."
            ),
            "photo": _("It helps to find the right object, and goes on the label."),
            "need_by_hand": _("Where you know better than the list. It goes before the present housing."),
            "need_note": _("Needed with a stated need; kept with your name and the day."),
        }
        error_messages = {
            "number": {"unique": _("Another object has this number. Enter another, or change that object.")}
        }
        widgets = {"description": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        for name in SIZE_FIELDS:
            self.fields[name].unit = unit
            self.fields[name].help_text = (
                say("Such as 10 3/4 in or 27.3 cm; a number alone is inches.")
                if unit == "in"
                else say("Such as 10 3/4 in or 27.3 cm; a number alone is {unit}.", unit=unit)
            )
        stored = [hazard for hazard in self.instance.hazards.split(HAZARD_SEPARATOR) if hazard]
        known = dict(CatalogueObject.Hazard.choices)
        self.fields["hazards"].choices = [*known.items(), *((h, h) for h in stored if h not in known)]
        self.initial["hazards"] = stored
        self.initial["version"] = self.instance.version
        for name, kind in (
            ("may_lie", CatalogueObject.MayLie),
            ("measured_with", CatalogueObject.MeasuredWith),
            ("fragility", CatalogueObject.Fragility),
            ("use", CatalogueObject.Use),
            ("significance", CatalogueObject.Significance),
        ):
            self.fields[name].choices = [("", _("Not recorded")), *kind.choices]
        self.fields["need_by_hand"].choices = [
            ("", _("Follows from the present housing")),
            *CatalogueObject.Need.choices,
        ]
        if self.instance.size_state != CatalogueObject.SizeState.CHECK:
            del self.fields["size_checked"]
        for name in self.tracked:
            self.fields[name].show_hidden_initial = True

    @property
    def tracked(self) -> list[str]:
        """The fields another person may have changed meanwhile."""
        return [name for name in self.fields if name not in ("photo", "version", "size_checked")]

    def clean_hazards(self) -> str:
        return HAZARD_SEPARATOR.join(self.cleaned_data["hazards"])

    def clean(self) -> dict:
        clean = super().clean()
        has_note = clean.get("need_note") or self.has_error("need_note")
        if clean.get("need_by_hand") and not has_note:
            self.add_error(
                "need_note", say("Say in a few words why, or leave the need to the present housing.")
            )
        return clean

    def clean_photo(self):
        """The photo upright, small and without what the camera noted, as a JPEG."""
        photo = self.cleaned_data["photo"]
        if "photo" not in self.changed_data or not photo:
            return photo
        try:
            return clean_photo(photo)
        except PhotoRefused as error:
            raise forms.ValidationError(str(error)) from error

    @property
    def changes(self) -> dict:
        """The clean values of the fields that were changed; of a new object all of them."""
        names = self.changed_data if self.instance.pk else self.fields
        kept = {name: self.cleaned_data[name] for name in names if name in (*self.tracked, "photo")}
        return {**kept, "photo": kept["photo"] or ""} if "photo" in kept else kept

    def merge(self, current: CatalogueObject) -> list[str]:
        """Take over what somebody else saved meanwhile, keeping what was typed here.

        A field that only the other person changed now shows the other value. Returns a line for each field
        the other person changed, with both values.
        """
        theirs = ObjectForm(instance=current, unit=self.fields["height_mm"].unit)
        data, lines = self.data.copy(), []
        for name in self.tracked:
            opened, now = self.data.getlist(f"initial-{name}"), _as_posted(theirs[name].value())
            if (opened or [""]) == (now or [""]):
                continue
            label, yours = self[name].label, self.data.getlist(name)
            lines.append(
                say(
                    "{label}: theirs “{theirs}”, yours “{yours}”",
                    label=label,
                    theirs=_words(theirs, name, now),
                    yours=_words(self, name, yours),
                )
            )
            data.setlist(f"initial-{name}", now)
            if name not in self.changed_data:
                data.setlist(name, now)
        data["version"] = str(current.version)
        self.data = data
        return lines


def _as_posted(value) -> list[str]:
    values = value if isinstance(value, list) else [value]
    return ["" if each is None else str(each) for each in values]


def _words(form: forms.Form, name: str, values: list[str]) -> str:
    names = {str(key): str(label) for key, label in getattr(form.fields[name], "choices", ())}
    return ", ".join(names.get(value, value) if value else say("nothing") for value in values) or say(
        "nothing"
    )


class LocationForm(forms.ModelForm):
    """A place in the tree; it cannot lie inside itself."""

    class Meta:
        model = Location
        fields = ["name", "kind", "parent", "note"]
        labels = {"name": _("Name"), "kind": _("Kind"), "parent": _("Lies in"), "note": _("Note")}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["parent"].queryset = places_outside(self.instance)
        self.fields["parent"].empty_label = say("Nothing: it is a building")

    def clean_name(self) -> str:
        if SEPARATOR.strip() in (name := self.cleaned_data["name"]):
            raise forms.ValidationError(say("A name cannot hold a slash; it separates the names of a path."))
        return name

    def clean(self) -> dict:
        clean = super().clean()
        parent = clean.get("parent")
        path = SEPARATOR.join([*([parent.path] if parent else []), clean.get("name", "")])
        if Location.objects.filter(path=path).exclude(pk=self.instance.pk).exists():
            self.add_error(
                "name", say("There is already a place “{path}”. Give this one another name.", path=path)
            )
        return clean


class PreferencesForm(forms.ModelForm):
    """How lengths are shown, which paper is printed on, in which language and for which hand."""

    language = forms.ChoiceField(
        label=_("Language"), choices=[("", _("As the browser asks")), *LANGUAGES.items()], required=False
    )

    class Meta:
        model = Preferences
        fields = ["language", "length_unit", "paper", "hand"]
        labels = {
            "length_unit": _("Show lengths in"),
            "paper": _("Print on"),
            "hand": _("Layout of cut sheets"),
        }
