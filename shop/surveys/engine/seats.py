"""Published sound absorption of people and seats, as area for each.

A table gives the share by the m² of floor that an audience covers; with so many to the m²,
each swallows as much as `share / density` m² of a perfect absorber would. Studies differ:
from 0.2 to 0.57 m² a person at 500 Hz.
"""

from __future__ import annotations

from dataclasses import dataclass

VERSION = "seats-1"

ANNEX = "M. Vorländer, Auralization, Springer 2008, tables of the annex"
NOT_SOURCED = "not sourced"


@dataclass(frozen=True, slots=True)
class Density:
    """Shares from 125 Hz to 4 kHz with so many people or seats on a m² of floor."""

    per_m2: float
    shares: tuple[float, ...]

    @property
    def areas_m2(self) -> tuple[float, ...]:
        """What each of them swallows, in m² of a perfect absorber."""
        return tuple(share / self.per_m2 for share in self.shares)


@dataclass(frozen=True, slots=True)
class Item:
    """What one of a kind swallows at 125 Hz to 4 kHz in m²; nothing where nobody says."""

    key: str
    areas_m2: tuple[float, ...] | None
    source: str


AUDIENCE = (
    Density(0.72, (0.10, 0.21, 0.41, 0.65, 0.75, 0.71)),
    Density(1.0, (0.16, 0.29, 0.55, 0.80, 0.92, 0.90)),
    Density(2.0, (0.26, 0.46, 0.87, 0.99, 0.99, 0.99)),
)
"""People sitting, by how many there are on a m²."""

FIELD_STUDY_M2 = (0.29, 0.43, 0.51, 0.68, 0.71, 0.73)
"""A person, by a field study in churches that was evaluated after Sabine, for comparison."""

CLOTH_SEATS = Density(2.0, (0.44, 0.60, 0.77, 0.89, 0.82, 0.70))
"""Empty seats covered with cloth."""

LEATHER_SEATS = Density(2.0, (0.40, 0.50, 0.58, 0.61, 0.58, 0.50))
"""Empty seats covered with leather."""

ITEMS = {
    item.key: item
    for item in (
        Item("person", AUDIENCE[1].areas_m2, f"{ANNEX}, one person on a m²"),
        Item("soft_seat", CLOTH_SEATS.areas_m2, f"{ANNEX}, two empty seats on a m²"),
        Item(
            "leather_seat", LEATHER_SEATS.areas_m2, f"{ANNEX}, two empty seats on a m²"
        ),
        *(
            Item(key, None, NOT_SOURCED)
            for key in ("hard_seat", "table", "shelves", "bed", "sofa")
        ),
    )
}
"""By the kind of furniture; what no source gives is counted, and swallows nothing here."""
