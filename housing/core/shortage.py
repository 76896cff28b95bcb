"""When stock runs out: needs by day against what is there, and by when more has to be ordered."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal


@dataclass(frozen=True)
class Shortage:
    """missing: units that are not there for all needs together. since: the first day that lacks one."""

    missing: Decimal = Decimal()
    since: date | None = None


def shortage(needs: Iterable[tuple[date, Decimal]], in_stock: Decimal) -> Shortage:
    """What is missing if needs are met in the order of their days.

    needs: day and units, 0 or more; several on one day are added. in_stock: units there now, 0 or more.
    Source: running sum of the needs against the stock; by hand in tests/housing/core/test_shortage.py.
    """
    left, since = in_stock, None
    for day, units in sorted(needs):
        left -= units
        if left < 0 and since is None:
            since = day
    return Shortage(max(-left, Decimal()), since)


def order_by(since: date | None, lead_days: int | None) -> date | None:
    """The last day to order what is lacking from a day on; None where either is not known.

    lead_days: calendar days from the order until it comes.
    """
    return None if since is None or lead_days is None else since - timedelta(days=lead_days)
