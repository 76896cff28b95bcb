"""The catalogue object: what the museum knows of a thing before it is housed."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from objects.core import lying
from objects.core.lengths import LARGEST_MM
from objects.core.numbers import natural_key
from objects.models.locations import Location

HAZARD_SEPARATOR = "; "


class CatalogueObject(models.Model):
    """One catalogued object or set that keeps together; sizes in mm beside the text they were read from."""

    class Condition(models.TextChoices):
        GOOD = "good", _("Good")
        FAIR = "fair", _("Fair")
        POOR = "poor", _("Poor")
        FRAGILE = "fragile", _("Fragile")

    class Priority(models.TextChoices):
        A = "A", _("A: first")
        B = "B", _("B: next")
        C = "C", _("C: when there is time")

    class PresentHousing(models.TextChoices):
        NONE = "none", _("None")
        POOR = "poor", _("Poor: does harm or does not protect")
        ADEQUATE = "adequate", _("Adequate")
        GOOD = "good", _("Good")
        NOT_NEEDED = "not_needed", _("Needs none")

    class Need(models.TextChoices):
        UNHOUSED = "unhoused", _("Unhoused")
        POOR = "poor", _("Poorly housed")
        ADEQUATE = "adequate", _("Adequately housed")
        NOT_NEEDED = "not_needed", _("Needs no housing")

    class Fragility(models.TextChoices):
        ROBUST = "robust", _("Robust: bears ordinary handling")
        ORDINARY = "ordinary", _("Ordinary: bears careful handling")
        DELICATE = "delicate", _("Delicate: a knock would damage it")
        VERY_DELICATE = "very_delicate", _("Very delicate: lifting it may damage it")

    class Use(models.TextChoices):
        NEVER = "never", _("Hardly ever")
        YEARS = "years", _("Every few years")
        YEARLY = "yearly", _("About once a year")
        MONTHLY = "monthly", _("About once a month")
        WEEKLY = "weekly", _("About once a week or more")

    class Significance(models.TextChoices):
        LOW = "low", _("Low: many like it")
        ORDINARY = "ordinary", _("Ordinary")
        HIGH = "high", _("High")
        KEY = "key", _("Key: the collection would not be the same without it")

    class SizeState(models.TextChoices):
        MISSING = "missing", _("Not measured")
        CHECK = "check", _("To be checked")
        KNOWN = "known", _("Known")

    class Hazard(models.TextChoices):
        ARSENIC = "arsenic", _("Arsenic")
        MERCURY = "mercury", _("Mercury")
        PESTICIDE = "pesticide", _("Pesticide")
        LEAD = "lead", _("Lead")
        ASBESTOS = "asbestos", _("Asbestos")
        RADIOACTIVE = "radioactive", _("Radioactive")
        NITRATE = "nitrate", _("Cellulose nitrate")
        MOULD = "mould", _("Mould")
        SHARP = "sharp", _("Sharp")
        BATTERY = "battery", _("Battery")

    class MayLie(models.TextChoices):
        UPRIGHT = lying.MayLie.UPRIGHT.value, _("Upright only")
        TURNED = lying.MayLie.TURNED.value, _("Upright, any side to the front")
        LAID_DOWN = lying.MayLie.LAID_DOWN.value, _("Also laid down on its back or side")
        ANY_SIDE = lying.MayLie.ANY_SIDE.value, _("On any side, also on edge")

    class MeasuredWith(models.TextChoices):
        NOTHING = lying.MeasuredWith.NOTHING.value, _("Nothing else")
        STAND = lying.MeasuredWith.STAND.value, _("Its stand")
        HANDLE = lying.MeasuredWith.HANDLE.value, _("Its handle")
        MOUNT = lying.MeasuredWith.MOUNT.value, _("Its mount")
        LID = lying.MeasuredWith.LID.value, _("Its lid")

    number = models.CharField(_("object number"), max_length=60, unique=True)
    number_key = models.CharField(max_length=200, db_index=True, editable=False)
    name = models.CharField(max_length=200)
    description = models.TextField(blank=True)
    classification = models.CharField(max_length=80, blank=True, db_index=True)
    materials = models.CharField(max_length=200, blank=True)

    height_mm = models.DecimalField(_("height"), max_digits=10, decimal_places=4, null=True, blank=True)
    width_mm = models.DecimalField(_("width"), max_digits=10, decimal_places=4, null=True, blank=True)
    depth_mm = models.DecimalField(_("depth"), max_digits=10, decimal_places=4, null=True, blank=True)
    dimensions_text = models.CharField(_("dimensions as written"), max_length=300, blank=True)
    dimensions_unit = models.CharField(max_length=4, blank=True)
    dimensions_note = models.CharField(max_length=500, blank=True)
    size_state = models.CharField(
        max_length=8, choices=SizeState, default=SizeState.MISSING, db_index=True, editable=False
    )

    may_lie = models.CharField(
        _("how it may lie"),
        max_length=10,
        choices=MayLie,
        blank=True,
        default="",
        help_text=_("While it is not recorded, a box holds the object the way up it was measured."),
    )
    measured_with = models.CharField(
        max_length=8,
        choices=MeasuredWith,
        blank=True,
        default="",
        help_text=_("What was included in the size. With a stand or the like it stays upright."),
    )

    weight_g = models.DecimalField(_("weight"), max_digits=10, decimal_places=1, null=True, blank=True)
    quantity = models.PositiveIntegerField(default=1)
    condition = models.CharField(max_length=10, choices=Condition, blank=True)
    fragility = models.CharField(max_length=13, choices=Fragility, blank=True, default="")
    projecting_parts = models.CharField(
        _("fragile parts that project"),
        max_length=200,
        blank=True,
        default="",
        help_text=_("Which, and where."),
    )
    use = models.CharField(_("how often it is used"), max_length=7, choices=Use, blank=True, default="")
    significance = models.CharField(max_length=8, choices=Significance, blank=True, default="")
    hazards = models.CharField(max_length=200, blank=True, help_text=_("Separated by semicolons."))
    location = models.ForeignKey(
        Location, on_delete=models.PROTECT, null=True, blank=True, related_name="kept_here"
    )
    priority = models.CharField(max_length=1, choices=Priority, default=Priority.B)
    present_housing = models.CharField(
        max_length=10, choices=PresentHousing, default=PresentHousing.NONE, db_index=True
    )
    need_by_hand = models.CharField(
        _("housing need said by a person"),
        max_length=10,
        choices=Need,
        blank=True,
        default="",
        db_index=True,
        help_text=_("Goes before what follows from the present housing."),
    )
    need_note = models.CharField(_("why"), max_length=300, blank=True, default="")
    need_said_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    need_said_at = models.DateTimeField(null=True, blank=True)
    surveyed_at = models.DateTimeField(_("last looked at on its shelf"), null=True, blank=True, db_index=True)
    photo = models.ImageField(upload_to="photos", blank=True)

    version = models.PositiveIntegerField(default=1, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["number_key"]
        verbose_name = _("object")
        indexes = [
            models.Index(fields=["significance"], name="objects_by_significance"),
            models.Index(fields=["priority", "number_key"], name="objects_by_class"),
        ]
        constraints = [
            models.CheckConstraint(condition=~Q(number=""), name="object_has_a_number"),
            models.CheckConstraint(condition=Q(quantity__gte=1), name="object_quantity_at_least_one"),
            *(
                models.CheckConstraint(
                    condition=Q(**{f"{side}__isnull": True})
                    | Q(**{f"{side}__gt": 0, f"{side}__lte": int(LARGEST_MM)}),
                    name=f"object_{side}_positive",
                )
                for side in ("height_mm", "width_mm", "depth_mm")
            ),
            models.CheckConstraint(
                condition=Q(weight_g__isnull=True) | Q(weight_g__gt=0), name="object_weight_positive"
            ),
            models.CheckConstraint(
                condition=~Q(size_state="known")
                | Q(height_mm__isnull=False, width_mm__isnull=False, depth_mm__isnull=False),
                name="object_known_size_is_complete",
            ),
            models.CheckConstraint(
                condition=Q(need_by_hand="") | ~Q(need_note=""), name="object_need_by_hand_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"

    def save(self, *args, **kwargs) -> None:
        self.number_key = natural_key(self.number)
        super().save(*args, **kwargs)

    @property
    def hazard_list(self) -> list[str]:
        """Hazards as the labels a reader sees."""
        known = dict(self.Hazard.choices)
        return [str(known.get(h, h)) for h in self.hazards.split(HAZARD_SEPARATOR) if h]

    @property
    def sides_mm(self) -> tuple:
        """Height, width and depth in mm, None where not known."""
        return self.height_mm, self.width_mm, self.depth_mm
