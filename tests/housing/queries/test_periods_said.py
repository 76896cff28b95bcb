"""Periods name their months in the reader's language."""

from datetime import date

import pytest

from housing.queries.periods import Period
from objects.speaking import in_language

NOVEMBER = Period(date(2026, 11, 1), date(2026, 11, 30))


# Source of the names of months: Unicode CLDR, gregorian calendar, months in dates, wide (from memory).
@pytest.mark.parametrize(("language", "month"), [("en", "November"), ("es", "noviembre"), ("fr", "novembre")])
def test_a_period_names_its_month_in_the_language_spoken(language, month):
    with in_language(language):
        said = str(NOVEMBER)

    assert said.lower().count(month.lower()) == 2
