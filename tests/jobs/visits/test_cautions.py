"""At most five cautions, those that can kill first, each with its trigger."""

from hypothesis import given
from hypothesis import strategies as st

from jobs.visits.engine import Holding, Site, site_cautions

SITES = st.builds(
    Site,
    holdings=st.frozensets(st.sampled_from(Holding)),
    surfaces=st.frozensets(st.sampled_from(["", "brick", "lath", "board_metal"])),
    year_built=st.none() | st.integers(1500, 2030),
    too_heavy=st.booleans(),
    heated=st.booleans(),
    escape_window=st.booleans(),
    hollow_anchors=st.booleans(),
    zones=st.frozensets(st.sampled_from(["sprinkler", "detector", "downlight"])),
)
WORST = Site(
    holdings=frozenset(Holding),
    surfaces=frozenset({"brick"}),
    too_heavy=True,
    heated=True,
    escape_window=True,
    hollow_anchors=True,
    zones=frozenset({"sprinkler", "detector", "downlight"}),
)


@given(SITES)
def test_there_are_never_more_than_five_and_none_twice(site):
    keys = [caution.key for caution in site_cautions(site)]
    assert len(keys) <= 5
    assert len(set(keys)) == len(keys)


@given(SITES)
def test_each_is_short(site):
    assert all(len(caution.text) <= 170 for caution in site_cautions(site))


@given(SITES)
def test_overhead_and_hidden_wires_are_never_crowded_out(site):
    keys = [caution.key for caution in site_cautions(site)]
    assert ("overhead" in keys) == (Holding.CHAIN in site.holdings)
    assert ("hidden" in keys) == site.drilled


def test_the_worst_site_names_what_can_kill():
    keys = [caution.key for caution in site_cautions(WORST)]
    assert keys == ["overhead", "hidden", "heated", "egress", "old"]


def test_with_room_left_the_ladder_is_named_too():
    site = Site(
        holdings=frozenset({Holding.CLEAT}),
        surfaces=frozenset({"board_wood"}),
        year_built=2015,
    )
    assert [c.key for c in site_cautions(site)] == ["hidden", "ladder"]


def test_near_things_come_before_the_ladder():
    site = Site(
        holdings=frozenset({Holding.CLEAT}),
        surfaces=frozenset({"board_wood"}),
        year_built=2015,
        hollow_anchors=True,
        zones=frozenset({"sprinkler"}),
    )
    keys = [c.key for c in site_cautions(site)]
    assert keys == ["hidden", "sprinkler", "anchor", "ladder"]


def test_a_heavy_reveal_panel_asks_for_two_people():
    site = Site(holdings=frozenset({Holding.EDGE}), too_heavy=True)
    assert [c.key for c in site_cautions(site)] == ["lift"]
