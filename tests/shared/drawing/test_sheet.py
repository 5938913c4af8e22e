import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.drawing import Drawing, Scale, Side, View, dimension, name_inside, scale_bar
from shared.drawing import title as write_title
from shared.drawing.geometry import Box
from tests.shared.drawing.svg import NS, all_of, collisions, ids, parse, words

MM = 320


def view(text="600"):
    found = View(Scale(10))
    found.rect((0, 0), (600 * MM, 400 * MM))
    dimension(found, Side.BELOW, 0, 600 * MM, text)
    return found


def drawing(key="p1", title="Panel", description="One panel", text="600"):
    sheet = Drawing(100, 80, key=key, title=title, description=description)
    sheet.add(view(text), 3, 3)
    return sheet


def test_the_title_is_the_first_child_and_names_the_picture():
    root = parse(drawing(title="Panel P-01").svg())
    assert root[0].tag == NS + "title"
    assert root[0].text == "Panel P-01"
    assert root[1].tag == NS + "desc"
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == f"{root[0].get('id')} {root[1].get('id')}"


def test_the_size_and_the_view_box_are_the_same_millimetres():
    root = parse(drawing().svg())
    assert (root.get("width"), root.get("height")) == ("100mm", "80mm")
    assert root.get("viewBox") == "0 0 100 80"


def test_a_shape_keeps_its_scaled_size_in_the_file():
    rects = all_of(parse(drawing().svg()), "rect")
    assert ("60", "40") in [(r.get("width"), r.get("height")) for r in rects]


def test_the_whole_sheet_is_white_paper():
    paper = all_of(parse(drawing().svg()), "rect")[0]
    assert paper.get("fill") == "#ffffff"
    assert (paper.get("width"), paper.get("height")) == ("100", "80")


def test_ids_of_two_drawings_never_meet():
    first, second = ids(parse(drawing("p1").svg())), ids(parse(drawing("p2").svg()))
    assert not set(first) & set(second)
    assert len(first) == len(set(first)) == 3


@pytest.mark.parametrize("key", ["", "1st", "a b", "a'", "é", "a\n"])
def test_a_key_that_is_no_plain_id_is_refused(key):
    with pytest.raises(ValueError, match="key"):
        drawing(key)


@given(st.text(), st.text())
def test_whatever_was_typed_is_escaped_and_still_reads(typed, words_typed):
    root = parse(drawing(title=typed, description=typed, text=words_typed).svg())
    assert all_of(root, "script") == []
    assert len(all_of(root, "text")) == 1


def test_markup_in_names_stays_text():
    nasty = '</title><script>alert("x")</script>&amp;'
    root = parse(drawing(title=nasty, text=nasty).svg())
    assert root[0].text == nasty
    assert words(root) == [nasty]


def test_nothing_needs_style_or_script():
    for node in parse(drawing().svg()).iter():
        assert not {"style", "class"} & set(node.attrib)
        assert not [name for name in node.attrib if name.startswith("on")]


def test_every_word_names_its_typeface_size_and_weight():
    for node in all_of(parse(drawing().svg()), "text"):
        assert {"font-family", "font-size", "font-weight", "fill"} <= set(node.attrib)


def test_colours_are_told_apart_by_more_than_colour():
    # Every tint is light enough for the darkest ink, in grey as on screen.
    from shared.drawing import pens

    tints = [v for k, v in vars(pens).items() if k.endswith("_TINT")]
    greys = [
        sum(int(t[i : i + 2], 16) * w for i, w in ((1, 0.3), (3, 0.6), (5, 0.1)))
        for t in tints
    ]
    assert min(greys) > 190


def test_a_sheet_knows_whether_all_fits_and_can_be_trimmed():
    sheet = drawing()
    assert sheet.fits()
    sheet.add(view(), 90, 3)
    assert not sheet.fits()
    sheet.trim()
    assert sheet.fits()
    assert collisions(sheet) == []


def test_the_same_view_twice_gives_the_same_text():
    assert drawing().svg() == drawing().svg()


def test_words_go_inside_a_shape_only_where_they_fit():
    sheet = View(Scale(1))
    assert name_inside(sheet, Box(0, 0, 30, 10), "Brace")
    assert not name_inside(sheet, Box(0, 0, 30, 10), "Brace")
    assert name_inside(sheet, Box(50, 0, 55, 30), "Brace")
    assert not name_inside(sheet, Box(60, 0, 62, 30), "Brace")
    assert [label.turned for label in sheet.labels()] == [False, True]


def test_a_box_that_is_inside_out_is_refused():
    with pytest.raises(ValueError, match="inside-out"):
        Box(1, 0, 0, 1)


def test_a_scale_bar_is_to_scale():
    found = view()
    scale_bar(found, 100 * MM, 4, "400 mm")
    write_title(found, "Front")
    sheet = Drawing(100, 80, key="p", title="t", description="d")
    sheet.add(found, 3, 3)
    dark = [p for p in all_of(parse(sheet.svg()), "path") if p.get("fill") == "#1f2328"]
    bars = [p.get("d").split() for p in dark if p.get("d").count("L") == 3]
    assert [float(b[2].strip("L")) - float(b[0].strip("M")) for b in bars] == [10, 10]
