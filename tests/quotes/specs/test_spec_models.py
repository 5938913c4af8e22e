"""What the tables refuse, and what the actions do or leave undone."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from quotes.specs import actions
from quotes.specs.adapter import SpecParts
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import Brace, BuildSpec, PlannedPanel, SpecItem
from shared.models import Entry
from tests.factories.catalogue import make_fabric, make_operation, mm
from tests.factories.specs import (
    make_brace,
    make_planned,
    make_spec,
    make_spec_item,
    make_spec_operation,
)
from tests.factories.surveys import make_room

pytestmark = pytest.mark.django_db
AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)


def choice_of(spec, quantity=1, width_mm=600, height_mm=1200):
    return actions.PanelChoice(
        spec=spec,
        size=NominalSize(mm(width_mm), mm(height_mm)),
        width_text=f"{width_mm}",
        height_text=f"{height_mm}",
        fabric=None,
        opening=None,
        quantity=quantity,
        note="",
    )


@pytest.mark.parametrize(
    "columns",
    [
        {"kind": "boat"},
        {"hanging": "magic"},
        {"joint": "dovetail"},
        {"depth_ticks": 0},
        {"kerf_ticks": -1},
        {"fill_layers": 0},
        {"one_person_kg": Decimal(0)},
        {"back_style": "inside_frame"},
    ],
)
def test_a_build_that_makes_no_sense_is_refused_by_its_table(columns):
    spec = make_spec()
    with pytest.raises(IntegrityError):
        BuildSpec.objects.filter(pk=spec.pk).update(**columns)


def test_a_name_is_taken_once_among_builds_in_use_whatever_its_case():
    make_spec(name="Ours", archived_at=AT)
    make_spec(name="ours")
    with pytest.raises(IntegrityError):
        make_spec(name="OURS")


@pytest.mark.parametrize(
    "columns", [{"strip_ticks": 0}, {"setback_ticks": -1}, {"place": "x"}]
)
def test_a_brace_of_no_width_is_refused(columns):
    brace = make_brace(spec=make_spec())
    with pytest.raises(IntegrityError):
        Brace.objects.filter(pk=brace.pk).update(**columns)


@pytest.mark.parametrize(
    "columns", [{"quantity": 0}, {"spare_percent": -1}, {"driver": "x"}]
)
def test_an_item_of_nothing_is_refused(columns):
    item = make_spec_item(spec=make_spec())
    with pytest.raises(IntegrityError):
        SpecItem.objects.filter(pk=item.pk).update(**columns)


def test_an_operation_is_in_a_build_once():
    row = make_spec_operation(spec=make_spec())
    with pytest.raises(IntegrityError):
        make_spec_operation(spec=row.spec, operation=row.operation)


@pytest.mark.parametrize(
    "columns",
    [{"width_ticks": 0}, {"height_ticks": -5}, {"committed_at": AT, "dropped_at": AT}],
)
def test_a_planned_panel_has_a_size_and_is_not_both_taken_and_dropped(columns):
    panel = make_planned(room=make_room())
    with pytest.raises(IntegrityError):
        PlannedPanel.objects.filter(pk=panel.pk).update(**columns)


def test_storing_writes_rows_in_order_and_says_who(maker):
    spec = make_spec()
    first, second = make_operation(), make_operation()
    rows = SpecParts.of(spec)
    uses = [make_spec_operation(spec=spec, operation=o) for o in (second, first)]
    actions.store_build(spec, SpecParts(rows.braces, rows.items, uses), by=maker, at=AT)
    assert [row.operation for row in spec.operations.all()] == [second, first]
    entry = Entry.objects.get(subject_id=spec.pk)
    assert (entry.verb, entry.by, entry.at) == ("change", maker, AT)


def test_a_build_that_fails_leaves_its_rows_as_they_were(maker):
    spec = make_spec()
    bad = Brace(name="", strip_ticks=mm(40))
    with pytest.raises(ValidationError):
        actions.store_build(spec, SpecParts([bad], [], []), by=maker, at=AT)
    assert [brace.name for brace in spec.braces.all()] == ["Cleat brace"]
    assert not Entry.objects.exists()


def test_a_copy_is_apart_from_its_original(maker):
    spec = make_spec()
    copy = actions.copy_build(spec, by=maker, at=AT)
    copy.braces.update(strip_ticks=mm(70))
    assert spec.braces.get().strip_ticks == mm(140)
    assert copy.created_at == AT


def test_a_very_long_name_can_be_copied(maker):
    spec = make_spec(name="x" * 80)
    names = {actions.copy_build(spec, by=maker, at=AT).name for _ in range(3)}
    assert len(names) == 3
    assert all(len(name) <= 80 for name in names)


@pytest.mark.parametrize("quantity", [0, 201])
def test_a_number_of_panels_out_of_range_plans_none(maker, quantity):
    spec, room = make_spec(), make_room()
    with pytest.raises(ValidationError):
        actions.plan_panels(room, choice_of(spec, quantity), by=maker, at=AT)
    assert not PlannedPanel.objects.exists()


def test_planning_is_written_down_with_the_room(maker):
    spec, room = make_spec(name="Wall"), make_room()
    actions.plan_panels(room, choice_of(spec, 14), by=maker, at=AT)
    entry = Entry.objects.get(verb="plan", subject_id=room.pk)
    assert entry.text == "14 × Wall 600 × 1200 planned"


def test_changing_panels_that_were_taken_meanwhile_is_refused(maker):
    panel = make_planned(room=make_room())
    PlannedPanel.objects.update(committed_at=AT)
    with pytest.raises(ValidationError, match="meanwhile"):
        actions.change_group(panel, choice_of(panel.spec), by=maker, at=AT)


def test_a_material_in_use_is_kept():
    fabric = make_fabric()
    make_spec(front_fabric=fabric)
    with pytest.raises(IntegrityError):
        fabric.delete()
