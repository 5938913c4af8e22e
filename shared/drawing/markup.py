"""SVG elements as text: numbers kept short, everything a person typed escaped."""

from __future__ import annotations

from html import escape

# XML 1.0 knows no other control characters, not even escaped (section 2.2).
_ALLOWED_CONTROLS = "\t\n\r"

Attributes = dict[str, str | float | int]


def number(value: float) -> str:
    """Print a length in millimetres to a tenth of a micrometre, without spare noughts."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def clean(text: str) -> str:
    """Escape text for XML, and drop the characters that XML cannot hold."""
    kept = "".join(
        c
        for c in text
        if (c >= " " or c in _ALLOWED_CONTROLS)
        and not "\ud800" <= c <= "\udfff"
        and c not in "\ufffe\uffff"
    )
    return escape(kept, quote=True)


def element(tag: str, attributes: Attributes, content: str = "") -> str:
    """Return one element; ``content`` is markup already escaped."""
    listed = "".join(
        f' {name}="{number(value) if isinstance(value, (int, float)) else clean(value)}"'
        for name, value in attributes.items()
    )
    return f"<{tag}{listed}>{content}</{tag}>" if content else f"<{tag}{listed}/>"
