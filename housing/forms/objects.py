"""The filters of the object list and what can be done with the objects ticked there."""

from decimal import Decimal

import django_filters
from django import forms
from django.db.models import Q, QuerySet
from django.forms.utils import flatatt
from django.utils.functional import cached_property
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from housing.core.priority import BANDS
from housing.models import Campaign, CampaignObject, Design, Housing
from housing.queries.blocks import BLOCKS, objects_blocked
from housing.queries.objects import BOX_IN_HAND, STATUS_NAMES, STILL_UNHOUSED, has_status
from housing.queries.priority import in_band, with_score
from housing.queries.progress import NONE, NOWHERE, UNCLASSIFIED
from housing.queries.this_week import objects_that_reached
from objects.core.words import say
from objects.models import CatalogueObject, Location
from objects.queries.catalogue import classifications, inside

STILL, IN_HAND = "still_unhoused", "box_in_hand"
SEVERAL_STATUSES = {STILL: STILL_UNHOUSED, IN_HAND: BOX_IN_HAND}
OF_BOXES = ("need", "problem", "score")  # filters that only objects_with_status() can answer
LAST_BATCH = 999  # assumed; a year of daily batches and more
WHOLE_BATCH = _("Enter the batch as a whole number.")
BATCH_MESSAGES = {
    "invalid": WHOLE_BATCH,
    "max_decimal_places": WHOLE_BATCH,
    "min_value": _("Batches are counted from 1."),
    "max_value": format_lazy(_("Enter a batch of {last} or less."), last=LAST_BATCH),
}


def _classification_choices() -> list[tuple[str, str]]:
    return [(NONE, say(UNCLASSIFIED)), *((name, name) for name in classifications())]


class LongSelect(forms.Select):
    """A select of hundreds of options, written at once: a template for each would slow every list down."""

    def render(self, name, value, attrs=None, renderer=None) -> str:
        chosen = "" if value is None else str(value)
        options = format_html_join(
            "",
            '<option value="{}"{}>{}</option>',
            (
                (key, mark_safe(" selected") if str(key) == chosen else "", label)
                for key, label in self.choices
            ),
        )
        given = flatatt(self.build_attrs(self.attrs, {**(attrs or {}), "name": name}))
        return format_html("<select{}>{}</select>", given, options)


