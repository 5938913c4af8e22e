"""Why buying could not go on as asked."""

from __future__ import annotations


class CannotOrderError(Exception):
    """Nothing was stored; ``message`` is the sentence to show."""

    def __init__(self, message: str) -> None:
        """Keep the sentence."""
        super().__init__(message)
        self.message = message
