"""What one panel costs: wood, cloth, fill, small things, work, travel, overhead."""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    Allowance,
    AllowanceKind,
    MaterialKind,
    Overhead,
    OverheadKind,
    Piece,
    Stage,
    Unit,
    price_panel,
    price_quote,
)
from tests.quotes.pricing.factories import (
    job,
    joints,
    panel,
    request,
    rules,
    screws,
    sheet,
    travel,
)


def cost_of(use):
    line = price_panel(panel(materials=(use,), work=()), rules())
    return line.cost.materials[0]


def test_a_sheet_is_priced_by_the_area_of_its_pieces():
    assert cost_of(sheet()).amount.value == D("0.2")
    assert cost_of(sheet()).money.value == D("3")


def test_the_average_yield_and_the_waste_share_raise_what_is_bought():
    use = sheet(yield_percent=D(80), spare_percent=D(10))
    assert cost_of(use).amount.value == D("0.275")


def test_a_board_is_priced_by_length():
    use = sheet(
        kind=MaterialKind.BOARD,
        pack_price=D(12),
        pack_amount=D("2.4"),
        pieces=(Piece("Batten", D(3), D("0.5")),),
    )
    assert cost_of(use).amount.value == D("1.5")
    assert cost_of(use).amount.unit is Unit.METRES
    assert cost_of(use).money.value == D("7.5")


def test_cloth_is_priced_by_cut_area_over_the_usable_width_of_the_roll():
    use = sheet(
        kind=MaterialKind.CLOTH,
        pack_price=D(20),
        pack_amount=D(1),
        usable_width_m=D("1.5"),
        yield_percent=D(90),
        spare_percent=D(10),
        pieces=(Piece("Front", D(1), D("1.5"), D("0.9")),),
    )
    assert cost_of(use).amount.value == D("1.1")
    assert cost_of(use).amount.unit is Unit.METRES
    assert cost_of(use).money.value == D("22")


def test_fill_is_priced_by_area():
    use = sheet(
        kind=MaterialKind.FILL,
        pack_price=D(36),
        pack_amount=D("7.2"),
        spare_percent=D(5),
        pieces=(Piece("Fill", D(2), D("1.2"), D("0.6")),),
    )
    assert cost_of(use).money.value == D("7.56")


def test_small_things_are_priced_by_their_part_of_a_pack():
    assert cost_of(screws(spare_percent=D(10))).money.value == D("0.88")


def test_pieces_of_two_sizes_add_up():
    pieces = (Piece("A", D(2), D(1), D("0.1")), Piece("B", D(1), D(2), D("0.05")))
    assert cost_of(sheet(pieces=pieces)).amount.value == D("0.3")


def test_what_the_client_supplies_costs_nothing():
    use = sheet(pack_price=D(0), supplied_by_client=True)
    assert cost_of(use).money.value == 0


def test_work_is_drivers_times_minutes_times_rate():
    line = price_panel(panel(materials=()), rules())
    assert line.cost.work[0].minutes.value == 18
    assert line.cost.work[0].money.value == D("14.4")


@pytest.mark.parametrize(
    ("kind", "minutes"),
    [(AllowanceKind.OF_WORK, D("22.5")), (AllowanceKind.OF_SHIFT, D(24))],
)
def test_an_allowance_is_a_share_of_the_work_or_of_the_shift(kind, minutes):
    line = price_panel(panel(), rules(allowance=Allowance(kind, D(25))))
    assert line.cost.work[0].minutes.value == minutes


def test_an_overhead_can_be_a_share_of_direct_cost():
    over = Overhead(OverheadKind.SHARE_OF_COST, D(10))
    line = price_panel(panel(), rules(overhead=over))
    assert line.cost.overhead.value == D("1.74")
    assert line.cost.total.value == D("19.14")


def test_an_overhead_can_be_money_for_each_labour_hour():
    over = Overhead(OverheadKind.PER_LABOUR_HOUR, D(20))
    line = price_panel(panel(), rules(overhead=over))
    assert line.cost.overhead.value == D("6")


@pytest.mark.parametrize("kind", list(OverheadKind))
def test_no_overhead_is_no_figure(kind):
    assert price_panel(panel(), rules(overhead=Overhead(kind))).cost.overhead is None


def test_travel_is_there_and_back_for_every_trip():
    priced = price_quote(request(travels=(travel(),)))
    assert priced.lines[-1].amount.value == 60


def test_time_on_the_road_is_paid_for_everybody_in_the_van():
    went = travel(minutes_each_way=D(30), people=D(2), hourly_rate=D(40))
    line = price_quote(request(travels=(went,))).lines[-1]
    assert line.cost.work[0].minutes.value == 240
    assert line.amount.value == 60 + 160


def test_a_trip_may_cost_time_alone():
    went = travel(distance=D(0), minutes_each_way=D(15), hourly_rate=D(40))
    line = price_quote(request(travels=(went,))).lines[-1]
    assert line.cost.travel is None
    assert line.amount.value == 40


def test_setting_up_is_priced_once_for_the_job():
    priced = price_quote(request(panel(quantity=D(9)), job=job(materials=(screws(),))))
    assert priced.lines[1].amount.value == D("3.60") + D("0.80")


def test_the_breakdown_tells_labour_by_stage_and_materials_by_kind():
    fit = joints(label="Hanging", stage=Stage.INSTALL, count=D(2))
    group = panel(quantity=D(3), materials=(sheet(), screws()), work=(joints(), fit))
    told = price_quote(request(group)).breakdown
    assert [(x.stage, x.minutes.value) for x in told.by_stage] == [
        (Stage.BUILD, D(54)),
        (Stage.INSTALL, D(27)),
    ]
    assert [(x.kind, x.money.value) for x in told.by_kind] == [
        (MaterialKind.SHEET, D(9)),
        (MaterialKind.HARDWARE, D("2.4")),
    ]
    assert told.minutes.value == 81
    assert told.labour.value == D("64.8")
