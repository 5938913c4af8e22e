"""Why a quote can't go, or can't be answered."""

from __future__ import annotations


class CannotSendError(Exception):
    """The draft is not ready; each argument is a sentence that says what to do."""

    def __init__(self, *sentences: str) -> None:
        """Keep the sentences."""
        super().__init__(*sentences)
        self.sentences = sentences


class CannotAnswerError(Exception):
    """The quote is no longer out, or its panels are taken; the message says so."""
