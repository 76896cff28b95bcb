"""What the enclosure computation refuses, each with the value, the limit and a way out."""

from objects.core.refusals import Refusal


class EnclosureError(Refusal):
    """An enclosure cannot be made as asked; the message is a sentence for the reader."""


class SizeRefused(EnclosureError):
    """A size, an allowance or a caliper is zero, negative or otherwise impossible."""


class FlapTooWide(EnclosureError):
    """A glued corner flap is wider than the corner or the wall that receives it."""


class FlapTooNarrow(EnclosureError):
    """A flap leaves too little to glue or to hold."""


class UnknownForm(EnclosureError):
    """No enclosure form goes by that name."""


class PaperTooSmall(EnclosureError):
    """A drawing does not fit the paper it was given."""


class PanelsCollide(EnclosureError):
    """Two panels of a blank would lie on the same board."""


class OptionRefused(EnclosureError):
    """A choice of an enclosure form is unknown or out of its limits."""


class PartTooSmall(EnclosureError):
    """An object, a cell or an opening leaves no room in an enclosure as it was asked."""
