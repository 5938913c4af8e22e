"""Cautions of a room: each when its trigger is there, and only then."""

import pytest

from shop.surveys.engine import Known, cautions


def keys(known):
    return [caution.key for caution in cautions(known)]


def test_a_plain_room_asks_for_nothing():
    assert keys(Known(constructions=frozenset({"board_wood"}), ceiling="lath")) == []


@pytest.mark.parametrize(
    ("known", "expected"),
    [
        (Known(sleeping_or_basement=True), ["egress"]),
        (Known(sleeping_or_basement=True, has_window=False), []),
        (Known(ceiling="grid"), ["grid"]),
        (Known(ceiling="isolated"), ["isolated"]),
        (Known(constructions=frozenset({"isolated"})), ["isolated"]),
        (Known(heated=True), ["heated"]),
        (Known(constructions=frozenset({"glass"})), ["glass"]),
        (Known(panes=frozenset({("", "")})), ["glass"]),
        (Known(ceiling="concrete"), ["silica"]),
        (Known(constructions=frozenset({"brick", "lath"})), ["silica"]),
        (Known(zones=frozenset({"sprinkler"})), ["sprinkler"]),
        (Known(zones=frozenset({"detector"})), ["detector"]),
        (Known(zones=frozenset({"downlight", "switch"})), ["downlight"]),
    ],
)
def test_a_trigger_brings_its_caution(known, expected):
    assert keys(known) == expected


def test_every_caution_says_what_to_do_in_two_parts():
    everything = Known(
        sleeping_or_basement=True,
        ceiling="grid",
        constructions=frozenset({"isolated", "glass", "block"}),
        heated=True,
        zones=frozenset({"sprinkler", "detector", "downlight"}),
    )
    found = cautions(everything)
    assert len({caution.key for caution in found}) == len(found) == 9
    assert all(caution.title and caution.text.endswith(".") for caution in found)


def only(**known):
    (found,) = cautions(Known(**known))
    return found


@pytest.mark.parametrize("glass", ["", "single", "double"])
def test_a_close_panel_behind_glass_brings_heat_and_damp(glass):
    found = only(panes=frozenset({(glass, "")}))
    assert "traps heat" in found.text
    assert "damp" in found.text
    assert "ask the glass maker first" not in found.title


@pytest.mark.parametrize(
    "pane", [("", "s"), ("single", "n"), ("double", "w"), ("", "ne"), ("sealed", "")]
)
def test_a_side_or_a_sealed_unit_says_it_louder_in_either_half_of_the_world(pane):
    found = only(panes=frozenset({pane, ("single", "")}))
    assert found.key == "glass"
    assert "ask the glass maker first" in found.title
    assert "in writing" in found.text
    assert "south north of the equator, in the north south of it" in found.text


def test_a_panel_before_a_way_out_says_it_louder():
    plain = only(sleeping_or_basement=True)
    (panelled, _) = cautions(
        Known(sleeping_or_basement=True, panes=frozenset({("single", "n")}))
    )
    assert (plain.key, panelled.key) == ("egress", "egress")
    assert "with a panel" in panelled.title
    assert "with a panel" not in plain.title


def test_a_rigid_screw_undoes_mounts():
    assert "undone by one screw" in only(ceiling="isolated").text
