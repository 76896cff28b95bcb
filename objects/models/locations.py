"""Where things are kept: a tree of buildings, rooms, bays and shelves."""

from django.db import models
from django.utils.translation import gettext_lazy as _

SEPARATOR = " / "


class Location(models.Model):
    """One place in the tree; its path names every place above it."""

    class Kind(models.TextChoices):
        BUILDING = "building", _("Building")
        ROOM = "room", _("Room")
        BAY = "bay", _("Bay")
        SHELF = "shelf", _("Shelf")
        DRAWER = "drawer", _("Drawer")
        CABINET = "cabinet", _("Cabinet")
        FLOOR = "floor", _("Floor space")

    parent = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="children"
    )
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.SHELF)
    path = models.CharField(max_length=400, unique=True, editable=False)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["path"]
        constraints = [
            models.CheckConstraint(condition=~models.Q(name=""), name="location_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.path

    def save(self, *args, **kwargs) -> None:
        self.path = f"{self.parent.path}{SEPARATOR}{self.name}" if self.parent else self.name
        super().save(*args, **kwargs)
