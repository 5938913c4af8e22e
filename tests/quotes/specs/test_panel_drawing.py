import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from quotes.specs.engine.drawing import Paper, panel_drawing, panel_thumbnail
from quotes.specs.engine.drawing.corner import corner_view
from quotes.specs.engine.drawing.cut import cut_position, fill_in_cut, slices
from quotes.specs.engine.drawing.faces import back_view, front_view
from quotes.specs.engine.drawing.section import section_view
from quotes.specs.engine.model import PartRole, Runs, TakeoffError
from shared.drawing import Drawing, Scale
from shared.length import from_mm
from tests.quotes.specs.drawn_panels import (
    BUILDS,
    IMPERIAL,
    KEYS,
    METRIC,
    ODD,
    metric_panel,
    panel,
    paper,
)
from tests.shared.drawing.svg import NS, all_of, collisions, ids, parse, words

IN = 8128


def drawn(key, width_mm=600, height_mm=1200, **asked):
    return panel_drawing(metric_panel(key, width_mm, height_mm), paper(**asked))


def rects(view):
    """Return (width, height) of every rectangle of a view, as written in the SVG."""
    sheet = Drawing(400, 400, key="t", title="t", description="t")
    sheet.add(view, 0, 0)
    found = all_of(parse(sheet.svg()), "rect")
    return [(float(r.get("width")), float(r.get("height"))) for r in found]


# -- to scale --------------------------------------------------------------------------


def test_a_600_mm_frame_is_60_mm_wide_at_1_to_10():
    taken = metric_panel("wall-panel", 600, 1200)
    assert (60, 120) in rects(back_view(taken, paper(), Scale(10)))


def test_the_front_shows_the_finished_size_not_the_frame():
    taken = metric_panel("wall-panel", 600, 1200)
    finished = taken.takeoff.finished
    across, up = (t / 3200 for t in (finished.width_ticks, finished.height_ticks))
    assert (across, up) == (60.3, 120.3)
    assert (across, up) in rects(front_view(taken, paper(), Scale(10), None))


def test_each_brace_is_where_the_takeoff_puts_it():
    taken = metric_panel("wall-panel", 600, 1200)
    (brace,) = taken.takeoff.parts_of(PartRole.BRACE)
    view = back_view(taken, paper(), Scale(10))
    assert (57, 7.5) in rects(view)
    assert brace.places[0].height_ticks == from_mm(75)


def test_the_section_keeps_the_depth_to_scale():
    taken = metric_panel("wall-panel", 600, 1200)
    view = section_view(taken, paper(), Scale(5), cut_position(taken))
    depth, fill = 20, 15
    across = [w for w, _ in rects(view)]
    assert depth in across
    assert fill in across


def test_the_scale_written_is_the_scale_drawn():
    sheet = drawn("wall-panel")
    (written,) = {t for t in words(parse(sheet.svg())) if t.startswith("frame, ")}
    scale = int(written.rpartition("1:")[2])
    frames = [
        (r.get("width"), r.get("height")) for r in all_of(parse(sheet.svg()), "rect")
    ]
    assert (f"{600 / scale:g}", f"{1200 / scale:g}") in frames


# -- words -----------------------------------------------------------------------------


def on_its_sheet(sheet):
    asked = paper()
    return sheet.paper.width <= asked.width_mm and sheet.paper.height <= asked.height_mm


sizes = st.tuples(st.integers(150, 3000), st.integers(150, 3000))


@given(st.sampled_from([*KEYS, *ODD]), sizes)
def test_words_never_touch_in_millimetres(key, size):
    try:
        taken = metric_panel(key, *size)
    except TakeoffError:
        assume(False)
    sheet = panel_drawing(taken, paper())
    assert collisions(sheet) == []
    assert sheet.fits()


