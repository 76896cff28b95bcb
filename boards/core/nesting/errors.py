"""What the nesting refuses, each with the value, the unit and what to do."""

from objects.core.refusals import Refusal


class NestingError(Refusal):
    """Blanks cannot be laid out as asked; the message is a sentence for the reader."""


class PieceRefused(NestingError):
    """A blank's size is zero, negative or otherwise impossible."""


class SheetRefused(NestingError):
    """A sheet's size, price or stock is impossible."""


class RulesRefused(NestingError):
    """A kerf, a trim or another limit is impossible."""


class NoSheets(NestingError):
    """There is no sheet size to cut from."""


class KeyRepeated(NestingError):
    """Two blanks or two sheet sizes go by the same key."""
