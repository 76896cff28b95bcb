"""What people said of an object's need for housing: the trail behind the one that holds now."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from objects.models.objects import CatalogueObject


class NeedStatement(models.Model):
    """One statement, kept for good. A blank need takes back what was said before."""

    object = models.ForeignKey(CatalogueObject, on_delete=models.CASCADE, related_name="need_statements")
    need = models.CharField(max_length=10, choices=CatalogueObject.Need, blank=True, default="")
    note = models.CharField(_("why"), max_length=300, blank=True, default="")
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(need="") | ~models.Q(note=""), name="need_statement_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.object.number}: {self.get_need_display() or 'taken back'}"
