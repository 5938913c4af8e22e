"""Keep the stores, and move what lies in them."""

from shop.catalogue.actions.errors import StockError
from shop.catalogue.actions.finishes import free_key, install_finishes
from shop.catalogue.actions.imports import (
    Looked,
    PutBack,
    StoresMovedError,
    Writing,
    keep_import,
    look_again,
    store_import,
    undo_import,
)
from shop.catalogue.actions.kept import Kept, add, archive, change, restore
from shop.catalogue.actions.pieces import (
    find_piece,
    keep_piece,
    throw_piece,
    use_piece,
)
from shop.catalogue.actions.prices import change_price
from shop.catalogue.actions.stock import (
    Counted,
    count_stock,
    move_stock,
    take_stock,
    undo_move,
)

__all__ = [
    "Counted",
    "Kept",
    "Looked",
    "PutBack",
    "StockError",
    "StoresMovedError",
    "Writing",
    "add",
    "archive",
    "change",
    "change_price",
    "count_stock",
    "find_piece",
    "free_key",
    "install_finishes",
    "keep_import",
    "keep_piece",
    "look_again",
    "move_stock",
    "restore",
    "store_import",
    "take_stock",
    "throw_piece",
    "undo_import",
    "undo_move",
    "use_piece",
]
