"""The form field for text that people read: nothing hidden in it."""

from __future__ import annotations

import unicodedata
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

# Marks that turn the direction of what follows, to its end: they would spoil a document.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn"})


def refuse_unprintable(text: str) -> None:
    """Refuse control characters, tabs and line breaks aside, and text with nothing to see."""
    for character in text:
        kind = unicodedata.category(character)
        if character in _TURNING or (
            kind in _UNPRINTABLE and character not in "\t\r\n"
        ):
            raise ValidationError(
                "There are characters here that can't be printed. Type the text anew.",
                code="unprintable",
            )
    if text and not any(unicodedata.category(c)[0] in "LNPS" for c in text):
        raise ValidationError("Type something that can be seen.", code="invisible")


class PlainCharField(forms.CharField):
    """Text for people: no control characters, and something to see in it."""

    default_error_messages = {"required": "Fill this in."}
    default_validators = [refuse_unprintable]

    def __init__(
        self, *, max_length: int, multiline: bool = False, **kwargs: Any
    ) -> None:
        """Ask for a greatest length always; ``multiline`` keeps line breaks."""
        self.multiline = multiline
        if multiline:
            kwargs.setdefault("widget", forms.Textarea(attrs={"rows": 4}))
        super().__init__(max_length=max_length, **kwargs)

    def to_python(self, value: Any) -> Any:
        """Compose accents and make line breaks alike, so that lengths are as seen."""
        text = super().to_python(value)
        if not text:
            return text
        text = text.replace("\r\n", "\n").replace("\r", "\n")
        text = text if self.multiline else text.replace("\n", " ")
        return unicodedata.normalize("NFC", text)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """Give the text box its look."""
        return {"class": "input"} | super().widget_attrs(widget)
