"""The form of a scenario: what is different from its campaign; blank for what is as the campaign has it."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from boards.forms import ExactLengthField
from boards.models import Board, SheetSize, Supply
from housing.core.scenarios import (
    HEAVIEST_G,
    MOST_HOURS,
    PRIORITIES,
    SLACK_MM,
    TERMS,
    Differences,
    ReadyMade,
    ScenarioRefused,
    read,
    to_json,
)
from housing.forms.budget_terms import PercentField
from housing.models import BudgetTerms, Campaign, Design, Person, Scenario, SizeFamily
from housing.queries.scenarios import designs_in_use, faults_of
from objects.core.lengths import format_size
from objects.forms.catalogue import WeightField

AS_IT_IS = _("As the campaign has it")
BOARD, DESIGN, SHEET, SUPPLY, HOURS, TERM = "board_", "design_", "sheet_", "supply_", "hours_", "term_"
OBJECTS_SHOWN = 12  # numbers named in a message


class ScenarioForm(forms.ModelForm):
    """A scenario of a campaign; one field for each board, design, price, person and term it may change."""

    only_priorities = forms.MultipleChoiceField(
        label=_("Only objects of priority"),
        choices=[(one, one) for one in PRIORITIES],
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("None ticked: all. Boxes begun or done already stay in, whatever is ticked."),
    )
    only_objects = forms.CharField(
        label=_("Only these objects"),
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Object numbers, one a line or separated by semicolons. Blank: all."),
    )
    sizes = forms.ModelChoiceField(
        SizeFamily.objects.none(),
        label=_("Family of standard sizes"),
        required=False,
        empty_label=_("None: every box to measure"),
    )
    buys = forms.BooleanField(label=_("Buy a ready-made box where one fits"), required=False)
    slack_mm = ExactLengthField(
        label=_("At most so much over on each side"), required=False, may_be_zero=True
    )
    heaviest_g = WeightField(
        label=_("Only for contents up to"), required=False,
        help_text=_("Such as 5 kg or 11 lb. Heavier contents get a box that is made for them."),
    )  # fmt: skip
    rate_per_hour = forms.DecimalField(
        label=_("Cost of an hour of work that no person's rate is known for"),
        required=False, min_value=Decimal(0), max_digits=8, decimal_places=2,
    )  # fmt: skip

    class Meta:
        model = Scenario
        fields = ["name", "note"]

    def __init__(self, *given: Any, unit: str, **named: Any) -> None:
        super().__init__(*given, **named)
        self.campaign: Campaign = self.instance.campaign
        self.kept = self._kept()
        self.fields["slack_mm"].read_in(unit)
        self._add_boards_and_designs()
        self._add_prices(unit)
        self._add_people()
        self._add_terms()
        families = self.campaign.size_families.exclude(made_at=None)
        self.fields["sizes"].queryset = families
        self._fill()

    def _kept(self) -> Differences:
        try:
            return read(self.instance.differences)
        except ScenarioRefused:  # what was kept cannot be read: it is entered afresh
            return Differences()

    # ---- Fields ------------------------------------------------------------------------------------------

    def _add_boards_and_designs(self) -> None:
        designs = list(designs_in_use(self.campaign))
        boards = {board.pk: board.code for board in Board.objects.all()}
        used = dict.fromkeys(design.board_id for design in designs) | dict.fromkeys(self.kept.board)
        for key in used:
            if key in boards:
                self._add_choice(
                    BOARD,
                    key,
                    _("Instead of board {boards}").format(boards=boards[key]),
                    boards,
                    self.kept.board,
                )
        every = dict(Design.objects.values_list("pk", "name"))
        for key in dict.fromkeys([*(design.pk for design in designs), *self.kept.design]):
            if key in every:
                self._add_choice(
                    DESIGN, key, _("Instead of {every}").format(every=every[key]), every, self.kept.design
                )

    def _add_choice(self, prefix: str, key: int, label: str, every: dict[int, str], chosen: Any) -> None:
        others = [(str(pk), name) for pk, name in every.items() if pk != key]
        self.fields[f"{prefix}{key}"] = forms.ChoiceField(
            label=label, required=False, choices=[("", AS_IT_IS), *others], initial=chosen.get(key, "")
        )

    def _add_prices(self, unit: str) -> None:
        for size in SheetSize.objects.filter(is_offered=True).select_related("board"):
            label = _("A sheet of {code}, {format_size}").format(
                code=size.board.code, format_size=format_size((size.along_mm, size.across_mm), unit)
            )
            self._add_price(f"{SHEET}{size.pk}", label, size.price, f"sheet:{size.pk}")
        for supply in Supply.objects.all():
            self._add_price(
                f"{SUPPLY}{supply.pk}",
                _("A pack of {supply}").format(supply=supply),
                supply.price,
                f"supply:{supply.pk}",
            )

    def _add_price(self, name: str, label: str, now: Decimal | None, key: str) -> None:
        told = (
            _("no price is known")
            if now is None
            else _("{now:,.2f} {currency} now").format(now=now, currency=self.campaign.currency)
        )
        self.fields[name] = forms.DecimalField(
            label=label, required=False, min_value=Decimal("0.01"), max_digits=10, decimal_places=2,
            help_text=told[0].upper() + told[1:] + ".", initial=self.kept.prices.get(key),
        )  # fmt: skip

    def _add_people(self) -> None:
        in_it = set(self.campaign.people.values_list("pk", flat=True))
        for person in Person.objects.filter(is_active=True):
            now = (
                _("{hours_per_week:g} hours now.").format(hours_per_week=person.hours_per_week)
                if person.pk in in_it
                else _("Takes no part now.")
            )
            self.fields[f"{HOURS}{person.pk}"] = forms.DecimalField(
                label=_("Hours a week of {person}").format(person=person),
                required=False,
                decimal_places=1,
                max_digits=4,
                validators=[
                    MinValueValidator(0, message=_("Enter 0 or more; 0 for taking no part.")),
                    MaxValueValidator(
                        MOST_HOURS, message=_("Enter {most_hours} or less.").format(most_hours=MOST_HOURS)
                    ),
                ],
                help_text=now,
                initial=self.kept.people.get(person.pk),
            )

    def _add_terms(self) -> None:
        terms = BudgetTerms.objects.filter(campaign=self.campaign).first() or BudgetTerms()
        for key, term in TERMS.items():
            now, kept = getattr(terms, key), self.kept.terms.get(key)
            label = term.label[0].upper() + term.label[1:]
            if term.as_percent:
                self.fields[TERM + key] = PercentField(
                    label=label,
                    required=False,
                    initial=kept,
                    least=Decimal(term.least),
                    most=Decimal(term.most),
                    help_text=_("{now:g} % now.").format(now=now * 100),
                )
            else:
                self.fields[TERM + key] = forms.IntegerField(
                    label=_("{label} so many of 100 cases").format(label=label),
                    required=False,
                    min_value=int(term.least),
                    max_value=int(term.most),
                    initial=None if kept is None else int(kept),
                    help_text=_("{now} now.").format(now=now),
                )

    def _fill(self) -> None:
        ready = self.kept.ready_made
        only = self.kept.only_objects
        self.initial |= {
            "only_priorities": self.kept.only_priorities,
            "only_objects": "" if only is None else "\n".join(self._numbers(only)),
            "sizes": self.kept.sizes,
            "buys": ready is not None,
            "slack_mm": Decimal(str(ready.slack_mm if ready else SLACK_MM)),
            "heaviest_g": Decimal(str((ready.heaviest_g if ready else HEAVIEST_G) or "0")) or None,
            "rate_per_hour": self.kept.rate_per_hour,
        }

    def _numbers(self, only: tuple[int, ...]) -> Iterator[str]:
        found = self.campaign.objects_in_it.filter(pk__in=only).order_by("number_key")
        return iter(found.values_list("number", flat=True))

    # ---- On the page -------------------------------------------------------------------------------------

    @property
    def groups(self) -> list[tuple[str, str, list[forms.BoundField], bool]]:
        """Headings, what they are about, their fields, and whether something in them is different."""
        groups = (
            (_("Which objects"), "", ["only_priorities", "only_objects"]),
            (_("Which board and sizes"), "", [*self._named(BOARD), "sizes"]),
            (_("Boxes bought ready-made"), "", ["buys", "slack_mm", "heaviest_g"]),
            (_("Other designs"), "", self._named(DESIGN)),
            (
                "Prices",
                _("What is left blank costs what it costs now. A price entered here holds for any number."),
                [*self._named(SHEET), *self._named(SUPPLY), "rate_per_hour"],
            ),
            ("People", _("Hours a week; 0 for somebody who takes no part."), self._named(HOURS)),
            (_("Terms of the budget"), "", self._named(TERM)),
        )
        return [
            (heading, about, [self[name] for name in names], any(map(self._is_to_be_seen, names)))
            for heading, about, names in groups
            if names
        ]

    def _named(self, prefix: str) -> list[str]:
        return [name for name in self.fields if name.startswith(prefix)]

    def _is_to_be_seen(self, name: str) -> bool:
        """Whether a field is wrong, or holds something that is different."""
        value = self[name].value()
        is_said = (
            name not in ("slack_mm", "heaviest_g") and value is not False and value not in (None, "", ())
        )
        return bool(self[name].errors) or is_said

    # ---- What was typed ----------------------------------------------------------------------------------

    def clean_name(self) -> str:
        name = self.cleaned_data["name"]
        if self.campaign.scenarios.filter(name=name).exclude(pk=self.instance.pk).exists():
            raise forms.ValidationError(_("This campaign has a scenario of that name. Choose another name."))
        return name

    def clean_only_objects(self) -> tuple[int, ...] | None:
        typed = dict.fromkeys(
            filter(None, map(str.strip, re.split(r"[;\n]", self.cleaned_data["only_objects"])))
        )
        if not typed:
            return None
        known = dict(self.campaign.objects_in_it.values_list("number", "pk"))
        if unknown := [number for number in typed if number not in known]:
            more = (
                _(" and {count} more").format(count=len(unknown) - OBJECTS_SHOWN)
                if len(unknown) > OBJECTS_SHOWN
                else ""
            )
            raise forms.ValidationError(
                _(
                    "Not in this campaign: {unknown}{more}. Correct the numbers, or add the objects to the "
                    "campaign."
                ).format(unknown=", ".join(unknown[:OBJECTS_SHOWN]), more=more)
            )
        return tuple(known[number] for number in typed)

    def clean(self) -> dict[str, Any]:
        clean = super().clean()
        if self.errors:
            return clean
        try:
            differences = read(self._stored(clean))
        except ScenarioRefused as refused:
            raise forms.ValidationError(str(refused)) from refused
        for fault in faults_of(self.campaign, differences, timezone.localdate()):
            self.add_error(None, fault)
        self.instance.differences = to_json(differences)
        return clean

    def _stored(self, clean: dict[str, Any]) -> dict[str, Any]:
        """What was typed, as it is stored."""
        family, ready = clean["sizes"], None
        if clean["buys"]:
            slack, heaviest = clean["slack_mm"], clean["heaviest_g"]
            ready = ReadyMade(
                SLACK_MM if slack is None else float(slack), None if heaviest is None else float(heaviest)
            )
        return to_json(
            Differences(
                only_priorities=tuple(clean["only_priorities"]),
                only_objects=clean["only_objects"],
                board={key: int(other) for key, other in self._given(clean, BOARD)},
                design={key: int(other) for key, other in self._given(clean, DESIGN)},
                sizes=family and family.pk,
                ready_made=ready,
                prices={f"sheet:{key}": price for key, price in self._given(clean, SHEET)}
                | {f"supply:{key}": price for key, price in self._given(clean, SUPPLY)},
                rate_per_hour=clean["rate_per_hour"],
                people=dict(self._given(clean, HOURS)),
                terms={key: Decimal(clean[TERM + key]) for key in TERMS if clean[TERM + key] is not None},
            )
        )

    def _given(self, clean: dict[str, Any], prefix: str) -> Iterator[tuple[int, Any]]:
        for name in self._named(prefix):
            if clean[name] not in (None, ""):
                yield int(name.removeprefix(prefix)), clean[name]
