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
        (Known(panel_in_window=True), ["glass"]),
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
