"""What to mind when handling and boxing a hazardous object; see objects/core/cautions.py."""

from objects.core.cautions import CAUTIONS, DEDICATED, cautions_for

__all__ = ["CAUTIONS", "DEDICATED", "cautions_for"]
