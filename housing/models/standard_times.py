"""How long each element of the work takes, where it differs from what is shipped."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from housing.core.labour.elements import SHIPPED, Minutes
from housing.models.designs import Design


def element_choices() -> list[tuple[str, str]]:
    """The elements there are; a function, so that a new one needs no migration."""
    return [(one.element.value, one.name) for one in SHIPPED.values()]


class StandardTime(models.Model):
    """A standard time entered by hand, for every design or for one; minutes for one of its driver."""

    element = models.CharField(max_length=12, choices=element_choices)
    design = models.ForeignKey(
        Design, on_delete=models.CASCADE, null=True, blank=True, related_name="standard_times"
    )
    low = models.DecimalField(_("at best"), max_digits=7, decimal_places=3)
    likely = models.DecimalField(_("most likely"), max_digits=7, decimal_places=3)
    high = models.DecimalField(_("at worst"), max_digits=7, decimal_places=3)
    source = models.CharField(_("where it comes from"), max_length=300)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["element", "design__name"]
        constraints = [
            models.UniqueConstraint(fields=["element", "design"], name="one_standard_time_a_design"),
            models.UniqueConstraint(
                fields=["element"], condition=Q(design=None), name="one_standard_time_for_every_design"
            ),
            models.CheckConstraint(
                condition=Q(low__gte=0, likely__gte=F("low"), high__gte=F("likely")),
                name="standard_time_in_order",
            ),
        ]

    def __str__(self) -> str:
        return _("{element}: {normalize:f} min").format(
            element=self.get_element_display(), normalize=self.likely.normalize()
        )

    def to_core(self) -> Minutes:
        return Minutes(float(self.low), float(self.likely), float(self.high))
