"""What the shop buys and what its work takes: materials, operations, suppliers."""

from shop.catalogue.models.finishes import BANDS, Finish
from shop.catalogue.models.imports import Effect, Import, ImportedList, ImportLine
from shop.catalogue.models.materials import (
    COUNTED,
    SIZED,
    FireClass,
    Material,
    MaterialKind,
    MaterialUnit,
)
from shop.catalogue.models.stock import (
    PieceChange,
    PieceState,
    PriceChange,
    StockLevel,
    StockMove,
    StockPiece,
    StockReason,
)
from shop.catalogue.models.suppliers import Supplier
from shop.catalogue.models.work import Driver, Operation, WorkStage

__all__ = [
    "BANDS",
    "COUNTED",
    "SIZED",
    "Driver",
    "Effect",
    "Finish",
    "FireClass",
    "Import",
    "ImportLine",
    "ImportedList",
    "Material",
    "MaterialKind",
    "MaterialUnit",
    "Operation",
    "PieceChange",
    "PieceState",
    "PriceChange",
    "StockLevel",
    "StockMove",
    "StockPiece",
    "StockReason",
    "Supplier",
    "WorkStage",
]
