"""From a build spec and a size to every part of the panel (pure).

take_off is the way in; the dataclasses it takes and gives are in model.py, the five
builds that come with it in presets.py.
"""

from __future__ import annotations

from quotes.specs.engine.takeoff import ENGINE_VERSION, take_off

__all__ = ["ENGINE_VERSION", "take_off"]
