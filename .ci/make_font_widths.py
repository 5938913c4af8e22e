"""Write the drawing package's width tables from the vendored typefaces.

Run as ``python .ci/make_font_widths.py`` after a typeface changes.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

from fontTools.ttLib import TTFont

ROOT = Path(__file__).resolve().parent.parent
FONTS = ROOT / "shared" / "static" / "shared" / "fonts"
TABLES = {"regular": "400", "semibold": "600"}
HEAD = '''"""Advance widths of the drawing typeface, {name}: written by .ci/make_font_widths.py."""

# Thousandths of the type size -> the characters that wide. What the text face lacks is
# taken from the marks face, as the browser and WeasyPrint do.
ADVANCES: dict[int, str] = {{
'''


def advances(face: str, weight: str) -> dict[str, int]:
    """Return the width of each character of a face, in thousandths of the type size."""
    font = TTFont(FONTS / f"{face}-{weight}.woff2")
    per_em = font["head"].unitsPerEm
    metrics = font["hmtx"]
    return {
        chr(code): round(metrics[glyph][0] * 1000 / per_em)
        for code, glyph in font.getBestCmap().items()
        if chr(code).isprintable() or code == 0xA0
    }


def table(name: str, weight: str) -> str:
    """Return the text of one module."""
    text_face = advances("atkinson-hyperlegible-next", weight)
    both = advances("cleat-marks", weight) | text_face
    by_width: dict[int, str] = defaultdict(str)
    for character in sorted(both):
        by_width[both[character]] += character
    rows = "".join(f"    {width}: {by_width[width]!a},\n" for width in sorted(by_width))
    return HEAD.format(name=name) + rows + "}\n"


if __name__ == "__main__":
    for name, weight in TABLES.items():
        module = ROOT / "shared" / "drawing" / f"widths_{name}.py"
        module.write_text(table(name, weight), encoding="ascii")
