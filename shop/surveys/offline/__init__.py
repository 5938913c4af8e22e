"""What of a room may be written from a device that is away, each field by itself."""

from shop.surveys.offline import begin, inside, openings, photos, places, walls, who


def register_ops() -> None:
    """Name the writes that rooms take."""
    for module in (begin, who, walls, openings, places, inside, photos):
        module.register_ops()


__all__ = ["register_ops"]
