"""The filter that prints a day; every template has it."""

from __future__ import annotations

import datetime as dt

from django import template

from shared.dates import show_day

register = template.Library()


@register.filter(expects_localtime=True)
def day(value: dt.date | None, form: str = "long") -> str:
    """Print a day in the order of the shop's locale; nothing for none."""
    return show_day(value, form) if isinstance(value, dt.date) else ""
