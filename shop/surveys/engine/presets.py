"""What rooms of a kind are usually finished with: a beginning, to be put right surface by surface.

The choice is common practice, not a source; the coefficients behind each key are those of
the catalogue's published tables.
"""

from __future__ import annotations

from dataclasses import dataclass

VERSION = "room-presets-1"


@dataclass(frozen=True, slots=True)
class RoomPreset:
    """Finishes by key for each surface of a kind of room."""

    key: str
    label: str
    walls: str
    ceiling: str
    floor: str
    window: str = "glass-double-narrow"
    door: str = "door-solid"


PRESETS = {
    preset.key: preset
    for preset in (
        RoomPreset(
            "living",
            "living room",
            walls="gypsum-on-studs",
            ceiling="plasterboard-ceiling",
            floor="wood-floor-joists",
        ),
        RoomPreset(
            "music",
            "music room",
            walls="gypsum-on-studs",
            ceiling="plasterboard-ceiling",
            floor="parquet-on-concrete",
        ),
        RoomPreset(
            "voice",
            "voice booth",
            walls="plasterboard-glass-wool",
            ceiling="plasterboard-glass-wool",
            floor="carpet-heavy-pad",
            window="glass-double-wide",
        ),
        RoomPreset(
            "office",
            "office",
            walls="plasterboard-double-steel-wool",
            ceiling="tile-fissured",
            floor="carpet-thin-concrete",
        ),
        RoomPreset(
            "meeting",
            "meeting room",
            walls="plasterboard-double-steel-wool",
            ceiling="plasterboard-ceiling",
            floor="carpet-thin-concrete",
        ),
        RoomPreset(
            "cafe",
            "café or restaurant",
            walls="plaster-on-brick",
            ceiling="plasterboard-ceiling",
            floor="parquet-on-concrete",
            window="glass-heavy-plate",
        ),
        RoomPreset(
            "hall",
            "hall",
            walls="plaster-on-brick",
            ceiling="plaster-on-lath",
            floor="wood-floor-joists",
            window="window-glass",
        ),
        RoomPreset(
            "teaching",
            "teaching room",
            walls="block-painted",
            ceiling="plasterboard-ceiling",
            floor="linoleum-on-concrete",
        ),
        RoomPreset(
            "plain",
            "plain plastered room",
            walls="plaster-on-brick",
            ceiling="plaster-on-lath",
            floor="wood-floor-joists",
        ),
    )
}
"""By key; those of a use of a room bear its key."""
