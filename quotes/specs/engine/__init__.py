"""From a build and a size to every part of the panel (pure)."""
