"""What is told before leaving: held to the vectors that the device is held to, too."""

import json

import pytest

from shop.surveys.engine.asks import ANY, Ask, Group, asked
from shop.surveys.reports.walk.told import LABELS
from tests.vectors import make_ballpark, make_leave
from tests.vectors.words import PATTERNS

ROOMS = json.loads(make_leave.FILE.read_text())
FLOORS = json.loads(make_ballpark.FILE.read_text())


@pytest.mark.parametrize("place", range(len(ROOMS)))
def test_the_server_tells_what_the_vectors_say(place):
    units, records, told = ROOMS[place]
    assert make_leave.told_of(records, units) == told


def test_every_sentence_that_there_is_stands_in_the_vectors():
    said = set().union(*(make_leave.kinds_of(told) for *_, told in ROOMS))
    assert said == PATTERNS.keys()
    assert {units for units, *_ in ROOMS} == {"metric", "imperial"}


@pytest.mark.parametrize(
    "floor", FLOORS, ids=lambda floor: f"{floor[1]} {floor[2]:.3f}"
)
def test_a_floor_comes_to_what_the_vectors_say(floor):
    *given, area, range_, how = floor
    assert make_ballpark.told_of(*given) == [area, range_, how]


def test_what_was_worked_out_by_hand_is_among_them():
    assert [tuple(one[4:]) for one in FLOORS[: len(make_ballpark.HAND)]] == [
        tuple(told) for _, *told in make_ballpark.HAND
    ]


def test_kinds_that_share_a_key_share_the_word():
    assert (LABELS["screen"], LABELS["door"], LABELS["beam"]) == (
        "screen",
        "door",
        "beam",
    )


class TestAsked:
    """Rules as data, whatever they ask."""

    def say(self, asks, *facts):
        return list(asked([Group("wall", asks)], {"wall": facts}))

    def test_each_record_is_asked_every_rule_in_turn(self):
        asks = (Ask("{name} one", {"a": ANY}), Ask("{name} two", {"b": ("", "x")}))
        facts = ({"name": "A", "a": "1"}, {"name": "B", "b": "y"}, {"name": "C"})
        assert self.say(asks, *facts) == ["A one", "A two", "C two"]

    def test_names_are_put_into_one_sentence(self):
        asks = (Ask("All of {names}.", {"a": ANY}),)
        facts = ({"name": "A", "a": "1"}, {"name": "B"}, {"name": "C", "a": "2"})
        assert self.say(asks, *facts) == ["All of A, C."]

    def test_of_several_words_one_is_enough(self):
        asks = (Ask("{name}", {"a": ("x",)}),)
        assert self.say(asks, {"name": "A", "a": ["y", "x"]}) == ["A"]
        assert self.say(asks, {"name": "A", "a": ["y"]}, {"name": "B", "a": []}) == []
