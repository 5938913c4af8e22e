"""What to buy, by when, in which packs: pure arithmetic without a clock."""

from jobs.buying.engine.amounts import (
    Piece,
    boards_for,
    roll_for,
    sheets_for,
    slabs_for,
)
from jobs.buying.engine.model import (
    Answer,
    Buy,
    BuyingError,
    Demand,
    Offer,
    PackCount,
    Question,
    Share,
    Supply,
)
from jobs.buying.engine.netting import ENGINE_VERSION, SPARE_DAYS, net
from jobs.buying.engine.packs import cheapest_packs
from jobs.buying.engine.sharing import share_amount

__all__ = [
    "ENGINE_VERSION",
    "SPARE_DAYS",
    "Answer",
    "Buy",
    "BuyingError",
    "Demand",
    "Offer",
    "PackCount",
    "Piece",
    "Question",
    "Share",
    "Supply",
    "boards_for",
    "cheapest_packs",
    "net",
    "roll_for",
    "share_amount",
    "sheets_for",
    "slabs_for",
]
