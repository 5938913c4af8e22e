"""The bench sheet, and what a sent quote keeps of builds and panels: never any money."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from quotes.specs import adapter, frozen
from quotes.specs.cautions import Caution, cautions_for
from quotes.specs.engine.model import Hanging, Takeoff
from quotes.specs.models import PanelKind
from quotes.specs.reports import Named, PanelGroup, Tables, Worked, tables_of
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shared.pdf import Letterhead, render_pdf
from shop.catalogue.models import Material
from shop.people.models import ShopProfile

TEMPLATE = "quotes/specs/pdf/bench_sheet.html"


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """What the bench needs to make one kind of panel, so many of them."""

    title: str
    kind: str
    room: str
    fabric: str
    count: int
    codes: tuple[str, ...]
    notes: tuple[str, ...]
    takeoff: Takeoff
    tables: Tables
    drawing: SafeString
    cautions: tuple[Caution, ...]

    @property
    def fills_opening(self) -> bool:
        """Whether the nominal size is that of an opening."""
        return self.takeoff.hang.kind is Hanging.EDGE


def sheet_of(
    worked: Worked,
    *,
    room: str = "",
    count: int = 1,
    codes: Iterable[str] = (),
    notes: Iterable[str] = (),
) -> BenchSheet:
    """Lay out the sheet of a build at a size; `ValueError` if the size was refused."""
    if worked.takeoff is None:
        raise ValueError("a refused panel has no bench sheet")
    return BenchSheet(
        title=worked.spec.name,
        kind=worked.spec.get_kind_display(),
        room=room,
        fabric=worked.cloth.name if worked.cloth else "",
        count=count,
        codes=tuple(codes),
        notes=tuple(notes),
        takeoff=worked.takeoff,
        tables=tables_of(worked.takeoff, worked.names, {}, panels=count),
        drawing=mark_safe(worked.drawing("sheet")),  # noqa: S308 made by our own kernel
        cautions=_cautions(worked.takeoff),
    )


def _cautions(takeoff: Takeoff) -> tuple[Caution, ...]:
    return cautions_for(key for step in takeoff.steps for key in step.cautions)


def bench_sheet_pdf(sheet: BenchSheet, *, letterhead: Letterhead) -> bytes:
    """Print the sheet in the conventions in force; slow, so never in a transaction."""
    return render_pdf(TEMPLATE, {"sheet": sheet, "letterhead": letterhead})


def letterhead_of(profile: ShopProfile) -> Letterhead:
    """Head the bench's papers: the shop's name is enough there."""
    return Letterhead(profile.name, profile.strapline, invented=profile.invented)


def panel_sheet_pdf(
    snapshot: Mapping[str, Any],
    *,
    letterhead: Letterhead,
    codes: Iterable[str],
    notes: Iterable[str] = (),
) -> bytes:
    """Print the sheet of a job's panels that are alike, from the frozen part of one.

    Everything comes from the snapshot, its units and fractions too: `codes` say which
    panels it is for.
    """
    with using(_conventions(snapshot["conventions"])):
        sheet = _frozen_sheet(snapshot, codes=tuple(codes), notes=tuple(notes))
        return bench_sheet_pdf(sheet, letterhead=letterhead)


def _frozen_sheet(
    snapshot: Mapping[str, Any], *, codes: tuple[str, ...], notes: tuple[str, ...]
) -> BenchSheet:
    takeoff = frozen.takeoff_from_json(snapshot["takeoff"])
    names = {
        key: Named(each["name"], each["unit"])
        for key, each in snapshot["materials"].items()
    }
    return BenchSheet(
        title=snapshot["build"]["name"],
        kind=PanelKind(snapshot["build"]["kind"]).label,
        room=snapshot["room"]["name"],
        fabric=names[snapshot["fabric"]].name if snapshot["fabric"] else "",
        count=len(codes) or 1,
        codes=codes,
        notes=notes,
        takeoff=takeoff,
        tables=tables_of(takeoff, names, {}, panels=len(codes) or 1),
        drawing=mark_safe(snapshot["drawings"]["sheet"]),  # noqa: S308 frozen from ours
        cautions=_cautions(takeoff),
    )


def _conventions(kept: Mapping[str, Any]) -> Conventions:
    return Conventions(
        unit_system=UnitSystem(kept["unit_system"]),
        fraction=int(kept["fraction"]),
        currency=kept["currency"],
        locale=kept["locale"],
        time_zone=kept["time_zone"],
        paper=kept["paper"],
    )


def frozen_group(group: PanelGroup) -> dict[str, Any]:
    """Give what a snapshot keeps of panels that are alike; not of refused ones."""
    worked, first = group.worked, group.first
    if worked.takeoff is None or worked.build is None:
        raise ValueError("a refused panel can't be frozen")
    key = first.pk.hex
    return {
        "build": worked.build.key,
        "room": str(first.room_id),
        "width_ticks": first.width_ticks,
        "width_text": first.width_text,
        "height_ticks": first.height_ticks,
        "height_text": first.height_text,
        "fabric": worked.build.front_fabric,
        "count": group.count,
        "takeoff": frozen.to_json(worked.takeoff),
        "drawings": {
            "thumb": worked.thumbnail(f"t{key}"),
            "sheet": worked.drawing(f"d{key}"),
        },
    }


def frozen_builds(groups: Iterable[PanelGroup]) -> dict[str, Any]:
    """Give each build of the groups once, by key, with its own fabric."""
    specs = {group.worked.spec.pk: group.worked.spec for group in groups}
    builds = (adapter.build_of(spec) for spec in specs.values())
    return {build.key: frozen.to_json(build) for build in builds}


def frozen_materials(groups: Iterable[PanelGroup]) -> dict[str, Any]:
    """Give the facts of every material of the groups, by key."""
    found: dict[str, Material] = {}
    for group in groups:
        found |= group.worked.materials
    return {key: frozen_material(material) for key, material in found.items()}


def frozen_material(material: Material) -> dict[str, Any]:
    """Give what is known of a material, its supplier and prices left out."""
    facts = (
        "code",
        "name",
        "kind",
        "unit",
        "thickness_ticks",
        "width_ticks",
        "length_ticks",
        "density_kg_m3",
        "mass_g_m2",
        "mass_g_each",
        "selvedge_ticks",
        "directional",
        "repeat_ticks",
        "backed",
        "flow_resistivity",
        "colour",
        "fire_class",
        "fire_papers",
        "rated_load_n",
        "rating_source",
    )
    return {name: getattr(material, name) for name in facts}
