"""How much hot-melt glue the joints take."""

import math
from dataclasses import dataclass

from housing.core.clearances import INCH

MM3_PER_CM3 = 1000.0


@dataclass(frozen=True)
class GlueFigures:
    """Round beads of hot-melt glue along every joint, and the sticks they come from.

    bead_mm: diameter of a bead. beads_per_joint: beads side by side. density_g_cm3: of the set glue.
    stick_diameter_mm, stick_length_mm: the stick fed into the gun.
    Source: density 0.94 to 0.98 g/cm3 from memory of adhesive handbooks; 7/16 x 10 in is a common stick,
        as adhesive-trade notes list it; a 3 mm bead and two a joint are assumed, a light hand at the bench.
    """

    bead_mm: float = 3.0
    beads_per_joint: int = 2
    density_g_cm3: float = 0.95
    stick_diameter_mm: float = 7 / 16 * INCH
    stick_length_mm: float = 10 * INCH

    def grams(self, joint_length_mm: float) -> float:
        """Mass of glue on joints of a given length, all beads counted.

        joint_length_mm: the joints' lengths added up, mm. Returns grams.
        Source: volume of a cylinder times density.
        """
        return self._cylinder_g(self.bead_mm, self.beads_per_joint * joint_length_mm)

    def sticks(self, grams: float) -> float:
        """How many sticks a mass of glue is. grams: g. Returns sticks, not rounded."""
        return grams / self._cylinder_g(self.stick_diameter_mm, self.stick_length_mm)

    def _cylinder_g(self, diameter_mm: float, length_mm: float) -> float:
        return math.pi / 4 * diameter_mm**2 * length_mm / MM3_PER_CM3 * self.density_g_cm3
