"""What no cut plan can be made from."""

from __future__ import annotations


class NestingError(ValueError):
    """A value that nothing can be planned with, and the field it stands in."""

    def __init__(self, field: str, message: str, *, key: str = "") -> None:
        """Keep the field for a form, and the key of the part or stock that is meant."""
        super().__init__(message)
        self.field, self.message, self.key = field, message, key
