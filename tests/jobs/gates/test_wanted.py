"""What a job waits for, read from what was agreed."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from jobs.board.snapshot import UnknownSnapshotError
from jobs.cutting.models import CutKind
from jobs.gates.adapter import wanted_of
from jobs.gates.engine import (
    BUYING,
    CUTTING,
    HOLDS,
    Act,
    Agreed,
    Cloth,
    Reveal,
    Wait,
    buying_of,
    cutting_of,
    wanted,
    why_held,
)
from jobs.gates.models import GateKind
from shop.catalogue.models import MaterialKind
from tests.factories.catalogue import make_fabric, make_fill
from tests.factories.gates import gated_snapshot

GOLDEN = Path(__file__).parents[2] / "quotes" / "offers" / "golden"
MOSS = Cloth("m", "Harbour weave, moss", "hm", "moss", (1, 2, 5))


def kinds(found):
    return [each.wait.value for each in found]


class TestHolds:
    def test_each_pair_stands_once_and_says_why(self):
        assert len({(hold.wait, hold.act) for hold in HOLDS}) == len(HOLDS)
        assert all(hold.why.endswith(".") for hold in HOLDS)

    def test_every_act_and_every_thing_waited_for_is_in_it(self):
        assert {hold.wait for hold in HOLDS} == set(Wait)
        assert {hold.act for hold in HOLDS} == set(Act) == {*BUYING, *CUTTING}

    @pytest.mark.parametrize(
        ("wait", "acts"),
        [
            ("deposit", set(Act)),
            ("landlord", set(Act)),
            ("fabric", {Act.BUY_CLOTH, Act.CUT_CLOTH}),
            ("measure", {Act.CUT_WOOD, Act.CUT_CLOTH}),
            ("fire", {Act.BUY_CLOTH, Act.BUY_OTHER, Act.CUT_CLOTH}),
        ],
    )
    def test_what_each_holds_up(self, wait, acts):
        assert {act for act in Act if why_held(wait, act)} == acts

    def test_kinds_of_rows_are_those_of_the_engine(self):
        assert [kind.value for kind in GateKind] == [wait.value for wait in Wait]

    def test_each_kind_of_material_and_of_plan_has_its_act(self):
        assert {buying_of(kind) for kind in MaterialKind.values} == set(BUYING)
        assert buying_of("fill") == Act.BUY_OTHER
        assert {cutting_of(kind) for kind in CutKind.values} == set(CUTTING)


class TestWanted:
    def test_nothing_agreed_waits_for_nothing(self):
        assert wanted(Agreed()) == ()

    def test_fabrics_name_their_panels_and_what_to_sign(self):
        (asked,) = wanted(Agreed(cloths=(MOSS,)))
        assert (asked.material, asked.code, asked.colour) == ("m", "hm", "moss")
        assert asked.panels == (1, 2, 5)
        assert asked.why.startswith("3 panels are covered with Harbour weave, moss:")

    def test_one_panel_is_told_as_one(self):
        (asked,) = wanted(Agreed(cloths=(replace(MOSS, panels=(4,)),)))
        assert asked.why.startswith("1 panel is covered")
        (asked,) = wanted(Agreed(reveals=(Reveal(4, "Bar"),)))
        assert asked.why == (
            "1 panel fills an opening in Bar: read again after paint and trim."
        )

    def test_rooms_of_openings_stand_once(self):
        reveals = (Reveal(1, "Bar"), Reveal(2, "Hall"), Reveal(3, "Bar"))
        (asked,) = wanted(Agreed(reveals=reveals))
        assert "3 panels fill openings in Bar and Hall:" in asked.why

    def test_two_rented_places(self):
        (asked,) = wanted(Agreed(rented=("4 Weir Lane", "Mill")))
        assert asked.why.startswith("4 Weir Lane and Mill are rented:")


class TestSnapshots:
    def test_the_kept_example_of_each_schema_can_be_read(self):
        examples = sorted(GOLDEN.glob("snapshot_*.json"))
        assert examples
        for path in examples:
            snapshot = json.loads(path.read_text())
            found = wanted_of(snapshot)
            assert kinds(found)[0] == "deposit"
            assert {*kinds(found)} == {*GateKind.values}
            fabrics = {g["fabric"] for g in snapshot["groups"].values()}
            asked = {each.material for each in found if each.wait == "fabric"}
            assert asked == fabrics

    def test_a_schema_that_is_not_known_is_refused(self):
        with pytest.raises(UnknownSnapshotError):
            wanted_of({"schema": 999})


@pytest.mark.django_db
class TestRows:
    def asked(self, **snapshot):
        return wanted_of(gated_snapshot(client_id="c", **snapshot))

    @pytest.mark.parametrize(
        ("deposit", "found"),
        [("", []), ("0.00", []), ("0.01", ["deposit"]), ("900.00", ["deposit"])],
    )
    def test_a_deposit_counts_when_there_is_one(self, deposit, found):
        assert kinds(self.asked(deposit=deposit)) == found

    def test_one_gate_for_each_fabric(self):
        moss, sand = make_fabric(colour="moss"), make_fabric(colour="#d8c9a0")
        found = self.asked(cloths=[(moss, 2), (sand, 1)], reveals=1)
        signed = [each for each in found if each.wait == "fabric"]
        assert [(e.material, e.panels) for e in signed] == [
            (str(moss.pk), (1, 2, 4)),
            (str(sand.pk), (3,)),
        ]
        # what a screen paints it as is no colour that anybody signs for
        assert [each.colour for each in signed] == ["moss", ""]

    @pytest.mark.parametrize(
        ("site", "found"),
        [
            ({}, []),
            ({"tenure": "owner", "setting": "private"}, []),
            ({"tenure": "tenant", "setting": "private"}, ["landlord", "fire", "fire"]),
            ({"tenure": "owner", "setting": "public"}, ["fire", "fire"]),
            ({"tenure": "", "setting": "work"}, ["fire", "fire"]),
        ],
    )
    def test_whose_walls_and_who_comes_in(self, site, found):
        asked = self.asked(cloths=[(make_fabric(), 2)], fill=make_fill(), **site)
        assert kinds(asked)[1:] == found

    def test_papers_on_file_are_not_asked_for_again(self):
        cloth = make_fabric(fire_papers="Report 12, folder F")
        fill = make_fill(fire_class="A")
        asked = self.asked(cloths=[(cloth, 2)], fill=fill, setting="public")
        assert kinds(asked) == ["fabric"]
