"""Addresses of the stores."""

from django.urls import URLPattern, path

from shop.catalogue import views


def _kept(folder: str, name: str) -> list[URLPattern]:
    """Return the addresses that materials, suppliers and operations all have."""
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
    path("stores/", views.materials, name="materials"),
    path("stores/suppliers/", views.suppliers, name="suppliers"),
    path("stores/operations/", views.operations, name="operations"),
    *_kept("stores/materials", "material"),
    *_kept("stores/suppliers", "supplier"),
    *_kept("stores/operations", "operation"),
    path("stores/materials/<uuid:pk>/", views.material, name="material"),
    path("stores/materials/<uuid:pk>/copy/", views.material_copy, name="material-copy"),
]
