"""What forms of buying say alike."""

STALE = "That is no longer there: load the page again."
