"""Sheet goods and boards: sizes, densities and weights.

Marks: S = the source's text was read, M = from memory, CP = common practice,
D = derived. Densities by ρ = 1000 G (1 + MC / 100), Wood Handbook chapter 4 [M].
"""

from dataclasses import replace

import pytest

from quotes.specs.engine.materials import wood_kg
from quotes.specs.engine.model import NominalSize, PartRole, Size
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.stock import StockKind, wood_density_kg_m3
from shared.length import UnitSystem
from tests.factories.takeoff import (
    LB,
    LB_FT3,
    board,
    brace,
    build,
    inch,
    mm,
    rack,
    sheet,
    taken,
)

DENSITIES = [  # G, kg/m³, lb/ft³ at 12 % moisture; tolerance 0.5 %
    (0.48, 537.6, 33.56),  # Douglas-fir, coast [S]
    (0.40, 448.0, 27.97),  # ponderosa pine, Sitka spruce [S]
    (0.35, 392.0, 24.47),  # eastern white pine [M]
    (0.42, 470.4, 29.37),  # spruce-pine-fir framing, NDS [M]
]


@pytest.mark.parametrize(("gravity", "kg_m3", "lb_ft3"), DENSITIES)
def test_density_from_specific_gravity(gravity, kg_m3, lb_ft3):
    density = wood_density_kg_m3(gravity, moisture_percent=12)
    assert density == pytest.approx(kg_m3, rel=5e-3)
    assert density / LB_FT3 == pytest.approx(lb_ft3, rel=5e-3)


def test_plywood_that_comes_with_it_weighs_three_pounds_a_square_foot_an_inch():
    # 3.0 lb/ft² per inch = 36 lb/ft³ = 576.7 kg/m³ [S secondary]; 0.5 %
    ply = next(s for s in preset_stock(UnitSystem.IMPERIAL) if s.key == "frame-ply")
    assert ply.density_kg_m3 == pytest.approx(576.7, rel=5e-3)
    foot = wood_kg(replace(ply, thickness_ticks=inch(1)), inch(12), inch(12))
    assert foot / LB == pytest.approx(3.0, rel=5e-3)


def test_imperial_and_metric_sheets_are_different_sheets():
    # 4 × 8 ft = 2.97290 m², 1220 × 2440 = 2.97680 m², +0.131 % [D]; 1e-5
    imperial = Size(inch(48), inch(96), 0)
    metric = Size(mm(1220), mm(2440), 0)
    assert float(imperial.face_m2) == pytest.approx(2.97290, rel=1e-5)
    assert float(metric.face_m2) == pytest.approx(2.97680, rel=1e-5)
    larger = float(metric.face_m2 / imperial.face_m2)
    assert larger == pytest.approx(1.00131, abs=1e-5)


SHEETS = [  # sides and thickness in ticks, kg/m³, kg, lb; [D], 0.1 %
    ((inch(48), inch(96), inch("0.75")), 36 * LB_FT3, 32.66, 72.00),
    ((inch(48), inch(96), inch("0.703")), 36 * LB_FT3, 30.61, 67.49),
    ((inch(48), inch(96), inch("0.625")), 36 * LB_FT3, 27.22, 60.00),
    ((inch(48), inch(96), inch("0.625")), 38.4 * LB_FT3, 29.03, 64.00),
    ((mm(1220), mm(2440), mm(18)), 550.0, 29.47, 64.97),
    ((mm(1220), mm(2440), mm(18)), 750.0, 40.19, 88.60),
]


@pytest.mark.parametrize(("sides", "density", "kg", "lb"), SHEETS)
def test_weight_of_a_sheet(sides, density, kg, lb):
    width, length, thick = sides
    stock = sheet(thickness_ticks=thick, density_kg_m3=density)
    weight = wood_kg(stock, width, length)
    assert weight == pytest.approx(kg, rel=1e-3)
    assert weight / LB == pytest.approx(lb, rel=1e-3)


def test_weight_of_eight_feet_of_one_by_eight():
    # PS 20: 3/4 × 7-1/4 in; 0.302083 ft³; G 0.42 at 12 %: 8.87 lb, 4.02 kg [D]; 0.5 %
    stock = board(
        thickness_ticks=inch("0.75"),
        width_ticks=inch("7.25"),
        density_kg_m3=wood_density_kg_m3(0.42, moisture_percent=12),
    )
    weight = wood_kg(stock, stock.width_ticks, inch(96))
    assert weight == pytest.approx(4.02, rel=5e-3)
    assert weight / LB == pytest.approx(8.87, rel=5e-3)


def test_one_by_eight_is_19_by_184_millimetres():
    # 19.05 × 184.15 mm [S: university-hosted size table]; exact
    assert (inch("0.75"), inch("7.25")) == (mm("19.05"), mm("184.15"))


def test_thinner_stock_than_its_label_moves_the_inner_brace():
    # drawn at 0.750, cut from 0.703: 2 × 0.047 = 0.094 in, 2.4 mm [D]; exact to a tick
    made = build(depth_ticks=inch(4), braces=(brace(),))

    def across(thickness):
        ply = sheet(thickness_ticks=inch(thickness))
        panel = taken(made, inch(24), inch(48), rack(ply))
        return panel.parts_of(PartRole.BRACE)[0].cut_length_ticks

    moved = across("0.703") - across("0.750")
    assert moved == pytest.approx(inch("0.094"), abs=1)
    assert moved == pytest.approx(mm("2.4"), abs=mm("0.05"))


def test_a_weighed_sheet_goes_before_its_density():
    # published weights vary by some 15 % [S general]: the scales decide
    weighed = sheet(mass_g_m2=9000.0, density_kg_m3=550.0)
    assert wood_kg(weighed, mm(1000), mm(1000)) == pytest.approx(9.0, rel=1e-12)


def test_part_that_fits_a_metric_sheet_by_a_hair_does_not_fit_an_imperial_one():
    # 1220 × 2440 mm against 1219.2 × 2438.4 mm [D]: 1.6 mm decide
    size = NominalSize(mm(2439), mm(600))
    imperial = sheet(width_ticks=inch(48), length_ticks=inch(96))
    assert taken(build(), size.width_ticks, size.height_ticks).parts
    with pytest.raises(ValueError, match="longer than"):
        taken(build(), size.width_ticks, size.height_ticks, rack(imperial))
    assert imperial.kind is StockKind.SHEET
