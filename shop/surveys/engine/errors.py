"""What the survey's engine refuses."""

from __future__ import annotations


class SurveyError(ValueError):
    """A reading that nothing can be made of; names its field."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        self.message = message
        super().__init__(message)
