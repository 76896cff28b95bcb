"""The people who do the work."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from boards.core.money import to_cents

SKILL_SEPARATOR = "; "


class Grade(models.Model):
    """What an hour of a kind of worker costs, or is worth where given; on-costs are a share of the pay."""

    name = models.CharField(max_length=80, unique=True)
    rate_per_hour = models.DecimalField(_("paid for an hour"), max_digits=8, decimal_places=2, default=0)
    on_cost_share = models.DecimalField(
        _("on-costs, a share of the pay"), max_digits=5, decimal_places=4, default=0
    )
    in_kind_rate = models.DecimalField(
        _("worth of an hour that is given"), max_digits=8, decimal_places=2, default=0
    )
    source = models.CharField(_("where the figures come from"), max_length=300, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    rate_per_hour__gte=0, on_cost_share__gte=0, on_cost_share__lte=2, in_kind_rate__gte=0
                ),
                name="grade_rates_possible",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def cost_of_an_hour(self) -> Decimal:
        """What an hour costs with on-costs, in hundredths."""
        return to_cents(self.rate_per_hour * (1 + self.on_cost_share))


class Person(models.Model):
    """A member of staff, a volunteer or an intern, with hours, skills and what an hour costs."""

    class Kind(models.TextChoices):
        STAFF = "staff", _("Staff")
        VOLUNTEER = "volunteer", _("Volunteer")
        INTERN = "intern", _("Intern")

    class Skill(models.TextChoices):
        MEASURE = "measure", _("Measure")
        CUT = "cut", _("Cut")
        FOLD = "fold", _("Fold and glue")
        FIT = "fit", _("Pad and fit")
        LABEL = "label", _("Label")
        RETURN = "return", _("Return to shelf")

    class Training(models.TextChoices):
        NEWCOMER = "newcomer", _("Newcomer: easy forms first")
        PRACTISED = "practised", _("Practised")
        EXPERIENCED = "experienced", _("Experienced: also what is hard to make")

    name = models.CharField(max_length=120, unique=True)
    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="person"
    )
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.STAFF)
    hours_per_week = models.DecimalField(max_digits=4, decimal_places=1)
    grade = models.ForeignKey(Grade, on_delete=models.SET_NULL, null=True, blank=True, related_name="people")
    rate_per_hour = models.DecimalField(
        max_digits=8, decimal_places=2, default=0, help_text=_("0: as the grade has it.")
    )
    on_cost_share = models.DecimalField(
        _("on-costs, a share of the pay"),
        max_digits=5,
        decimal_places=4,
        null=True,
        blank=True,
        help_text=_("Blank: as the grade has it."),
    )
    in_kind_rate = models.DecimalField(
        _("worth of an hour that is given"),
        max_digits=8,
        decimal_places=2,
        null=True,
        blank=True,
        help_text=_("Blank: as the grade has it."),
    )
    skills = models.CharField(max_length=120, blank=True)
    handles_hazards = models.BooleanField(_("may handle hazardous objects"), default=False)
    training = models.CharField(max_length=11, choices=Training, default=Training.PRACTISED)
    starts_on = models.DateField(_("first day"), null=True, blank=True)
    ends_on = models.DateField(_("last day"), null=True, blank=True)
    is_active = models.BooleanField(_("works at present"), default=True)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "people"
        constraints = [
            models.CheckConstraint(
                condition=Q(hours_per_week__gte=0, hours_per_week__lte=80), name="person_hours_possible"
            ),
            models.CheckConstraint(condition=Q(rate_per_hour__gte=0), name="person_rate_not_negative"),
            models.CheckConstraint(
                condition=(Q(on_cost_share__isnull=True) | Q(on_cost_share__gte=0, on_cost_share__lte=2))
                & (Q(in_kind_rate__isnull=True) | Q(in_kind_rate__gte=0)),
                name="person_on_costs_possible",
            ),
            models.CheckConstraint(
                condition=Q(starts_on__isnull=True)
                | Q(ends_on__isnull=True)
                | Q(ends_on__gte=models.F("starts_on")),
                name="person_days_in_order",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def skill_set(self) -> frozenset[str]:
        return frozenset(skill for skill in self.skills.split(SKILL_SEPARATOR) if skill)

    @property
    def skill_names(self) -> list[str]:
        names = dict(self.Skill.choices)
        return [str(names[skill]) for skill in self.skills.split(SKILL_SEPARATOR) if skill in names]


class Absence(models.Model):
    """Days on which a person does not work for the campaigns; both ends belong to it."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="absences")
    first_day = models.DateField()
    last_day = models.DateField()
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["first_day", "last_day"]
        constraints = [
            models.CheckConstraint(
                condition=Q(last_day__gte=models.F("first_day")), name="absence_days_in_order"
            ),
        ]

    def __str__(self) -> str:
        return _("{person} away from {first} to {last}").format(
            person=self.person,
            first=date_format(self.first_day, "d M Y"),
            last=date_format(self.last_day, "d M Y"),
        )
