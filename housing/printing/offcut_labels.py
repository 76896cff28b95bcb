"""Small labels for offcuts on the rack, one a page of its own size, as label printers take them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from boards.models import Offcut
from housing.printing.qr import qr_data_uri
from objects.core.lengths import format_size
from objects.readers import Reader

LABEL_MM = (62.0, 29.0)  # a common roll of labels; common practice, no source
PICTURE_MM = (19.0, 9.0)  # room for the picture of the piece
LEAST_MM = 1.5  # a strip is drawn this wide at least


@dataclass(frozen=True)
class OffcutLabel:
    """One label in words. wide, high: the picture of the piece in mm, its flutes running across it."""

    number: int
    board: str
    size: str
    is_fluted: bool
    kept_at: datetime
    qr: str
    wide: float
    high: float

    @property
    def top(self) -> float:
        """Where the picture of the piece begins, so that it stands beside the arrow; mm."""
        return round((PICTURE_MM[1] - self.high) / 2, 2)


def offcut_label(offcut: Offcut, reader: Reader, base_url: str) -> OffcutLabel:
    """The label of an offcut; its code leads to the offcut's page. base_url: the site's address."""
    along, across = float(offcut.along_mm), float(offcut.across_mm)
    scale = min(PICTURE_MM[0] / along, PICTURE_MM[1] / across)
    address = base_url.rstrip("/") + reverse("boards:offcut-detail", args=[offcut.pk])
    return OffcutLabel(
        number=offcut.pk,
        board=offcut.board.code,
        size=format_size((offcut.along_mm, offcut.across_mm), reader.unit),
        is_fluted=offcut.board.to_core().is_fluted,
        kept_at=offcut.kept_at,
        qr=qr_data_uri(address),
        wide=round(max(along * scale, LEAST_MM), 2),
        high=round(max(across * scale, LEAST_MM), 2),
    )


def offcut_labels_context(offcuts: Sequence[Offcut], reader: Reader, base_url: str) -> dict:
    """All that the print of labels shows; the offcuts come with their boards."""
    return {
        "labels": [offcut_label(offcut, reader, base_url) for offcut in offcuts],
        "width_mm": LABEL_MM[0],
        "height_mm": LABEL_MM[1],
        "paper": reader.paper,
    }
