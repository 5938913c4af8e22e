"""Days in words, in the order in which the shop's locale writes them.

The words are English, as all others on pages and papers are; the order is the locale's:
25 November 2026, or November 25, 2026 where the month comes first.
"""

from __future__ import annotations

import datetime as dt
from functools import lru_cache

from babel import Locale
from django.utils import dateformat

from shared.conventions import current

FORMS: dict[str, tuple[str, str]] = {
    "long": ("j F Y", "F j, Y"),
    "short": ("j M Y", "M j, Y"),
    "no_year": ("j F", "F j"),
    "weekday": ("D j F Y", "D, F j, Y"),
    "weekday_short": ("D j M Y", "D, M j, Y"),
    "full": ("l j F Y", "l, F j, Y"),
    "full_no_year": ("l j F", "l, F j"),
    "long_time": ("j F Y, H:i", "F j, Y, H:i"),
    "short_time": ("j M Y, H:i", "M j, Y, H:i"),
    "no_year_time": ("j M, H:i", "M j, H:i"),
}
"""How a day is written, by name: with the day first, and with the month first."""


def show_day(day: dt.date, form: str = "long") -> str:
    """Write a day, or a local moment, in one of the forms."""
    day_first, month_first = FORMS[form]
    pattern = month_first if _is_month_first(current().locale) else day_first
    return dateformat.format(day, pattern)


@lru_cache(maxsize=32)
def _is_month_first(locale: str) -> bool:
    """Whether a locale writes the month before the day, as CLDR has it."""
    found = Locale.parse(locale)
    if found.language != "en":  # its own words would name the month, too
        return False
    return str(found.date_formats["long"].pattern).startswith("M")
