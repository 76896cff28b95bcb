"""What a board is stated to meet: by whom and when."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from boards.core.standards import STANDARDS, standard_choices
from boards.models.boards import Board


class BoardStatement(models.Model):
    """That somebody states of a board that it meets a standard. It is a statement, not a proof."""

    board = models.ForeignKey(Board, on_delete=models.CASCADE, related_name="statements")
    standard = models.CharField(max_length=20, choices=standard_choices)
    stated_by = models.CharField(
        _("who states it"), max_length=120, help_text=_("The supplier, a laboratory, or your own test.")
    )
    stated_on = models.DateField(_("when it was stated"), null=True, blank=True)
    note = models.CharField(max_length=200, blank=True, help_text=_("Batch, certificate, where it is filed."))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    recorded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["board__code", "standard", "-stated_on", "-pk"]
        constraints = [
            models.CheckConstraint(condition=~models.Q(stated_by=""), name="board_statement_says_by_whom"),
        ]

    def __str__(self) -> str:
        return f"{self.board.code}: {self.standard_name}"

    @property
    def standard_name(self) -> str:
        """The standard in words; its key where it is no longer listed."""
        return STANDARDS[self.standard].name if self.standard in STANDARDS else self.standard
