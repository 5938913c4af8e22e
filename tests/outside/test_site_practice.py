"""Site cautions and order of work against practice and published rules.

Marks: S read, M from memory, CP common practice, D worked out. Order on site and what is
said of plugs and spares: CP. Triggers of cautions: NIOSH 94-110 load constant 51 lb / 23 kg
(S); NEC 300.4, 1-1/4 in = 32 mm (S); 29 CFR 1926.1153 (S) for brick, block, concrete;
40 CFR 745, homes before 1978 (S); EPA guidance, before about the mid-1980s (S via
reprints); 29 CFR 1926.1053(b) (M), 1 out for 4 up; IRC R310 (S); an unknown year is
treated as old (CP).
"""

import math

import pytest

from jobs.visits.engine import Holding, Site, order_on_site, site_cautions
from jobs.visits.engine.cautions import EGRESS, HIDDEN, LADDER, LIFT
from quotes.specs.engine.presets import five_builds
from shared.length import UnitSystem
from shared.units import KG_PER_LB

EVERYTHING = frozenset(Holding)


def keys(**facts):
    return [caution.key for caution in site_cautions(Site(**facts))]


def place(step, steps):
    return [each.key for each in steps].index(step)


def test_overhead_work_comes_first_then_all_drilling_then_cleaning_then_fabric():
    # CP: order on site
    steps = order_on_site(EVERYTHING)
    order = [place(key, steps) for key in ("overhead", "holes", "clean", "unwrap")]
    assert order == sorted(order)
    fabric = place("unwrap", steps)
    assert all(place(key, steps) > fabric for key in ("hang", "hook", "seat", "reveal"))


def test_the_client_nods_to_taped_positions_before_the_first_hole():
    # CP
    steps = order_on_site(EVERYTHING)
    assert place("nod", steps) < place("overhead", steps)
    assert "before the first hole" in steps[place("nod", steps)].detail


def test_heights_go_by_one_laser_line_not_by_the_floor():
    # CP
    line = next(s for s in order_on_site({Holding.CLEAT}) if s.key == "line")
    assert "plus or minus" in line.detail
    assert "not from the floor" in line.detail


@pytest.mark.parametrize("made_of", ["brick", "block", "concrete"])
def test_silica_is_named_where_masonry_is_drilled(made_of):
    # S: 29 CFR 1926.1153 Table 1
    found = keys(holdings={Holding.CLEAT}, surfaces={made_of}, year_built=2010)
    assert "silica" in found


def test_silica_is_not_named_for_board_alone():
    found = keys(holdings={Holding.CLEAT}, surfaces={"board_wood"}, year_built=2010)
    assert "silica" not in found


@pytest.mark.parametrize(
    ("year", "words"),
    [
        (1977, "lead in paint and asbestos"),
        (1978, "asbestos in ceilings"),
        (1985, "asbestos in ceilings"),
        (None, "lead in paint and asbestos"),
    ],
)
def test_old_paint_and_ceilings_by_year(year, words):
    # S: lead before 1978; asbestos before about the mid-1980s; CP: unknown is old
    site = Site(holdings=frozenset({Holding.CLEAT}), year_built=year)
    (old,) = [c for c in site_cautions(site) if c.key == "old"]
    assert words in old.text
    assert ("lead" in old.text) == (year is None or year < 1978)


def test_a_newer_building_has_no_line_on_old_paint():
    assert "old" not in keys(holdings={Holding.CLEAT}, year_built=1986)


def test_the_lift_limit_is_51_lb_in_both_systems():
    # S: NIOSH 94-110; 51 lb = 23.13 kg, printed as 23 kg
    assert "23 kg (51 lb)" in LIFT.text
    for units, limit in ((UnitSystem.METRIC, 23.0), (UnitSystem.IMPERIAL, 51)):
        kg = limit if units is UnitSystem.METRIC else limit * KG_PER_LB
        for build in five_builds(units):
            assert build.one_person_kg == pytest.approx(kg, abs=0.05)


def test_the_cable_depth_is_the_codes():
    # S: NEC 300.4, 1-1/4 in
    assert "32 mm (1-1/4 in)" in HIDDEN.text
    assert round(1.25 * 25.4) == 32


def test_the_ladder_stands_at_one_to_four():
    # D: 75.52° from level, tol 0.05°
    assert "1 out for 4 up" in LADDER.text
    assert math.degrees(math.acos(1 / 4)) == pytest.approx(75.52, abs=0.05)


def test_an_escape_window_needs_no_key_or_tool():
    # S: IRC R310
    assert "no key or tool" in EGRESS.text
    assert "Local code decides" in EGRESS.text


def test_no_caution_without_its_trigger():
    assert keys(holdings={Holding.FEET}, year_built=1900) == []
