"""What tests of quotes share."""

import pytest


@pytest.fixture
def quick_print(monkeypatch):
    """Print a stand-in: for tests that send quotes and don't read the paper.

    tests/quotes/offers/test_paper.py prints for real; it takes half a second each.
    """
    printed = []

    def stand_in(snapshot):
        printed.append(snapshot)
        return b"%PDF-1.7 of " + snapshot["quote"]["letter"].encode()

    monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", stand_in)
    return printed