@given(
    st.sampled_from(KEYS),
    st.tuples(st.integers(96, 1536), st.integers(96, 1536)),
)
def test_words_never_touch_in_inches(key, sixteenths):
    width, height = (n * IN // 16 for n in sixteenths)
    try:
        taken = panel(BUILDS[IMPERIAL][key], width, height, IMPERIAL)
    except TakeoffError:
        assume(False)
    sheet = panel_drawing(taken, paper(IMPERIAL))
    assert collisions(sheet) == []
    assert on_its_sheet(sheet)


@pytest.mark.parametrize("key", KEYS)
def test_every_kind_has_front_back_and_cut(key):
    names = words(parse(drawn(key, 900, 1200).svg()))
    assert {"Front", "Back"} < set(names)
    assert {"Section A–A", "From above"} & set(names)


def test_finished_frame_and_depth_are_all_dimensioned():
    names = words(parse(drawn("wall-panel").svg()))
    assert {"603", "1203", "600", "1200", "570", "100", "75"} < set(names)


def test_an_imperial_panel_is_dimensioned_in_inches_and_fractions():
    taken = panel(BUILDS[IMPERIAL]["wall-panel"], 24 * IN, 48 * IN, IMPERIAL)
    names = words(parse(panel_drawing(taken, paper(IMPERIAL)).svg()))
    assert {'24"', '48"', '24 1/8"', '22 3/4"', '5/8"', '2 7/8"'} < set(names)
    scales = {int(n.rpartition("1:")[2]) for n in names if "1:" in n}
    assert scales <= {2, 4, 8, 12, 16, 24, 32, 48, 96, 192}


def test_running_dimensions_of_the_back_add_up_to_the_frame():
    taken = metric_panel("wall-panel", 600, 1200)
    view = back_view(taken, paper(), Scale(10))
    upright = [float(label.text) for label in view.labels() if _is_number(label.text)]
    # 15 + 547.5 + 75 + 492.3 + 55.2 + 15 and the 1200 itself; 15 + 570 + 15 and 600.
    assert sum(upright) == pytest.approx(2 * 1200 + 2 * 600, abs=0.2)


def _is_number(text):
    return bool(re.fullmatch(r"[\d.]+", text))


def test_the_layers_are_named_from_front_to_back():
    names = words(parse(drawn("wall-panel").svg()))
    assert {"Front fabric", "Air 3", "Fill 75", "Back fabric", "Air 22"} < set(names)


def test_typed_names_are_escaped():
    root = parse(drawn("wall-panel", title='<b>"A&B"</b>').svg())
    assert root[0].tag == NS + "title"
    assert root[0].text == '<b>"A&B"</b>'


def test_two_drawings_in_one_document_share_no_id():
    taken = metric_panel("wall-panel", 600, 1200)
    sheets = [panel_drawing(taken, paper(key=key)) for key in ("p1", "p2")]
    first, second = (set(ids(parse(sheet.svg()))) for sheet in sheets)
    assert len(first) == len(second) == 3
    assert not first & second


def test_the_description_says_the_sizes():
    text = parse(drawn("wall-panel").svg())[1].text
    assert "Finished 603 × 1203 mm" in text
    assert "fill 75 mm" in text


def test_the_same_panel_gives_the_same_drawing():
    assert drawn("hung-panel").svg() == drawn("hung-panel").svg()


def test_nothing_hangs_on_page_styles():
    for node in parse(drawn("screen", 900, 1600).svg()).iter():
        assert not {"style", "class"} & set(node.attrib)


# -- what is drawn -----------------------------------------------------------------------


def test_the_two_halves_of_the_cleat_mate():
    taken = metric_panel("wall-panel", 600, 1200)
    cut = {s.part.role: s.corners for s in slices(taken, cut_position(taken))}
    # Bevel of the panel's half (front, back) and upper edge of the wall's (back, front).
    upper, lower = cut[PartRole.PANEL_CLEAT], cut[PartRole.WALL_CLEAT]
    assert (upper[0], upper[1]) == (lower[3], lower[2])


@pytest.mark.parametrize("key", [*KEYS, *ODD])
def test_the_cut_goes_through_nothing_that_runs_upright(key):
    taken = metric_panel(key, 900, 1200)
    roles = [s.part for s in slices(taken, cut_position(taken))]
    assert not [p for p in roles if p.runs is Runs.UPRIGHT or p.role is PartRole.STILE]


def test_fill_is_let_in_round_blocks_and_divided_by_wood():
    taken = metric_panel("hung-panel", 1200, 900)
    cut = slices(taken, cut_position(taken))
    depths = taken.takeoff.depths
    back = depths.air_front_ticks + depths.fill_ticks
    block = next(s for s in cut if s.part.role is PartRole.BLOCK)
    found = fill_in_cut(cut, taken.height, depths.air_front_ticks, back)
    assert {high[0] for _, high in found} == {back, block.zs[0]}
    assert min(low[1] for low, _ in found) == from_mm(15)


def test_every_hanging_point_is_drawn_on_the_front():
    taken = metric_panel("hung-panel", 1200, 900)
    view = front_view(taken, paper(), Scale(20), None)
    assert view.markup().count("<circle") == 2 * len(taken.takeoff.hang.points)


def test_a_brace_before_the_fill_is_dashed_on_the_back():
    seen = back_view(metric_panel("wall-panel", 600, 1200), paper(), Scale(20)).markup()
    behind = back_view(
        metric_panel("hung-panel", 600, 1200), paper(), Scale(20)
    ).markup()
    assert "stroke-dasharray" not in seen
    assert "stroke-dasharray" in behind


def test_a_screen_stands_on_its_feet():
    names = words(parse(drawn("screen", 900, 1600).svg()))
    assert {"90", "450", "1691.5"} < set(names)


def test_a_corner_panel_is_dimensioned_to_its_corner():
    taken = metric_panel("corner-panel", 600, 1200)
    view = corner_view(taken, paper(), Scale(10))
    hang = taken.takeoff.hang
    names = [label.text for label in view.labels()]
    assert paper().length(hang.projection_ticks) in names
    assert f"{paper().length(hang.batten_ticks)} from the corner" in names


def test_a_panel_without_fill_has_no_fill_named():
    names = words(parse(drawn("hollow", 900, 1200).svg()))
    assert not [name for name in names if name.startswith("Fill")]


def test_a_panel_too_large_for_any_scale_stretches_the_sheet():
    small = Paper("p", "t", METRIC, width_mm=40, height_mm=30)
    sheet = panel_drawing(metric_panel("wall-panel", 1200, 2400), small)
    assert collisions(sheet) == []
    assert sheet.paper.width > 40


def test_solid_wood_shows_end_grain_where_plywood_shows_plies():
    views = {
        key: section_view(taken, paper(), Scale(5), cut_position(taken)).markup()
        for key in ("wall-panel", "solid")
        for taken in [metric_panel(key, 600, 1200)]
    }
    slanting, level = slopes(views["solid"]), slopes(views["wall-panel"])
    assert slanting > 10 + level


def slopes(markup):
    """Count the thin two-point lines that run at 45 degrees."""
    pairs = re.findall(
        r'd="M([-\d.]+) ([-\d.]+) L([-\d.]+) ([-\d.]+)"[^>]*width="0.15"', markup
    )
    lines = [tuple(float(n) for n in pair) for pair in pairs]
    return sum(abs(abs(c - a) - abs(d - b)) < 0.01 for a, b, c, d in lines)


def test_an_open_corner_frame_is_drawn_without_fill_and_fabric():
    names = words(parse(drawn("open-corner").svg()))
    assert "Fill" not in names
    assert "Front fabric" not in names


# -- the small one -----------------------------------------------------------------------


@given(st.sampled_from(KEYS), st.integers(400, 1500), st.integers(500, 2400))
def test_a_thumbnail_fits_its_sheet_and_bears_no_words(key, width, height):
    small = Paper("t", "Panel", METRIC, width_mm=24, height_mm=30)
    sheet = panel_thumbnail(metric_panel(key, width, height), small)
    assert sheet.paper.contains(sheet.extent)
    assert sheet.labels() == ()
    drawn_size = sheet.extent.width / sheet.extent.height
    if key != "screen":
        assert drawn_size == pytest.approx(width / height, rel=0.15)


def test_a_thumbnail_takes_the_cloth_colour():
    small = Paper("t", "Panel", METRIC, width_mm=24, height_mm=30)
    sheet = panel_thumbnail(
        metric_panel("wall-panel", 600, 1200), small, cloth="#7a1f2b"
    )
    assert 'fill="#7a1f2b"' in sheet.svg()


@pytest.mark.parametrize("cloth", ["red", "#12", '#123456"/><script>', "#1234567"])
def test_a_colour_that_is_no_colour_is_refused(cloth):
    small = Paper("t", "Panel", METRIC, width_mm=24, height_mm=30)
    with pytest.raises(ValueError, match="#rrggbb"):
        panel_thumbnail(metric_panel("wall-panel", 600, 1200), small, cloth=cloth)
