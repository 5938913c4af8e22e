"""What can be told a client from a few words and numbers, before anybody measured."""

from shop.clients.engine.ballpark import (
    Ballpark,
    BallparkError,
    Range,
    Share,
    ballpark,
)
from shop.clients.engine.cautions import Caution, Told, cautions

__all__ = [
    "Ballpark",
    "BallparkError",
    "Caution",
    "Range",
    "Share",
    "Told",
    "ballpark",
    "cautions",
]
