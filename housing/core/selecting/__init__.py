"""Which boxes to make within limits of money, hours and time. The one way in is select()."""

from housing.core.selecting.candidates import (
    BoardOffer,
    Candidate,
    Limits,
    SelectionRefused,
    Worker,
)
from housing.core.selecting.choosing import Selected, select
from housing.core.selecting.more import Next, next_gains

__all__ = [
    "BoardOffer",
    "Candidate",
    "Limits",
    "Next",
    "Selected",
    "SelectionRefused",
    "Worker",
    "next_gains",
    "select",
]
