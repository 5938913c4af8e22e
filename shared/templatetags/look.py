"""Template tags of the shop's look: icons from the sprite."""

from __future__ import annotations

from django import template
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString

register = template.Library()


@register.simple_tag
def icon(name: str, *, size: str = "", label: str = "") -> SafeString:
    """One icon of the sprite; silent to a screen reader unless it is given a label."""
    look = f"icon icon--{size}" if size else "icon"
    href = f"{static('shared/icons/sprite.svg')}#{name}"
    if label:
        return format_html(
            '<svg class="{}" role="img" aria-label="{}"><use href="{}"/></svg>',
            look,
            label,
            href,
        )
    return format_html(
        '<svg class="{}" aria-hidden="true"><use href="{}"/></svg>', look, href
    )
