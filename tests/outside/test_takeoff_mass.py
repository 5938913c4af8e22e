"""The worked cloud: masses of exactly these parts, nothing else.

Source: worked example [D] from plywood at 36 lb/ft³ [S secondary], wool and fabric at
the densities given. An arithmetic example of its stated parts, not a real cloud.
Tolerance 0.1 %.
"""

import pytest

from quotes.specs.engine.model import PartRole
from tests.factories.takeoff import (
    LB,
    LB_FT3,
    OZ_YD2,
    brace,
    build,
    fabric,
    inch,
    mm,
    rack,
    sheet,
    taken,
    wool,
)

TOL = 1e-3


def cloud(wool_lb_ft3, *, braced):
    """A 2 × 4 ft cloud: 5/8 × 4 in plywood, 3 in of wool, 34 × 58 in of fabric."""
    stock = rack(
        sheet(thickness_ticks=inch("0.625"), density_kg_m3=36 * LB_FT3),
        wool(
            thickness_ticks=inch(3),
            width_ticks=inch(24),
            length_ticks=inch(48),
            density_kg_m3=wool_lb_ft3 * LB_FT3,
        ),
        fabric(mass_g_m2=8 * OZ_YD2),
    )
    made = build(
        depth_ticks=inch(4),
        fill="wool",
        front_fabric="cloth",
        wrap_ticks=inch(1),
        braces=(brace(strip_ticks=inch(4)),) if braced else (),
    )
    return taken(made, inch(24), inch(48), stock)


def weight(panel, *labels):
    lines = [line.kg for line in panel.mass.lines if line.label in labels]
    return sum(lines)


PARTS = [  # label(s), lb, kg
    (("rail", "stile"), 7.3698, 3.3429),
    (("brace",), 1.1849, 0.5375),
    (("Wool",), 7.3859, 3.3502),
    (("Cloth (front)",), 0.7608, 0.3451),
]


@pytest.mark.parametrize(("labels", "lb", "kg"), PARTS)
def test_each_part_of_the_cloud(labels, lb, kg):
    parts = weight(cloud(4, braced=True), *labels)
    assert parts == pytest.approx(kg, rel=TOL)
    assert parts / LB == pytest.approx(lb, rel=TOL)


def test_heavier_wool():
    heavy = weight(cloud(8, braced=False), "Wool")
    assert heavy == pytest.approx(6.7003, rel=TOL)
    assert heavy / LB == pytest.approx(14.7717, rel=TOL)


TOTALS = [  # wool lb/ft³, braced, lb, kg
    (4, False, 15.516, 7.038),
    (4, True, 16.701, 7.576),
    (8, False, 22.902, 10.388),
    (8, True, 24.087, 10.926),
]


@pytest.mark.parametrize(("density", "braced", "lb", "kg"), TOTALS)
def test_whole_cloud(density, braced, lb, kg):
    mass = cloud(density, braced=braced).mass
    assert mass.panel_kg == pytest.approx(kg, rel=TOL)
    assert mass.total_kg / LB == pytest.approx(lb, rel=TOL)


def test_the_cloud_has_141_and_a_half_inches_of_frame():
    panel = cloud(4, braced=True)
    frame = [
        part.count * part.cut_length_ticks
        for part in panel.parts
        if part.role in {PartRole.RAIL, PartRole.STILE}
    ]
    assert sum(frame) == inch("141.5")


def test_metric_twin():
    # 600 × 1200, 15 × 100 mm ply at 550 kg/m³ 2.9205 kg, 75 mm wool at 64 kg/m³
    # 3.2011 kg, 900 × 1500 fabric at 250 g/m² 0.3375 kg: 6.4591 kg
    made = build(fill="wool", front_fabric="cloth", wrap_ticks=mm(50))
    panel = taken(made)
    assert weight(panel, "rail", "stile") == pytest.approx(2.9205, rel=TOL)
    assert weight(panel, "Wool") == pytest.approx(3.2011, rel=TOL)
    assert weight(panel, "Cloth (front)") == pytest.approx(0.3375, rel=TOL)
    assert panel.mass.total_kg == pytest.approx(6.4591, rel=TOL)
    assert panel.mass.total_kg * 9.80665 == pytest.approx(63.342, rel=TOL)
