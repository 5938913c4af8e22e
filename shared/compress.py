"""Text goes over the wire compressed; pictures, papers and fonts are so already."""

from __future__ import annotations

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware

_TEXT = (
    "text/",
    "application/json",
    "application/manifest+json",
    "application/javascript",
    "image/svg+xml",
)


class CompressMiddleware(GZipMiddleware):
    """Django's own, which guards tokens by random padding, for text alone."""

    def process_response(
        self, request: HttpRequest, response: HttpResponseBase
    ) -> HttpResponseBase:
        """Compress a whole text; a part that was asked for by its range stays as it is."""
        kind = response.headers.get("Content-Type", "")
        if response.status_code == 206 or not kind.startswith(_TEXT):
            return response
        if response.has_header("Last-Modified"):
            # Django would weaken the tag, which WhiteNoise then no longer knows; the date
            # is enough to ask whether a file changed.
            del response.headers["ETag"]
        compressed: HttpResponseBase = super().process_response(request, response)
        return compressed
