"""What the load path refuses."""

from __future__ import annotations


class SafetyError(ValueError):
    """A value that no load path can be worked out from, with the field it stands in."""

    def __init__(self, field: str, message: str) -> None:
        """Keep the field, so that a form can show the sentence beside it."""
        super().__init__(message)
        self.field, self.message = field, message
