"""A campaign: which objects, which design for which kind of object, what things cost, and who takes part."""

from decimal import Decimal

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from housing.core.choosing import Piece, Rule
from housing.models.designs import Design, form_choices
from housing.models.people import Person
from objects.models import CatalogueObject


class Campaign(models.Model):
    """A rehousing campaign and the figures its plan rests on. Lengths in mm, money in its currency."""

    name = models.CharField(max_length=120, unique=True)
    note = models.TextField(blank=True)
    objects_in_it = models.ManyToManyField(
        CatalogueObject, through="CampaignObject", related_name="campaigns"
    )
    people = models.ManyToManyField(Person, blank=True, related_name="campaigns")
    currency = models.CharField(max_length=3, default="USD")
    rate_per_hour = models.DecimalField(
        _("cost of an hour of work"), max_digits=8, decimal_places=2, default=Decimal("24")
    )
    glue_price_kg = models.DecimalField(
        _("price of a kilogram of glue"), max_digits=8, decimal_places=2, default=Decimal("18")
    )
    kerf_mm = models.DecimalField(
        _("gap kept between blanks"), max_digits=6, decimal_places=3, default=Decimal("1")
    )
    trim_mm = models.DecimalField(
        _("trimmed off each sheet edge"), max_digits=6, decimal_places=3, default=Decimal("5")
    )
    may_turn = models.BooleanField(
        _("blanks may be turned against the flutes"),
        default=False,
        help_text=_("Saves board, but walls whose flutes lie flat are weaker."),
    )
    offcut_side_mm = models.DecimalField(
        _("least side of an offcut worth keeping"), max_digits=8, decimal_places=4, default=Decimal("150")
    )
    offcut_area_mm2 = models.DecimalField(
        _("least area of an offcut worth keeping"), max_digits=12, decimal_places=2, default=Decimal("0")
    )
    use_corners = models.BooleanField(
        _("small blanks may be cut from the corners that fall off large ones"),
        default=True,
        help_text=_("Saves board; the large blank is cut out and its corners trimmed first."),
    )
    mix_batches = models.BooleanField(
        _("batches may share sheets"),
        default=True,
        help_text=_("Saves board. Not ticked, every batch is cut from sheets of its own."),
    )
    edge_to_edge = models.BooleanField(
        _("every cut runs from edge to edge"),
        default=True,
        help_text=_("As a knife along a straight edge needs it. Not ticked, blanks may lie anyhow."),
    )
    search_seconds = models.PositiveSmallIntegerField(
        _("seconds to look for a better plan"),
        null=True,
        blank=True,
        help_text=_("Blank: as long as the number of blanks suggests."),
    )
    weights = models.JSONField(
        _("weights of the priority score"),
        default=dict,
        blank=True,
        help_text=_("Factor to weight, where it differs from 1."),
    )
    starts_on = models.DateField(null=True, blank=True)
    work_from = models.DateField(
        _("Monday of week 1 of the work given out last"), null=True, blank=True, editable=False
    )
    is_closed = models.BooleanField(default=False)
    changed_at = models.DateTimeField(_("last change that the plan depends on"), auto_now_add=True)

    class Meta:
        ordering = ["is_closed", "name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(rate_per_hour__gte=0, glue_price_kg__gte=0), name="campaign_prices_not_negative"
            ),
            models.CheckConstraint(
                condition=Q(kerf_mm__gte=0, kerf_mm__lte=20, trim_mm__gte=0, trim_mm__lte=100),
                name="campaign_kerf_and_trim_possible",
            ),
            models.CheckConstraint(condition=Q(offcut_side_mm__gt=0), name="campaign_offcut_side_positive"),
            models.CheckConstraint(
                condition=Q(offcut_area_mm2__gte=0), name="campaign_offcut_area_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class CampaignObject(models.Model):
    """An object taken into a campaign, with a design of its own where a person chose one over the rules."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="memberships")
    object = models.ForeignKey(CatalogueObject, on_delete=models.CASCADE, related_name="memberships")
    chosen_design = models.ForeignKey(
        Design, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    batch = models.PositiveSmallIntegerField(
        default=1, help_text=_("Which batch it is due with; the first is cut first.")
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["campaign", "object"], name="object_once_in_a_campaign"),
        ]

    def __str__(self) -> str:
        return _("{object} in {campaign}").format(object=self.object, campaign=self.campaign)


class DesignRule(models.Model):
    """Advice for objects that meet its conditions: a design, or form, board, padding, allowances and marks.

    Blank conditions match anything, a blank piece of advice says nothing. For each piece of advice the first
    rule that matches and says something wins. Lengths in mm, weights in g.
    """

    class Shape(models.TextChoices):
        FLAT = "flat", _("Flat: one side is thin")
        LONG = "long", _("Long: one side far exceeds the others")
        TALL = "tall", _("Tall: much higher than its base is wide")
        COMPACT = "compact", _("Compact: sides much alike")

    class Flag(models.TextChoices):
        PROJECTING = "projecting", _("Has fragile parts that project")
        DELICATE = "delicate", _("Is delicate or very delicate")
        UNSTABLE = "unstable", _("Is in poor or fragile condition")
        HAZARDOUS = "hazardous", _("Is hazardous")
        SEVERAL = "several", _("Consists of several pieces")
        OFTEN_USED = "often_used", _("Is used monthly or more often")
        MUST_STAND = "must_stand", _("Must stay upright")

    class BoardKind(models.TextChoices):
        BUFFERED = "buffered", _("Buffered")
        UNBUFFERED = "unbuffered", _("Unbuffered")

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="rules")
    position = models.PositiveIntegerField()
    classification = models.CharField(max_length=80, blank=True)
    material = models.CharField(
        _("material contains"),
        max_length=300,
        blank=True,
        help_text=_(
            "A word, or several separated by semicolons of which one is enough. Words with “not” in "
            "front are overlooked, as in lead; not lead glass."
        ),
    )
    weight_over_g = models.DecimalField(max_digits=10, decimal_places=1, null=True, blank=True)
    weight_up_to_g = models.DecimalField(max_digits=10, decimal_places=1, null=True, blank=True)
    largest_over_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    largest_up_to_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    thinnest_up_to_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    shape = models.CharField(max_length=8, choices=Shape, blank=True, default="")
    flags = models.JSONField(
        _("all of this is so"), default=list, blank=True, help_text=_("Keys of Flag; all must be so.")
    )

    design = models.ForeignKey(Design, on_delete=models.PROTECT, null=True, blank=True, related_name="rules")
    form = models.CharField(max_length=40, choices=form_choices, blank=True, default="")
    board_kind = models.CharField(max_length=10, choices=BoardKind, blank=True, default="")
    least_caliper_mm = models.DecimalField(
        _("board at least as thick as"), max_digits=7, decimal_places=4, null=True, blank=True
    )
    padding = models.CharField(max_length=120, blank=True, default="")
    height_allowance_mm = models.DecimalField(
        _("allowance on the height"), max_digits=8, decimal_places=4, null=True, blank=True
    )
    side_allowance_mm = models.DecimalField(
        _("allowance on each side"), max_digits=8, decimal_places=4, null=True, blank=True
    )
    marks = models.JSONField(_("marks on the label"), default=list, blank=True)
    asks_for = models.JSONField(_("standards the board must meet"), default=list, blank=True)
    reason = models.CharField(max_length=300, blank=True)
    source = models.CharField(_("where the advice comes from"), max_length=300, blank=True, default="")
    is_advice = models.BooleanField(
        _("to be confirmed with a conservator"),
        default=False,
        help_text=_("Shown beside whatever it decides."),
    )

    class Meta:
        ordering = ["campaign", "position"]
        constraints = [
            models.UniqueConstraint(fields=["campaign", "position"], name="one_rule_at_a_position"),
            models.CheckConstraint(
                condition=Q(least_caliper_mm__isnull=True) | Q(least_caliper_mm__gt=0),
                name="rule_caliper_positive",
            ),
            models.CheckConstraint(
                condition=(Q(height_allowance_mm__isnull=True) | Q(height_allowance_mm__gte=0))
                & (Q(side_allowance_mm__isnull=True) | Q(side_allowance_mm__gte=0)),
                name="rule_allowances_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return _("Rule {position}").format(position=self.position)

    def to_core(self) -> Rule:
        """The rule as the core applies it; what is advised by piece, a design by its key."""
        said = {
            Piece.DESIGN: self.design_id,
            Piece.FORM: self.form,
            Piece.BOARD_KIND: self.board_kind,
            Piece.LEAST_CALIPER: _number(self.least_caliper_mm),
            Piece.PADDING: self.padding,
            Piece.HEIGHT_ALLOWANCE: _number(self.height_allowance_mm),
            Piece.SIDE_ALLOWANCE: _number(self.side_allowance_mm),
        }
        return Rule(
            position=self.position,
            classification=self.classification,
            material=self.material,
            weight_over_g=_number(self.weight_over_g),
            weight_up_to_g=_number(self.weight_up_to_g),
            largest_over_mm=_number(self.largest_over_mm),
            largest_up_to_mm=_number(self.largest_up_to_mm),
            thinnest_up_to_mm=_number(self.thinnest_up_to_mm),
            shape=self.shape,
            flags=tuple(self.flags),
            says={piece: value for piece, value in said.items() if value not in (None, "")},
            marks=tuple(self.marks),
            asks_for=tuple(self.asks_for),
            reason=self.reason,
            source=self.source,
            is_advice=self.is_advice,
        )


def _number(value: Decimal | None) -> float | None:
    return None if value is None else float(value)
