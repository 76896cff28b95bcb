"""Our own grammar for the free text in which catalogues write dimensions; it never guesses silently."""

from objects.core.dimensions.reading import read_dimensions
from objects.core.dimensions.values import (
    CHECK,
    EMPTY,
    READ,
    REFUSED,
    DimensionReading,
    Dimensions,
    format_dimensions,
)

__all__ = [
    "CHECK",
    "EMPTY",
    "READ",
    "REFUSED",
    "DimensionReading",
    "Dimensions",
    "format_dimensions",
    "read_dimensions",
]
