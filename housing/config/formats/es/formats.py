"""Dates in Spanish, the month in words; numbers with a decimal comma."""

DATE_FORMAT = r"j \d\e F \d\e Y"
DATETIME_FORMAT = r"j \d\e F \d\e Y, H:i"
SHORT_DATE_FORMAT = "j M Y"
SHORT_DATETIME_FORMAT = "j M Y, H:i"
TIME_FORMAT = "H:i"
DECIMAL_SEPARATOR = ","
