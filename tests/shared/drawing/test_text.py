from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from shared.drawing import Label, Point, text_width_mm

FONTS = Path(__file__).parents[3] / "shared/static/shared/fonts"
WEIGHTS = {False: "400", True: "600"}
SAMPLES = [
    "600",
    '23 15/16"',
    "Panel cleat 15 × 75 mm, 45°",
    "Müller & Söhne",
    "1:20",
    "½ ⅝ ″",
]


@pytest.mark.parametrize("bold", [False, True])
def test_every_width_is_that_of_the_vendored_typeface(bold):
    for face in ("cleat-marks", "atkinson-hyperlegible-next"):
        font = TTFont(FONTS / f"{face}-{WEIGHTS[bold]}.woff2")
        glyphs, em = font.getBestCmap(), font["head"].unitsPerEm
        own = {code for code in glyphs if chr(code).isprintable()}
        if face == "cleat-marks":
            text_face = FONTS / f"atkinson-hyperlegible-next-{WEIGHTS[bold]}.woff2"
            own -= set(TTFont(text_face).getBestCmap())
        assert len(own) > 300
        for code in own:
            width = font["hmtx"][glyphs[code]][0] / em
            assert text_width_mm(chr(code), 1, bold=bold) == pytest.approx(width)


@pytest.mark.parametrize("text", [s for s in SAMPLES if "″" not in s])
def test_a_line_measures_as_the_typeface_sets_it_kerning_and_all(text, tmp_path):
    font = TTFont(FONTS / "atkinson-hyperlegible-next-400.woff2")
    font.flavor = None
    font.save(tmp_path / "face.ttf")
    drawn = ImageFont.truetype(str(tmp_path / "face.ttf"), 1000).getlength(text) / 1000
    assert text_width_mm(text, 1) == pytest.approx(drawn, rel=0.03)


@given(st.text(max_size=20), st.text(max_size=20), st.floats(0.5, 20))
def test_widths_add_up_and_grow_with_the_type(a, b, size):
    whole = text_width_mm(a + b, size)
    parts = text_width_mm(a, size) + text_width_mm(b, size)
    assert whole == pytest.approx(parts)
    assert text_width_mm(a, 2 * size) == pytest.approx(2 * text_width_mm(a, size))


def test_a_turned_label_takes_its_length_down_the_page():
    flat = Label("Rail", Point(10, 10)).box
    turned = Label("Rail", Point(10, 10), turned=True).box
    assert (flat.width, flat.height) == pytest.approx((turned.height, turned.width))


def test_no_font_name_begins_with_a_space():
    # WeasyPrint splits the list at commas and takes the space as part of the name.
    markup = Label("Rail", Point(0, 0)).markup()
    assert 'font-family="Atkinson Hyperlegible Next,Cleat Marks,sans-serif"' in markup
