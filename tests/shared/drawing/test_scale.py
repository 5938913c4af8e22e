import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.drawing import (
    METRIC_SCALES,
    BrokenAxis,
    Scale,
    View,
    Window,
    largest_scale,
    windows_around,
)
from shared.length import from_inches, from_mm


def test_600_mm_at_1_to_10_is_60_mm_on_paper():
    view = View(Scale(10))
    box = view.rect((0, 0), (from_mm(600), from_mm(1200)))
    assert box.width == 60
    assert box.height == 120


def test_4_feet_at_an_inch_to_the_foot_is_4_inches_on_paper():
    view = View(Scale(12))
    box = view.rect((0, 0), (from_inches(48), from_inches(24)))
    assert box.width == pytest.approx(4 * 25.4, abs=1e-9)
    assert box.height == pytest.approx(2 * 25.4, abs=1e-9)


def test_y_points_up_on_the_thing_and_down_on_the_paper():
    view = View(Scale(1))
    assert view.at((0, from_mm(10))).y == -10


@given(st.integers(1, 10**7), st.sampled_from(METRIC_SCALES))
def test_paper_and_real_lengths_go_back_and_forth(ticks, denominator):
    scale = Scale(denominator)
    assert scale.ticks(scale.paper_mm(ticks)) == ticks


def test_a_scale_below_one_is_refused():
    with pytest.raises(ValueError, match="denominator"):
        Scale(0)


@pytest.mark.parametrize(
    ("mm", "paper", "ratio"), [(60, 60, 1), (61, 60, 2), (1200, 60, 20), (9e5, 60, 200)]
)
def test_the_largest_standard_scale_that_fits_is_chosen(mm, paper, ratio):
    assert largest_scale(from_mm(mm), paper) == Scale(ratio)


def test_a_broken_axis_keeps_scale_inside_its_windows():
    axis = BrokenAxis(Scale(2), (Window(0, 640), Window(6400, 7040)), gap_mm=5)
    assert axis.mm(0) == 0
    assert axis.mm(640) == 1
    assert axis.mm(6400) == 6
    assert axis.mm(7040) == 7
    assert axis.mm(3520) == 3.5
    assert axis.breaks() == (Window(640, 6400),)


def test_a_broken_axis_runs_on_beyond_both_ends():
    axis = BrokenAxis(Scale(1), (Window(0, 320), Window(3200, 3520)))
    assert axis.mm(-320) == -1
    assert axis.mm(3840) == axis.mm(3520) + 1


@pytest.mark.parametrize(
    "windows", [(), (Window(10, 5),), (Window(0, 9), Window(5, 12))]
)
def test_windows_that_do_not_rise_are_refused(windows):
    with pytest.raises(ValueError, match="windows"):
        BrokenAxis(Scale(1), windows)


def test_both_ends_and_every_feature_are_kept():
    found = windows_around(
        [(5000, 5200)], total_ticks=10000, margin_ticks=300, least_gap_ticks=500
    )
    assert found == (Window(0, 300), Window(4700, 5500), Window(9700, 10000))


def test_a_gap_too_short_to_be_worth_a_break_is_kept():
    found = windows_around(
        [(700, 900)], total_ticks=1200, margin_ticks=300, least_gap_ticks=500
    )
    assert found == (Window(0, 1200),)


spans = st.tuples(st.integers(-500, 10500), st.integers(0, 2000)).map(
    lambda t: (t[0], t[0] + t[1])
)


@given(st.lists(spans, max_size=6))
def test_a_broken_axis_never_turns_back_and_shows_all_features(features):
    windows = windows_around(
        features, total_ticks=10000, margin_ticks=200, least_gap_ticks=400
    )
    axis = BrokenAxis(Scale(10), windows)
    along = [axis.mm(t) for t in range(-500, 12600, 50)]
    assert along == sorted(along)
    for start, end in features:
        assert any(w.start_ticks <= start and end <= w.end_ticks for w in windows)
