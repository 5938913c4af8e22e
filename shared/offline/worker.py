"""The service worker's script: which files the shell needs, and their version."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import ManifestFilesMixin, staticfiles_storage
from django.templatetags.static import static
from django.urls import reverse

SCRIPT = "shared/js/offline/sw.js"
_OURS = ("shared/", "shop/", "quotes/", "jobs/")
_KINDS = {".css", ".js", ".woff2", ".svg", ".webmanifest"}
_NOT_ON_SCREEN = {SCRIPT, "shared/css/pdf.css"}
_HTMX = "django_htmx/htmx-2.min.js"


def _shell_files() -> Iterator[str]:
    """Give the static files that pages are made of."""
    for finder in finders.get_finders():
        for path, _ in finder.list([]):
            ours = path.startswith(_OURS) and Path(path).suffix in _KINDS
            if path == _HTMX or (ours and path not in _NOT_ON_SCREEN):
                yield path


@lru_cache(maxsize=512)
def _hash(found: str, _changed: int) -> str:
    return hashlib.sha256(Path(found).read_bytes()).hexdigest()


def _version(paths: list[str]) -> str:
    """Return a short hash of all these files: another one is another cache."""
    whole = hashlib.sha256()
    for path in paths:
        found = str(finders.find(path))
        content = _hash(found, Path(found).stat().st_mtime_ns)
        whole.update(f"{path} {content}\n".encode())
    return whole.hexdigest()[:12]


def script() -> str:
    """Return the service worker with its version, its files and its addresses."""
    paths = sorted(set(_shell_files()))
    known = {
        "version": _version([*paths, SCRIPT]),
        "files": [static(path) for path in paths],
        "shell": reverse("shared:device"),
        # Names that carry a hash never change; others are asked for anew when they can be.
        "hashed": isinstance(staticfiles_storage, ManifestFilesMixin),
        "static": static(""),
    }
    code = Path(str(finders.find(SCRIPT))).read_text(encoding="utf-8")
    return f"const KNOWN = {json.dumps(known)};\n{code}"
