"""Every address: each app includes its features; the one place that names the upper apps."""

from importlib.util import find_spec

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path

FEATURES = {
    "shop": ("people", "clients", "surveys", "catalogue"),
    "quotes": ("specs", "pricing", "offers"),
    "jobs": ("board", "gates", "cutting", "buying", "visits", "nextup"),
}


def _app(name: str) -> URLResolver:
    """Return the addresses of one app's features under its own namespace."""
    modules = [f"{name}.{feature}.urls" for feature in FEATURES[name]]
    found = [path("", include(module)) for module in modules if find_spec(module)]
    return path("", include((found, name)))


urlpatterns: list[URLPattern | URLResolver] = [
    path("admin/", admin.site.urls),
    path("", include("shared.urls")),
    *(_app(name) for name in FEATURES),
]
