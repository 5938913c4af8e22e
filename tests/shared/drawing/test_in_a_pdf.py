"""What WeasyPrint makes of a drawing: its size, its words, its alternative text."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from weasyprint import HTML
from weasyprint.text.fonts import FontConfiguration

from shared.drawing import Drawing, Scale, Side, View, chain, dimension, title

FONTS = Path(__file__).parents[3] / "shared/static/shared/fonts"
MM = 320


def page():
    faces = "".join(
        f"@font-face {{ font-family: '{family}'; font-weight: {weight};"
        f" src: url({FONTS.as_uri()}/{name}-{weight}.woff2) }}"
        for family, name in (
            ("Atkinson Hyperlegible Next", "atkinson-hyperlegible-next"),
            ("Cleat Marks", "cleat-marks"),
        )
        for weight in (400, 600)
    )
    view = View(Scale(10))
    view.rect((0, 0), (600 * MM, 400 * MM))
    chain(view, Side.LEFT, [0, 15 * MM, 400 * MM], ["15", "385 ⅛″"])
    dimension(view, Side.BELOW, 0, 600 * MM, "600")
    title(view, "Front", "1:10")
    sheet = Drawing(100, 80, key="p1", title="Panel P-01 <A>", description="A panel.")
    sheet.add(view, 3, 3)
    return (
        f"<html lang=en><title>t</title><style>{faces}"
        "@page { size: 120mm 140mm; margin: 5mm }"
        " h1 { font-family: Atkinson Hyperlegible Next }</style>"
        f"<body><h1>Sheet</h1>{sheet.svg()}"
    )


@pytest.fixture(scope="module")
def pdf():
    made = HTML(string=page()).write_pdf(
        pdf_variant="pdf/ua-1", font_config=FontConfiguration()
    )
    return PdfReader(BytesIO(made))


def figures(node):
    node = node.get_object()
    if isinstance(node, list):
        return [alt for child in node for alt in figures(child)]
    if not isinstance(node, dict):
        return []
    own = [node.get("/Alt")] if node.get("/S") == "/Figure" else []
    return own + (figures(node["/K"]) if "/K" in node else [])


def test_the_title_is_the_figures_alternative_text(pdf):
    tree = pdf.trailer["/Root"]["/StructTreeRoot"]
    assert figures(tree) == ["Panel P-01 <A>"]


def test_words_are_set_in_the_vendored_faces_alone(pdf):
    fonts = pdf.pages[0]["/Resources"]["/Font"].values()
    names = {str(font.get_object()["/BaseFont"]).partition("+")[2] for font in fonts}
    assert {"Atkinson-Hyperlegible-Next", "Cleat-Marks"} < names
    assert all(
        n.startswith(("Atkinson-Hyperlegible-Next", "Cleat-Marks")) for n in names
    )


def test_dimensions_can_be_read_back(pdf):
    text = pdf.pages[0].extract_text()
    assert "600" in text
    assert "Front" in text
