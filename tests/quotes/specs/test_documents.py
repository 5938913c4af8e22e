"""What a sent quote keeps of builds and panels, and the bench sheet made from it alone."""

import io
import json

import pytest
from pypdf import PdfReader

from quotes.specs import documents, frozen, reports
from quotes.specs.models import BuildSpec, PlannedPanel
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shared.pdf import Letterhead
from shop.catalogue.models import Material
from tests.factories.catalogue import make_fabric, make_hardware
from tests.factories.specs import make_planned, make_spec, make_spec_item
from tests.factories.surveys import make_room, mm

HEAD = Letterhead("Sample Panels")
KEPT = {
    "currency": "EUR",
    "locale": "en_GB",
    "unit_system": "metric",
    "fraction": 16,
    "time_zone": "UTC",
    "paper": "A4",
}


@pytest.fixture
def room(shop):
    return make_room(name="Booth")


@pytest.fixture
def spec(shop):
    spec = make_spec(name="Wall panel")
    make_spec_item(spec=spec, material=make_hardware(name="Bumper"))
    return spec


def group_in(room):
    (group,) = reports.groups_in_room(room)
    return group


def snapshot_of(group):
    """One panel's part of a snapshot, as text and back."""
    kept = documents.frozen_group(group)
    part = {
        "build": documents.frozen_builds([group])[kept["build"]],
        "materials": documents.frozen_materials([group]),
        "takeoff": kept["takeoff"],
        "drawings": kept["drawings"],
        "fabric": kept["fabric"],
        "room": {"name": group.first.room.name},
        "conventions": KEPT,
    }
    return json.loads(json.dumps(part, sort_keys=True))


def words_of(pdf):
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_a_group_keeps_size_fabric_takeoff_and_drawings(room, spec):
    moss = make_fabric(name="Moss")
    for _ in range(3):
        make_planned(room=room, spec=spec, fabric=moss)
    group = group_in(room)
    kept = documents.frozen_group(group)
    assert (kept["count"], kept["width_ticks"], kept["width_text"]) == (
        3,
        mm(600),
        "600",
    )
    assert kept["fabric"] == str(moss.pk)
    assert frozen.takeoff_from_json(kept["takeoff"]) == group.worked.takeoff
    assert all(svg.startswith("<svg") for svg in kept["drawings"].values())


def test_the_fabric_of_the_build_is_named_where_no_other_was_chosen(room, spec):
    make_planned(room=room, spec=spec)
    assert documents.frozen_group(group_in(room))["fabric"] == str(spec.front_fabric_id)


def test_a_build_is_kept_once_with_its_own_fabric(room, spec):
    make_planned(room=room, spec=spec)
    make_planned(room=room, spec=spec, fabric=make_fabric())
    builds = documents.frozen_builds(reports.groups_in_room(room))
    assert list(builds) == [str(spec.pk)]
    build = frozen.build_from_json(builds[str(spec.pk)])
    assert build.front_fabric == str(spec.front_fabric_id)


def test_no_money_is_kept(room, spec):
    Material.objects.update(pack_price="98765.43")
    make_planned(room=room, spec=spec)
    text = json.dumps(snapshot_of(group_in(room)))
    assert "98765" not in text
    assert "price" not in text
    assert "supplier" not in text


def test_a_refused_size_cannot_be_kept_or_printed(room, spec):
    make_planned(room=room, spec=spec, width_mm=90)
    group = group_in(room)
    for attempt in (documents.frozen_group, lambda g: documents.sheet_of(g.worked)):
        with pytest.raises(ValueError, match="refused"):
            attempt(group)


def test_the_sheet_is_printed_from_the_snapshot_alone(room, spec):
    make_planned(room=room, spec=spec)
    snapshot = snapshot_of(group_in(room))
    PlannedPanel.objects.all().delete()
    BuildSpec.objects.update(depth_ticks=mm(50), name="Changed since")
    Material.objects.update(name="Changed since")
    with using(Conventions(unit_system=UnitSystem.IMPERIAL)):
        pdf = documents.panel_sheet_pdf(
            snapshot, letterhead=HEAD, codes=["C-01", "C-02"], notes=["Mind the nap"]
        )
    words = words_of(pdf)
    for part in ("2 × Wall panel", "C-01, C-02", "Mind the nap", "Booth", "Bumper"):
        assert part in words
    assert "600 × 1200 × 100 mm" in words
    assert "Changed since" not in words


def test_counts_for_all_panels_stand_beside_those_for_one(room, spec):
    for _ in range(14):
        make_planned(room=room, spec=spec)
    sheet = documents.sheet_of(group_in(room).worked, count=14)
    rail = next(part for part in sheet.tables.parts if part.label == "rail")
    assert (rail.count, rail.all) == (2, 28)
    (bumper,) = sheet.tables.items
    assert (bumper.amount, bumper.all) == ("2", "28")


def test_cautions_follow_what_the_bench_has_to_do(room, spec):
    make_planned(room=room, spec=spec)
    sheet = documents.sheet_of(group_in(room).worked)
    assert [c.key for c in sheet.cautions] == [
        "saw",
        "bevel",
        "nailer",
        "wooddust",
        "fibre",
    ]
    BuildSpec.objects.update(one_person_kg=1)
    heavy = documents.sheet_of(group_in(room).worked)
    assert "lift" in {c.key for c in heavy.cautions}


def test_a_caution_without_words_is_an_error():
    with pytest.raises(KeyError, match="moon"):
        documents.cautions_for(["saw", "moon"])
