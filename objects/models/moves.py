"""Where an object was and went: every change of its location, with who and when."""

from django.conf import settings
from django.db import models

from objects.models.locations import Location
from objects.models.objects import CatalogueObject


class ObjectMove(models.Model):
    """One change of place; the paths are kept as text too, so that they stay when places are renamed."""

    object = models.ForeignKey(CatalogueObject, on_delete=models.CASCADE, related_name="moves")
    place_before = models.ForeignKey(
        Location, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    place = models.ForeignKey(Location, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    path_before = models.CharField(max_length=400, blank=True)
    path = models.CharField(max_length=400, blank=True)
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField(db_index=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.object} to {self.path or 'no place'}"
