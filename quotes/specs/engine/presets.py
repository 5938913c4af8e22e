"""The five builds that come with it, as data, in millimetres or in inches.

Each is one usual way (bench practice, no standard): a shop copies one and changes
it. They name materials by the keys of preset_stock, which a shop replaces with its
own; no operation carries a time here and no hardware a rating.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TypedDict

from quotes.specs.engine.build import Brace, Build, Item, OperationUse
from quotes.specs.engine.rules import (
    Battens,
    Blocking,
    CleatRule,
    EdgeRule,
    Feet,
    PointRule,
)
from quotes.specs.engine.words import (
    BackStyle,
    Driver,
    Edge,
    Face,
    Hanging,
    ItemRole,
    Lies,
    PanelKind,
    Position,
    Runs,
    Stage,
    Through,
)
from shared.length import UnitSystem, from_inches, from_mm
from shared.units import KG_PER_LB


class _Rule:
    """Reads a length in the shop's own system: a round figure in either."""

    def __init__(self, units: UnitSystem) -> None:
        self.metric = units is UnitSystem.METRIC

    def __call__(self, mm: int | str, inches: str) -> int:
        return from_mm(Decimal(mm)) if self.metric else from_inches(Decimal(inches))


class SoftParts(TypedDict):
    """What all five share: fill, fabric and the saw."""

    kerf_ticks: int
    fill: str
    fill_setback_front_ticks: int
    front_fabric: str
    wrap_ticks: int
    turn_ticks: int
    seam_ticks: int
    finished_growth_ticks: int
    one_person_kg: float


def five_builds(units: UnitSystem = UnitSystem.METRIC) -> tuple[Build, ...]:
    """Return the wall, hung, reveal and corner panel and the screen."""
    at = _Rule(units)
    return (_wall(at), _hung(at), _reveal(at), _corner(at), _screen(at))


def _wall(at: _Rule) -> Build:
    return Build(
        key="wall-panel",
        name="Wall panel on bevelled cleats",
        kind=PanelKind.WALL,
        depth_ticks=at(100, "4"),
        frame_stock="frame-ply",
        hanging=Hanging.CLEAT,
        braces=(
            Brace(
                name="cleat brace",
                runs=Runs.ACROSS,
                lies=Lies.FLAT,
                strip_ticks=at(100, "4"),
                position=Position.TIGHT_TOP,
                edge=Edge.BEVELLED,
                bevel_deg=45.0,
            ),
            _centre_brace(at),
        ),
        **_soft(at),
        back_fabric="back-cloth",
        back_style=BackStyle.INSIDE_FRAME,
        cleat=CleatRule(
            wall_share=Decimal("0.5"),
            wall_min_ticks=at(150, "6"),
            step_ticks=at(5, "0.25"),
            two_over_ticks=at(1500, "60"),
            two_travel_ticks=at(50, "2"),
            margin_ticks=at(25, "1"),
            finger_ticks=at(20, "0.75"),
            hole_inset_ticks=at(25, "1"),
            hole_spacing_ticks=at(300, "12"),
        ),
        items=(
            *_bench_items(),
            _site("wall-screw", "1", Driver.SCREW_HOLE, spare="0.2"),
            _fixed("wall-bumper", "2", Driver.PANEL),
        ),
        operations=(*_bench_work(), *_install(Driver.SCREW_HOLE)),
    )


def _hung(at: _Rule) -> Build:
    return Build(
        key="hung-panel",
        name="Hung panel on links and chain",
        kind=PanelKind.HUNG,
        depth_ticks=at(100, "4"),
        frame_stock="frame-ply",
        hanging=Hanging.CHAIN,
        braces=(
            Brace(
                name="fill brace",
                runs=Runs.ACROSS,
                lies=Lies.FLAT,
                strip_ticks=at(75, "3"),
                position=Position.SPREAD,
                max_span_ticks=at(600, "24"),
                from_face=Face.FRONT,
                setback_ticks=at(3, "0.125"),
            ),
        ),
        **_soft(at),
        back_fabric="back-cloth",
        back_style=BackStyle.OVER_BACK_EDGE,
        points=PointRule(inset_ticks=at(50, "2"), max_spacing_ticks=at(1200, "48")),
        blocking=Blocking(length_ticks=at(150, "6"), width_ticks=at(75, "3"), layers=2),
        items=(
            *_bench_items(),
            _fixed("block-screw", "4", Driver.BLOCK),
            _carrying("eye-bolt", "1", for_site=False),
            _carrying("quick-link", "2"),
            _carrying("chain", "0.5"),
            _carrying("ceiling-eye", "1"),
        ),
        operations=(
            *_bench_work(),
            OperationUse("fit-blocks", Driver.BLOCK, Stage.BUILD),
            *_install(Driver.HANGING_POINT),
        ),
    )


def _reveal(at: _Rule) -> Build:
    return Build(
        key="reveal-panel",
        name="Reveal panel with a compressible edge",
        kind=PanelKind.REVEAL,
        depth_ticks=at(100, "4"),
        frame_stock="frame-ply",
        hanging=Hanging.EDGE,
        braces=(_centre_brace(at),),
        **_soft(at),
        back_fabric="back-cloth",
        back_style=BackStyle.OVER_BACK_EDGE,
        edge=EdgeRule(
            clearance_ticks=at(3, "0.125"),
            strip="edge-strip",
            compressed_ticks=at(3, "0.125"),
        ),
        items=(
            *_bench_items(),
            _fixed("edge-strip", "1", Driver.EDGE_STRIP_METRE),
            _fixed("pull-tab", "2", Driver.PANEL),
        ),
        operations=(
            *_bench_work(),
            OperationUse("edge-strip", Driver.EDGE_STRIP_METRE, Stage.UPHOLSTER),
            *_install(Driver.PANEL),
        ),
    )


