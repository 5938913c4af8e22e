"""Addresses of the stores."""

from types import ModuleType

from django.urls import URLPattern, path

from shop.catalogue.views import finishes, imports, stores


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
    *_kept(finishes, "stores/finishes", "finish"),
    *_kept(stores, "stores/materials", "material"),
    *_kept(stores, "stores/suppliers", "supplier"),
    *_kept(stores, "stores/operations", "operation"),
    path("stores/materials/<uuid:pk>/", stores.material, name="material"),
    path(
        "stores/materials/<uuid:pk>/copy/", stores.material_copy, name="material-copy"
    ),
]
