"""PDFs: tagged, titled, with their fonts inside, and made from listed files only."""

import io
from pathlib import Path

import pytest
from django.template import engines
from pypdf import PdfReader

from shared.conventions import Conventions, using
from shared.pdf import Letterhead, PdfError, html_to_pdf, render_html, render_pdf

BODY = """
{% extends "shared/pdf/base_pdf.html" %}
{% block title %}Sheet 2030-014{% endblock title %}
{% block main %}
<h1>For Sample Café</h1>
<h2>Panels</h2>
<table>
  <thead><tr><th scope="col">Panel</th><th scope="col">Width</th></tr></thead>
  <tbody><tr><th scope="row">KF-01</th><td>12′ 3 ⅝″</td></tr></tbody>
</table>
<figure><svg viewBox="0 0 9 9" width="9" height="9"><title>A square</title>
<path d="M1 1h7v7H1z"/></svg></figure>
{{ more }}
{% endblock main %}
"""
HEAD = Letterhead("Sample Panels", "Quiet rooms", ("4 Sample Street",))
PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c63600000000200015e0abf730000000049454e44ae426082"
)


def sheet(**context):
    """Render the sheet of these tests as HTML."""
    template = engines["django"].from_string(BODY)
    return template.render({"letterhead": HEAD, "paper": "A4", **context})


def page_with(markup):
    return f'<html lang="en"><title>x</title><body><p>Words</p>{markup}</body></html>'


@pytest.fixture(scope="module")
def pdf():
    return PdfReader(io.BytesIO(html_to_pdf(sheet())))


def elements(node):
    """Every element of a structure tree."""
    node = node.get_object()
    if not isinstance(node, dict):
        return
    yield node
    below = node.get("/K", [])
    for child in below if isinstance(below, list) else [below]:
        yield from elements(child)


def test_it_is_tagged_and_says_its_language_and_title(pdf):
    assert pdf.root_object["/MarkInfo"]["/Marked"]
    assert pdf.root_object["/Lang"] == "en-GB"
    assert pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"]
    assert pdf.metadata.title == "Sheet 2030-014"
    assert pdf.metadata.author == "Sample Panels"


def test_it_claims_the_standard(pdf):
    metadata = pdf.root_object["/Metadata"].get_data().decode()
    assert "pdfuaid" in metadata
    assert ">1</pdfuaid:part>" in metadata.replace(
        'pdfuaid:part="1"', ">1</pdfuaid:part>"
    )


def test_headings_tables_and_pictures_are_in_its_structure(pdf):
    found = list(elements(pdf.root_object["/StructTreeRoot"]))
    kinds = [node.get("/S") for node in found]
    assert kinds.count("/H1") == 1
    assert {"/H2", "/Table", "/TR", "/TH", "/TD", "/Figure"} <= set(kinds)
    assert [node["/Alt"] for node in found if node.get("/S") == "/Figure"] == [
        "A square"
    ]


def test_its_text_reads_back_with_eighths_and_primes(pdf):
    text = pdf.pages[0].extract_text()
    assert "For Sample Café" in text
    assert "12′ 3 ⅝″" in text
    assert "Page 1 of 1" in text


def test_its_fonts_are_the_shops_own_and_inside(pdf):
    fonts = pdf.pages[0]["/Resources"]["/Font"].values()
    inside = {}
    for font in fonts:
        below = font.get_object()["/DescendantFonts"][0].get_object()
        name = below["/BaseFont"].split("+")[1]
        inside[name] = "/FontFile2" in below["/FontDescriptor"].get_object()
    assert all(inside.values())
    families = {"Atkinson-Hyperlegible-Next", "Besley-Semi-Bold", "Cleat-Marks"}
    assert families <= set(inside)
    assert not [name for name in inside if name.split("-")[0] not in
                {"Atkinson", "Besley", "Cleat"}]  # fmt: skip


@pytest.mark.parametrize(
    ("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))]
)
def test_the_paper_is_the_shops(paper, size):
    with using(Conventions(paper=paper)):
        html = render_html("shared/pdf/base_pdf.html", {"letterhead": HEAD})
    box = PdfReader(io.BytesIO(html_to_pdf(html))).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_a_template_is_rendered_with_what_it_is_given():
    invented = Letterhead("Sample Panels", invented=True)
    pdf = render_pdf("shared/pdf/base_pdf.html", {"letterhead": invented})
    text = PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    assert "Sample Panels" in text
    assert "nothing here is real" in text


def test_a_picture_that_was_handed_over_is_shown(tmp_path):
    path = tmp_path / "photo.png"
    path.write_bytes(PIXEL)
    html = page_with('<img src="files/a.png" alt="a"><img src="files/b.png" alt="b">')
    pdf = html_to_pdf(html, files={"a.png": path, "b.png": PIXEL})
    assert len(PdfReader(io.BytesIO(pdf)).pages[0]["/Resources"]["/XObject"]) >= 1


@pytest.mark.parametrize(
    "address",
    [
        "https://example.org/x.png",
        "http://127.0.0.1/x.png",
        "//example.org/x.png",
        "file:///etc/passwd",
        "data:image/png;base64,AAAA",
        "files/not-handed-over.png",
        "static/../manage.py",
        "static/shared/js/app.js",
        "static/shared/css/%2e%2e/%2e%2e/%2e%2e/x.css",
        "manage.py",
    ],
)
@pytest.mark.parametrize(
    "markup",
    ['<img src="{}" alt="x">', '<link rel="stylesheet" href="{}">'],
    ids=["picture", "stylesheet"],
)
def test_anything_that_is_not_listed_stops_the_document(markup, address):
    with pytest.raises(PdfError):
        html_to_pdf(page_with(markup.format(address)), files={"a.png": PIXEL})


def test_a_font_from_outside_stops_the_document():
    style = (
        "@font-face{font-family:F;src:url(https://example.org/f.woff2)}p{font:9pt F}"
    )
    with pytest.raises(PdfError):
        html_to_pdf(page_with(f"<style>{style}</style>"))


def test_weasyprint_is_named_in_one_module_only():
    root = Path(__file__).parents[2]
    users = [
        path.relative_to(root).as_posix()
        for app in ("shared", "shop", "quotes", "jobs")
        for path in (root / app).rglob("*.py")
        if "import weasyprint" in path.read_text()
        or "from weasyprint" in path.read_text()
    ]
    assert users == ["shared/pdf.py"]
