"""Why the stores could not be changed as asked."""

from __future__ import annotations


class StockError(Exception):
    """Nothing was stored; ``message`` is the sentence to show."""

    def __init__(self, message: str) -> None:
        """Keep the sentence."""
        super().__init__(message)
        self.message = message
