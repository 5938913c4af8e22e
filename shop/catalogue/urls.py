"""Addresses of the stores."""

from types import ModuleType

from django.urls import URLPattern, path

from shop.catalogue.views import (
    finishes,
    imports,
    pieces,
    stock,
    stocktake,
    stores,
)


def _kept(views: ModuleType, folder: str, name: str) -> list[URLPattern]:
    """Return the addresses that all that is kept in the stores has."""
    row = f"{folder}/<uuid:pk>/"
    view = {verb: getattr(views, f"{name}_{verb}") for verb in VERBS}
    return [
        path(f"{folder}/new/", view["new"], name=f"{name}-new"),
        path(f"{row}change/", view["change"], name=f"{name}-change"),
        path(f"{row}archive/", view["archive"], name=f"{name}-archive"),
        path(f"{row}restore/", view["restore"], name=f"{name}-restore"),
    ]


def _stock() -> list[URLPattern]:
    """Return the addresses of what lies in the stores."""
    material, piece = "stores/materials/<uuid:pk>/", "stores/pieces/<uuid:pk>/"
    return [
        path("stores/stocktake/", stocktake.stocktake, name="stocktake"),
        path(f"{material}count/", stock.stock_count, name="stock-count"),
        path(f"{material}in/", stock.stock_in, name="stock-in"),
        path(f"{material}out/", stock.stock_out, name="stock-out"),
        path("stores/moves/<uuid:pk>/undo/", stock.stock_undo, name="stock-undo"),
        path("stores/pieces/", pieces.pieces, name="pieces"),
        path(f"{material}pieces/new/", pieces.piece_keep, name="piece-keep"),
        path(f"{material}pieces/labels/", pieces.piece_labels, name="piece-labels"),
        path(f"{piece}use/", pieces.piece_use, name="piece-use"),
        path(f"{piece}throw/", pieces.piece_throw, name="piece-throw"),
        path(f"{piece}find/", pieces.piece_find, name="piece-find"),
        path(f"{piece}label/", pieces.piece_label, name="piece-label"),
    ]


VERBS = ("new", "change", "archive", "restore")

urlpatterns = [
    path("stores/", stores.materials, name="materials"),
    path("stores/suppliers/", stores.suppliers, name="suppliers"),
    path("stores/operations/", stores.operations, name="operations"),
    path("stores/finishes/", finishes.finishes, name="finishes"),
    path("stores/files/", imports.imports, name="imports"),
    path("stores/files/<slug:what>.csv", imports.export, name="export"),
    path("stores/files/<uuid:pk>/", imports.import_page, name="import"),
    path("stores/files/<uuid:pk>/store/", imports.import_store, name="import-store"),
    path("stores/files/<uuid:pk>/undo/", imports.import_undo, name="import-undo"),
    *_stock(),
    *_kept(finishes, "stores/finishes", "finish"),
    *_kept(stores, "stores/materials", "material"),
    *_kept(stores, "stores/suppliers", "supplier"),
    *_kept(stores, "stores/operations", "operation"),
    path("stores/materials/<uuid:pk>/", stores.material, name="material"),
    path(
        "stores/materials/<uuid:pk>/copy/", stores.material_copy, name="material-copy"
    ),
]