def _corner(at: _Rule) -> Build:
    return Build(
        key="corner-panel",
        name="Corner panel on battens",
        kind=PanelKind.CORNER,
        depth_ticks=at(100, "4"),
        frame_stock="frame-ply",
        hanging=Hanging.BATTENS,
        through=Through.HEIGHT,
        stile_bevel_deg=45.0,
        braces=(_centre_brace(at),),
        **_soft(at),
        battens=Battens(
            strip_ticks=at(44, "1.5"),
            end_gap_ticks=at(100, "4"),
            stock="batten",
            holes=3,
        ),
        items=(
            *_bench_items(),
            _site("batten-screw", "1", Driver.SCREW_HOLE, spare="0.2"),
            _site("touch-pad", "4", Driver.HANGING_POINT, spare="0.1"),
        ),
        operations=(*_bench_work(), *_install(Driver.SCREW_HOLE)),
    )


def _screen(at: _Rule) -> Build:
    return Build(
        key="screen",
        name="Free-standing screen",
        kind=PanelKind.SCREEN,
        depth_ticks=at(100, "4"),
        frame_stock="frame-ply",
        hanging=Hanging.FEET,
        braces=(
            Brace(
                name="cross brace",
                runs=Runs.ACROSS,
                lies=Lies.ON_EDGE,
                strip_ticks=at(75, "3"),
                setback_ticks=at(12, "0.5"),
                when_over_ticks=at(1000, "40"),
            ),
        ),
        **_soft(at, before_fill=at(12, "0.5")),
        back_fabric="front-fabric",
        back_style=BackStyle.OVER_BACK_EDGE,
        feet=Feet(
            length_ticks=at(450, "18"),
            strip_ticks=at(90, "3.5"),
            inset_ticks=at(100, "4"),
            stock="foot-board",
        ),
        items=(*_bench_items(), _fixed("foot-bolt", "2", Driver.HANGING_POINT)),
        operations=(*_bench_work(), *_install(Driver.PANEL)),
    )


def _centre_brace(at: _Rule) -> Brace:
    return Brace(
        name="centre brace",
        runs=Runs.ACROSS,
        lies=Lies.FLAT,
        strip_ticks=at(75, "3"),
        when_over_ticks=at(900, "36"),
    )


def _soft(at: _Rule, before_fill: int | None = None) -> SoftParts:
    return {
        "kerf_ticks": at("3.2", "0.125"),
        "fill": "wool",
        "fill_setback_front_ticks": before_fill or at(3, "0.125"),
        "front_fabric": "front-fabric",
        "wrap_ticks": at(50, "2"),
        "turn_ticks": at(15, "0.5"),
        "seam_ticks": at(12, "0.5"),
        "finished_growth_ticks": at(3, "0.125"),
        # 23 kg, or 51 lb: the load constant of NIOSH 94-110, for an ideal lift.
        "one_person_kg": 23.0 if at.metric else round(51 * KG_PER_LB, 1),
    }


def _bench_items() -> tuple[Item, ...]:
    return (
        _used("nail", "4", Driver.JOINT),
        _used("nail", "6", Driver.BRACE),
        _used("glue", "8", Driver.JOINT),
        _used("staple", "25", Driver.FABRIC_EDGE_METRE),
    )


def _used(material: str, quantity: str, driver: Driver) -> Item:
    return Item(
        material,
        Decimal(quantity),
        driver,
        role=ItemRole.CONSUMABLE,
        spare_share=Decimal("0.1"),
    )


def _fixed(material: str, quantity: str, driver: Driver) -> Item:
    return Item(material, Decimal(quantity), driver)


def _site(material: str, quantity: str, driver: Driver, *, spare: str) -> Item:
    return Item(
        material,
        Decimal(quantity),
        driver,
        spare_share=Decimal(spare),
        for_site=True,
        in_load_path=material == "wall-screw",
    )


def _carrying(material: str, quantity: str, *, for_site: bool = True) -> Item:
    return Item(
        material,
        Decimal(quantity),
        Driver.HANGING_POINT,
        spare_share=Decimal("0.1"),
        for_site=for_site,
        in_load_path=True,
    )


def _bench_work() -> tuple[OperationUse, ...]:
    return (
        OperationUse("mark-out", Driver.PANEL, Stage.BUILD),
        OperationUse("rip", Driver.RIP_METRE, Stage.BUILD),
        OperationUse("bevel-rip", Driver.BEVEL_METRE, Stage.BUILD),
        OperationUse("crosscut", Driver.CUT, Stage.BUILD),
        OperationUse("corners", Driver.JOINT, Stage.BUILD),
        OperationUse("fit-braces", Driver.BRACE, Stage.BUILD),
        OperationUse("lay-fill", Driver.FILL_PIECE, Stage.UPHOLSTER),
        OperationUse("cut-fabric", Driver.FABRIC_M2, Stage.UPHOLSTER),
        OperationUse("staple-fabric", Driver.FABRIC_EDGE_METRE, Stage.UPHOLSTER),
        OperationUse("check-and-wrap", Driver.PANEL, Stage.PACK),
    )


def _install(driver: Driver) -> tuple[OperationUse, ...]:
    key = {
        Driver.SCREW_HOLE: "drill-and-fix",
        Driver.HANGING_POINT: "hang-point",
    }.get(driver)
    place = OperationUse("place-panel", Driver.PANEL, Stage.INSTALL)
    return (OperationUse(key, driver, Stage.INSTALL), place) if key else (place,)
