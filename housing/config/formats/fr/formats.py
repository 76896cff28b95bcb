"""Dates in French, the month in words; numbers with a decimal comma."""

DATE_FORMAT = "j F Y"
DATETIME_FORMAT = "j F Y, H:i"
SHORT_DATE_FORMAT = "j M Y"
SHORT_DATETIME_FORMAT = "j M Y, H:i"
TIME_FORMAT = "H:i"
DECIMAL_SEPARATOR = ","
