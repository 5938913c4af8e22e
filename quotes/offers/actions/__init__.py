"""Make a quote, send it frozen, and write down what became of it."""

from quotes.offers.actions.answering import (
    accept_quote,
    decline_quote,
    lapse_quotes,
    take_yes_back,
    void_quote,
)
from quotes.offers.actions.drafting import (
    Terms,
    change_terms,
    drop_line,
    put_line,
    restore_line,
    set_rooms,
    start_quote,
)
from quotes.offers.actions.errors import CannotAnswerError, CannotSendError
from quotes.offers.actions.sending import Cover, send_quote

__all__ = [
    "CannotAnswerError",
    "CannotSendError",
    "Cover",
    "Terms",
    "accept_quote",
    "change_terms",
    "decline_quote",
    "drop_line",
    "lapse_quotes",
    "put_line",
    "restore_line",
    "send_quote",
    "set_rooms",
    "start_quote",
    "take_yes_back",
    "void_quote",
]
