"""Say what was done, with a way back where there is one."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest


def say(request: HttpRequest, text: str, *, undo: str = "") -> None:
    """Show a message on the next page; ``undo`` is the address that takes it back (POST).

    The address travels as the message's extra tags, which nothing else here uses.
    """
    messages.success(request, text, extra_tags=undo)
