"""A day as forms read and show it."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

FIRST, LAST = dt.date(2000, 1, 1), dt.date(2100, 1, 1)


class DayFormField(forms.DateField):
    """Reads a day by the browser's own calendar, or typed as 2026-03-14."""

    default_error_messages = {
        "required": "Choose a day.",
        "invalid": "This does not read as a day. Write it like 2026-03-14.",
    }

    def __init__(self, **kwargs: Any) -> None:
        """Take days of this century."""
        usual: dict[str, Any] = {
            "widget": forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
            "input_formats": ("%Y-%m-%d", "%d.%m.%Y"),
        }
        super().__init__(**usual | kwargs)

    def validate(self, value: Any) -> None:
        """Refuse a slip of the year."""
        super().validate(value)
        if value is not None and not FIRST <= value < LAST:
            raise ValidationError("Use a day from 2000 to 2099.", code="out_of_range")
