"""Published sound absorption: what comes with the program (pure)."""

from shop.catalogue.engine.finishes import BANDS_HZ, FINISHES, SOURCES, KnownFinish

__all__ = ["BANDS_HZ", "FINISHES", "SOURCES", "KnownFinish"]
