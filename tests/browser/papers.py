"""Read a PDF back: words, pages, tags, faces, and what is said instead of a picture."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from pypdf import PdfReader
from pypdf.generic import IndirectObject


class Paper:
    """A printed document."""

    def __init__(self, data: bytes) -> None:
        """Open it."""
        assert data.startswith(b"%PDF-")
        self.reader = PdfReader(io.BytesIO(data))
        self.root: Any = self.reader.trailer["/Root"]

    @property
    def words(self) -> str:
        """All its words, with single spaces."""
        return " ".join(
            " ".join(page.extract_text() for page in self.reader.pages).split()
        )

    @property
    def pages(self) -> int:
        """How many pages it has."""
        return len(self.reader.pages)

    @property
    def size_mm(self) -> tuple[int, int]:
        """Width and height of its first page."""
        box = self.reader.pages[0].mediabox
        return round(float(box.width) / 72 * 25.4), round(float(box.height) / 72 * 25.4)

    @property
    def is_tagged(self) -> bool:
        """Whether a reading machine is told what is what."""
        return "/StructTreeRoot" in self.root and bool(
            self.root["/MarkInfo"]["/Marked"]
        )

    @property
    def language(self) -> str:
        """What language it says it is in."""
        return str(self.root.get("/Lang", ""))

    def figures(self) -> list[str]:
        """Return what is said instead of each picture; nothing where nothing is."""
        return [
            str(node.get("/Alt", ""))
            for node in _nodes(self.root["/StructTreeRoot"])
            if node.get("/S") == "/Figure"
        ]

    def faces_left_out(self) -> set[str]:
        """Return the typefaces that are not in the file."""
        missing = set()
        for page in self.reader.pages:
            fonts: Any = page["/Resources"]
            fonts = fonts.get("/Font", {})
            for font in (fonts[key].get_object() for key in fonts):
                below = font.get("/DescendantFonts", [font])
                for each in (f.get_object() for f in below):
                    described = each.get("/FontDescriptor", {})
                    described = getattr(
                        described, "get_object", lambda d=described: d
                    )()
                    if not {"/FontFile", "/FontFile2", "/FontFile3"} & set(described):
                        missing.add(str(font.get("/BaseFont")))
        return missing


def _nodes(node: Any) -> Iterator[Any]:
    node = node.get_object() if isinstance(node, IndirectObject) else node
    if isinstance(node, list):
        for below in node:
            yield from _nodes(below)
    elif hasattr(node, "get"):
        yield node
        if "/K" in node:
            yield from _nodes(node["/K"])


def check(paper: Paper) -> None:
    """Assert what every paper of ours must be, whatever it says."""
    assert paper.is_tagged
    assert paper.language.startswith("en")
    assert paper.faces_left_out() == set()
    assert all(paper.figures())
