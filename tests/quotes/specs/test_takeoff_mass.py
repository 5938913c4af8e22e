from decimal import Decimal

import pytest

from quotes.specs.engine.model import BackStyle, Driver, Item, Position
from tests.factories.takeoff import (
    brace,
    build,
    fabric,
    hardware,
    mm,
    rack,
    sheet,
    taken,
    wool,
)


def centre(made, *stock):
    spot = taken(made, stock=rack(*stock)).mass.centre
    return spot.x_ticks, spot.y_ticks, spot.z_ticks


def test_bare_frame_balances_in_its_middle():
    assert centre(build()) == (mm(300), mm(600), mm(50))


def test_brace_at_the_top_lifts_the_centre_and_moves_it_back():
    made = build(braces=(brace(position=Position.TIGHT_TOP),))
    panel = taken(made)
    x, y, z = centre(made)
    frame, top = 3540 * 100, 570 * 75  # mm² of the same sheet
    assert x == mm(300)
    middle = (frame * 600 + top * (1185 - 37.5)) / (frame + top)
    assert y == pytest.approx(mm(middle), abs=1)
    depth = (frame * 50 + top * 92.5) / (frame + top)
    assert z == pytest.approx(mm(depth), abs=1)
    assert panel.mass.centre.y_ticks == y


def test_fill_weighs_at_its_own_depth():
    # a weightless frame leaves the wool: 75 mm of it, 3 mm behind the front
    air = sheet(density_kg_m3=1e-6)
    made = build(fill="wool", fill_setback_front_ticks=mm(3))
    assert centre(made, air)[2] == pytest.approx(mm(3 + 37.5), abs=2)


def test_front_cloth_weighs_at_its_face_and_its_sides():
    # 0.72 of 1.35 m² lies in front, the rest at half the depth on average
    air = sheet(density_kg_m3=1e-9)
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    assert centre(made, air)[2] == pytest.approx(mm(50 * (1 - 0.72 / 1.35)), abs=2)


def test_back_cloth_weighs_at_the_back():
    air = sheet(density_kg_m3=1e-9)
    made = build(back_fabric="cloth", back_style=BackStyle.OVER_BACK_EDGE)
    assert centre(made, air)[2] == pytest.approx(mm(100), abs=2)


def test_a_weighed_fill_goes_by_its_layers():
    made = build(fill="wool", fill_layers=2, depth_ticks=mm(160))
    weighed = wool(density_kg_m3=0.0, mass_g_m2=4800.0)
    line = next(
        line
        for line in taken(made, stock=rack(weighed)).mass.lines
        if line.label == "Wool"
    )
    assert line.kg == pytest.approx(2 * 0.57 * 1.17 * 4.8)
    assert line.how == "2 × 570 × 1170 × 75 mm at 4800 g/m²"


def test_lines_say_how_they_were_weighed():
    made = build(
        front_fabric="cloth",
        wrap_ticks=mm(50),
        items=(Item("screw", Decimal(3), Driver.JOINT),),
    )
    stock = rack(hardware("screw", 5.0), fabric())
    how = {line.label: line.how for line in taken(made, stock=stock).mass.lines}
    assert how["stile"] == "2 × 100 × 15 × 1170 mm at 550 kg/m³"
    assert how["Cloth (front)"] == "900 × 1500 mm at 250 g/m²"
    assert how["Screw"] == "12 each × 5 g"
