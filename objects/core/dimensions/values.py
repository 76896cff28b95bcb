"""What is known of an object's size, what was understood of a text about it, and how it is written again."""

from dataclasses import dataclass, field
from decimal import Decimal

from objects.core.lengths import LARGEST_MM, POINT, format_length

READ, CHECK, REFUSED, EMPTY = "read", "check", "refused", "empty"
AXES = ("height", "width", "depth")


@dataclass(frozen=True)
class Dimensions:
    """An object's overall size in mm; None where not stated."""

    height_mm: Decimal | None = None
    width_mm: Decimal | None = None
    depth_mm: Decimal | None = None

    @property
    def sides(self) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
        return self.height_mm, self.width_mm, self.depth_mm

    @property
    def is_complete(self) -> bool:
        return None not in self.sides


@dataclass(frozen=True)
class DimensionReading:
    """What was understood of a text.

    status: "read", "check" (a person must look), "refused" (cannot be a size) or "empty".
    dimensions: the size; when status is "check" a proposal. unit: the one written first, or assumed.
    notes: sentences for a person. weight_g: the weight in grams where the text holds one.
    """

    status: str
    dimensions: Dimensions = Dimensions()
    unit: str = ""
    notes: tuple[str, ...] = ()
    weight_g: Decimal | None = None


@dataclass
class Findings:
    """Sentences gathered while a text is read: doubts send it to a person, remarks only tell."""

    doubts: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def notes(self) -> tuple[str, ...]:
        """Each sentence once, doubts first."""
        return tuple(dict.fromkeys([*self.doubts, *self.remarks]))


def format_dimensions(dimensions: Dimensions, unit: str = "mm") -> str:
    """Write a size so that read_dimensions reads the same again, such as H 254 × W 222.25 × D 181 mm.

    dimensions: in mm. unit: "mm" keeps the size to 0.0001 mm; "cm" and "in" round as format_length does.
    Returns "" where no side is stated. Source: labelled, since labels leave no order to be assumed.
    """
    # A lone D could be a diameter to the reader, so that the depth is then spelled out.
    depth = "D" if dimensions.width_mm is not None else "Depth"
    parts = [
        f"{label} {_figure(side, unit)}"
        for label, side in zip(("H", "W", depth), dimensions.sides, strict=True)
        if side is not None
    ]
    return f"{' × '.join(parts)} {unit}" if parts else ""


def _figure(side: Decimal, unit: str) -> str:
    if unit != "mm":
        return format_length(side, unit, with_unit=False, sign=POINT)
    figure = f"{side.normalize():f}"
    # Three decimals could be thousands to the reader: 1.250 mm.
    return f"{figure}0" if figure[-4:-3] == "." and side <= LARGEST_MM / 1000 else figure
