"""Few box sizes that serve many objects. The one way in is choose_sizes()."""

from housing.core.standard_sizes.needs import Need, Size, SizesRefused
from housing.core.standard_sizes.sizes import Chosen, Point, SizeChoice, choose_sizes

__all__ = ["Chosen", "Need", "Point", "Size", "SizeChoice", "SizesRefused", "choose_sizes"]
