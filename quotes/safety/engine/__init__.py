"""What carries a panel, and whether all of it is rated and enough (pure)."""

from __future__ import annotations

from quotes.safety.engine.errors import SafetyError
from quotes.safety.engine.model import (
    VERSION,
    Building,
    Element,
    Frame,
    Hardware,
    Held,
    Hung,
    LoadPath,
    Member,
    OnBattens,
    OnCleats,
    Rated,
    Verdict,
)
from quotes.safety.engine.path import load_path
from quotes.safety.engine.statics import At

__all__ = [
    "VERSION",
    "At",
    "Building",
    "Element",
    "Frame",
    "Hardware",
    "Held",
    "Hung",
    "LoadPath",
    "Member",
    "OnBattens",
    "OnCleats",
    "Rated",
    "SafetyError",
    "Verdict",
    "load_path",
]