class ObjectFilter(django_filters.FilterSet):
    """Filters kept in the address, over objects_with_status()."""

    q = django_filters.CharFilter(label=_("Search"), method="search")
    classification = django_filters.ChoiceFilter(
        choices=_classification_choices,
        method="of_classification",
        empty_label=_("All"),
        label=_("Classification"),
    )
    location = django_filters.ModelChoiceFilter(
        queryset=Location.objects.all(),
        method="at_location",
        empty_label=_("All"),
        null_label=_(NOWHERE),
        null_value=NONE,
        widget=LongSelect,
        label=_("Location"),
    )
    status = django_filters.ChoiceFilter(
        label=_("Status"),
        choices=[
            (STILL, _("Still unhoused, all stages")),
            (IN_HAND, _("Box in hand, all stages")),
            *STATUS_NAMES.items(),
        ],
        method="of_status",
        empty_label=_("All"),
    )
    need = django_filters.ChoiceFilter(
        label=_("Need"), field_name="housing_need", choices=CatalogueObject.Need, empty_label=_("All")
    )
    problem = django_filters.ChoiceFilter(
        label=_("Waits because"),
        field_name="live_problem",
        choices=[choice for choice in Housing.Problem.choices if choice[0]],
        empty_label=_("Any or no reason"),
    )
    blocks = django_filters.ChoiceFilter(
        label=_("Held up"), choices=list(BLOCKS.items()), method="held_up", empty_label=_("Or not")
    )
    priority = django_filters.ChoiceFilter(
        choices=CatalogueObject.Priority, empty_label=_("All"), label=_("Priority")
    )
    score = django_filters.ChoiceFilter(
        label=pgettext_lazy("priority", "Score"),
        choices=[(key, words) for key, words, _, _ in BANDS],
        method="of_score",
        empty_label=_("All"),
    )
    surveyed = django_filters.ChoiceFilter(
        label=_("Survey"),
        choices=[("no", _("Not surveyed")), ("yes", _("Looked at on its shelf"))],
        method="was_surveyed",
        empty_label=_("All"),
    )
    size_state = django_filters.ChoiceFilter(
        label=_("Size"), choices=CatalogueObject.SizeState, empty_label=_("All")
    )
    hazards = django_filters.ChoiceFilter(
        choices=[("yes", _("Has hazards")), ("no", _("Has none"))],
        method="with_hazards",
        empty_label=_("All"),
        label=_("Hazards"),
    )
    campaign = django_filters.ModelChoiceFilter(
        queryset=Campaign.objects.all(), field_name="campaigns", empty_label=_("All"), label=_("Campaign")
    )
    batch = django_filters.NumberFilter(
        label=_("Batch"),
        method="of_batch",
        min_value=1,
        max_value=LAST_BATCH,
        decimal_places=0,
        error_messages=BATCH_MESSAGES,
    )
    reached = django_filters.ChoiceFilter(
        label=_("Box has got to"),
        choices=[("made", _("Made")), ("housed", _("On its shelf"))],
        method="has_reached",
        empty_label=_("Anything"),
    )
    since = django_filters.DateFilter(
        label="since", method="has_reached", widget=forms.DateInput(attrs={"type": "date"})
    )
    place_only = django_filters.ChoiceFilter(
        label=_("Not what lies further down"),
        choices=[("yes", _("Yes"))],
        method="in_the_place_itself",
        widget=forms.HiddenInput,
    )

    class Meta:
        model = CatalogueObject
        fields: list[str] = []

    def search(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        for word in value.split():
            objects = objects.filter(
                Q(number__icontains=word)
                | Q(name__icontains=word)
                | Q(description__icontains=word)
                | Q(materials__icontains=word)
            )
        return objects

    def of_classification(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return objects.filter(classification="" if value == NONE else value)

    def at_location(self, objects: QuerySet, name: str, value: Location | str) -> QuerySet:
        if value == NONE:
            return objects.filter(location=None)
        return objects.filter(inside(value, "location__path"))

    def of_status(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return objects.filter(has_status(SEVERAL_STATUSES.get(value, [value])))

    def held_up(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return objects.filter(pk__in=objects_blocked(value).values("pk"))

    def of_score(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return in_band(with_score(objects, self.weights), value)

    @cached_property
    def number(self) -> int:
        """How many objects match; their boxes are looked up only where a filter asks for them."""
        self.form.is_valid()  # what was entered wrongly narrows nothing
        if any(self.form.cleaned_data.get(name) for name in OF_BOXES):
            return self.qs.count()
        return type(self)(self.data, CatalogueObject.objects.all()).qs.count()

    @property
    def weights(self) -> dict[str, float]:
        """Those of the campaign that the list is narrowed to; without one every factor counts alike."""
        return campaign.weights if (campaign := self.chosen_campaign) else {}

    def was_surveyed(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return objects.filter(surveyed_at__isnull=value == "no")

    def in_the_place_itself(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        place = self.form.cleaned_data.get("location")
        return objects.filter(location=place) if isinstance(place, Location) else objects

    def has_reached(self, objects: QuerySet, name: str, value) -> QuerySet:
        """Both filters together; a day alone asks for boxes on their shelf."""
        clean = self.form.cleaned_data
        if name == "since" and clean.get("reached"):
            return objects  # the other filter asks for both
        status, day = clean.get("reached") or Housing.Status.HOUSED, clean.get("since")
        return objects.filter(pk__in=objects_that_reached(status, day).values("pk"))

    def of_batch(self, objects: QuerySet, name: str, value: Decimal) -> QuerySet:
        due = CampaignObject.objects.filter(batch=int(value))
        if campaign := self.chosen_campaign:
            due = due.filter(campaign=campaign)
        return objects.filter(pk__in=due.values("object"))

    @property
    def chosen_campaign(self) -> Campaign | None:
        """The campaign that the list is narrowed to, if it is."""
        return self.form.cleaned_data.get("campaign") if self.form.is_valid() else None

    def with_hazards(self, objects: QuerySet, name: str, value: str) -> QuerySet:
        return objects.filter(hazards="") if value == "no" else objects.exclude(hazards="")


class ObjectActionForm(forms.Form):
    """What to do with objects: those ticked, or all that match the filter the list was shown with."""

    ACTIONS = (
        ("add", _("Add to the campaign")),
        ("design", _("Choose the design")),
        ("batch", _("Set the batch")),
        ("together", _("House together as a set")),
        ("cut_sheets", _("Print cut sheets")),
        ("labels", _("Print labels")),
    )
    PRINTS = {"cut_sheets": "housing:print-cut-sheets", "labels": "housing:print-labels"}

    action = forms.ChoiceField(choices=ACTIONS, label=_("Action"))
    campaign = forms.ModelChoiceField(
        Campaign.objects.filter(is_closed=False),
        required=False,
        empty_label=_("Choose a campaign"),
        label=_("Campaign"),
    )
    design = forms.ModelChoiceField(
        Design.objects.all(), required=False, empty_label=_("By the rules"), label=_("Design")
    )
    batch = forms.IntegerField(
        required=False, min_value=1, max_value=LAST_BATCH, error_messages=BATCH_MESSAGES, label=_("Batch")
    )
    all_matching = forms.BooleanField(
        required=False, label=_("All that match the filter, not only those ticked")
    )

    def __init__(self, *given, narrowed_to: Campaign | None = None, **named):
        super().__init__(*given, **named)
        self.fields["campaign"].initial = narrowed_to or self._only_campaign()

    def _only_campaign(self) -> Campaign | None:
        """The one campaign there is to choose, so that nobody need choose it."""
        first_two = self.fields["campaign"].queryset[:2]
        return first_two[0] if len(first_two) == 1 else None

    def clean(self) -> dict:
        clean = super().clean()
        action = clean.get("action")
        if action in ("add", "design", "batch", "together") and not clean.get("campaign"):
            self.add_error("campaign", _("Choose the campaign first."))
        if action == "batch" and not clean.get("batch") and not self.has_error("batch"):
            self.add_error("batch", _("Enter the number of the batch first."))
        return clean
