"""Rows and takeoffs become what the engine prices."""

from decimal import Decimal as D

import pytest

from quotes.pricing import engine
from quotes.pricing.adapter import Basis, ExtraLine, demand_of, request_of, rules_of
from quotes.pricing.adapter.work import NOUNS
from quotes.pricing.engine import MaterialKind, PricingError, Stage, price_panel
from quotes.pricing.engine.costing import material_cost
from quotes.pricing.models import (
    AllowanceBasis,
    OverheadBasis,
    PriceRules,
    ProfitBasis,
    TaxRate,
)
from quotes.specs.reports import groups_in_room
from shop.catalogue.models import Driver, Operation, WorkStage
from shop.surveys.models import Room
from tests.factories.catalogue import (
    make_board,
    make_consumable,
    make_hardware,
    make_operation,
    mm,
)
from tests.factories.clients import make_site
from tests.factories.specs import (
    make_planned,
    make_spec,
    make_spec_item,
    make_spec_operation,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def room():
    return Room.objects.create(site=make_site(), name="Front room")


def basis(*rates, currency="EUR", **rules):
    plain = {"wood_yield_percent": D(80), "overhead_percent": D(0)}
    return Basis(PriceRules(**(plain | rules)), tuple(rates), currency)


def groups(room, spec, *, count=1, **panel):
    for _ in range(count):
        make_planned(room=room, spec=spec, **panel)
    return groups_in_room(room)


def used(demand, kind):
    return next(use for use in demand.materials if use.kind is kind)


def test_words_stored_are_words_priced():
    assert set(WorkStage.values) == {str(x) for x in Stage} - {"travel"}
    assert set(Driver.values) == {str(driver) for driver in NOUNS}


def test_like_panels_are_one_line_of_so_many(room):
    (group,) = groups(room, make_spec(name="Quiet square"), count=3)
    demand = demand_of(group, basis())
    assert demand.quantity == 3
    assert demand.label == "Quiet square, 600 × 1200 mm"
    assert demand.key == str(group.first.pk)


def test_strips_are_areas_of_a_sheet_and_the_sheet_is_its_real_size(room):
    (group,) = groups(room, make_spec())
    use = used(demand_of(group, basis()), MaterialKind.SHEET)
    assert use.pack_amount == D("2.44") * D("1.22")
    assert use.yield_percent == 80
    blanks = group.worked.takeoff.blanks
    area = sum(x.count * x.rip_width_ticks * x.length_ticks for x in blanks)
    found = sum(x.count * x.width_m * x.length_m for x in use.pieces)
    assert found == area * D("0.000003125") ** 2


def test_a_build_has_a_yield_of_its_own_or_the_shops(room):
    (group,) = groups(room, make_spec(wood_yield_percent=D("62.5")))
    assert used(demand_of(group, basis()), MaterialKind.SHEET).yield_percent == D(
        "62.5"
    )


def test_strips_side_by_side_on_a_board_share_its_length(room):
    stock = make_board(width_ticks=mm(210), length_ticks=mm(3000))
    spec = make_spec(frame_stock=stock, kerf_ticks=mm(3), cleat_wall_fixed_ticks=0)
    (group,) = groups(room, spec)
    use = used(demand_of(group, basis()), MaterialKind.BOARD)
    assert use.pack_amount == 3
    frame = [piece for piece in use.pieces if piece.label.endswith("2 abreast")]
    assert [piece.count for piece in frame] == [1, 1]
    assert all(piece.width_m is None for piece in use.pieces)


def test_fabric_is_cut_area_off_the_usable_width(room):
    (group,) = groups(room, make_spec())
    use = used(demand_of(group, basis(fabric_yield_percent=D(85))), MaterialKind.CLOTH)
    (cloth,) = group.worked.takeoff.cloths
    assert use.usable_width_m == D("1.5")
    assert use.pack_amount == 50
    assert use.pieces[0].width_m * use.pieces[0].length_m == cloth.area_m2
    assert (use.yield_percent, use.spare_percent) == (85, 10)


def test_fill_is_area_out_of_a_pack_of_boards(room):
    (group,) = groups(room, make_spec())
    use = used(demand_of(group, basis()), MaterialKind.FILL)
    assert use.pack_amount == 8 * D("0.72")
    assert use.spare_percent == 8


def test_one_part_with_six_spares_is_priced_as_seven(room):
    spec = make_spec()
    part = make_hardware(pack_price=D(20), pack_quantity=D(10))
    make_spec_item(spec=spec, material=part, quantity=D(1), spare_percent=D(600))
    (group,) = groups(room, spec)
    use = used(demand_of(group, basis()), MaterialKind.HARDWARE)
    assert (use.count, use.spare_percent) == (1, 600)
    assert material_cost(use).money.value == 7 * D(2)


def test_hardware_and_consumables_are_counted_with_their_spares(room):
    spec = make_spec()
    make_spec_item(spec=spec, material=make_hardware(), spare_percent=D("10.0"))
    make_spec_item(
        spec=spec,
        material=make_consumable(unit="ml"),
        quantity=D("2.5"),
        driver="joint",
    )
    (group,) = groups(room, spec)
    demand = demand_of(group, basis())
    screws = used(demand, MaterialKind.HARDWARE)
    glue = used(demand, MaterialKind.CONSUMABLE)
    assert (screws.count, screws.spare_percent, screws.noun) == (2, 10, "pieces")
    assert (glue.count, glue.spare_percent, glue.noun) == (10, 0, "ml")


def test_an_operation_is_so_many_drivers_of_its_minutes(room):
    spec = make_spec()
    make_spec_operation(spec=spec, operation=make_operation(name="Corners"))
    (group,) = groups(room, spec)
    line = price_panel(demand_of(group, basis()), rules_of(basis()))
    assert (
        engine.sentence(line.cost.work[0].money)
        == "4 joints × 4.5 min × 48.00 an hour = 14.40"
    )
    assert line.cost.work[0].stage is Stage.BUILD


def test_a_single_driver_is_named_as_one(room):
    spec = make_spec()
    make_spec_operation(spec=spec, operation=make_operation(driver="panel"))
    (group,) = groups(room, spec)
    (work,) = demand_of(group, basis()).work
    assert (work.count, work.noun) == (1, "panel")


def test_an_operation_of_no_minutes_is_left_out(room):
    spec = make_spec()
    idle = make_operation(minutes="0", hourly_rate="0")
    make_spec_operation(spec=spec, operation=idle)
    (group,) = groups(room, spec)
    assert demand_of(group, basis()).work == ()


def test_what_a_job_takes_once_is_counted_once(room):
    setup = make_operation(name="Set up the saw", driver="job", minutes="30")
    box = make_hardware()
    for name in ("One", "Two"):
        spec = make_spec(name=name)
        make_spec_operation(spec=spec, operation=setup)
        make_spec_item(spec=spec, material=box, driver="job")
        make_planned(room=room, spec=spec)
        make_planned(room=room, spec=spec)
    request = request_of(groups_in_room(room), basis())
    assert len(request.panels) == 2
    assert [work.label for work in request.job.work] == ["Set up the saw"]
    assert [use.count for use in request.job.materials] == [2]
    assert all(panel.work == () for panel in request.panels)


def test_the_larger_of_two_counts_for_a_job_stands(room):
    box = make_hardware()
    for quantity in (D(2), D(5), D(3)):
        spec = make_spec()
        make_spec_item(spec=spec, material=box, driver="job", quantity=quantity)
        make_planned(room=room, spec=spec)
    request = request_of(groups_in_room(room), basis())
    assert [use.count for use in request.job.materials] == [5]


def test_without_anything_for_the_job_there_is_no_such_line(room):
    assert request_of(groups(room, make_spec()), basis()).job is None


def test_tax_goes_by_the_kind_of_line_and_only_where_there_is_a_rate(room):
    on = basis(TaxRate(line_kind="panels", percent=D(19)), tax_name="VAT")
    extras = [ExtraLine("x", "Lamps", D(1), D(40), "labour")]
    request = request_of(groups(room, make_spec()), on, extras=extras)
    assert request.panels[0].tax_kind == "panels"
    assert request.extras[0].tax_kind == ""
    assert request.rules.taxes[0].label == "VAT"
    assert request.rules.minimum_tax_kind == "panels"


def test_an_extra_for_travel_is_not_discounted(room):
    extras = [ExtraLine(k, "Ferry", D(1), D(40), k) for k in ("travel", "other")]
    request = request_of(groups(room, make_spec()), basis(), extras=extras)
    assert [extra.discountable for extra in request.extras] == [False, True]


def travelled(room, *sites, **rules):
    plain = {"travel_rate_per_km": D("0.5"), "travel_hourly_rate": D(40)}
    on = basis(**(plain | rules))
    return request_of(groups(room, make_spec()), on, sites=sites).travels


def test_each_site_is_travelled_to_once(room):
    near = make_site(distance_km=D(12), travel_minutes=20)
    far = make_site(address="9 Fell Road", distance_km=D(80))
    trips = travelled(room, near, near, far, trips=2, crew=2)
    assert [x.distance for x in trips] == [12, 80]
    assert [x.minutes_each_way for x in trips] == [20, 0]
    assert {(x.trips, x.people) for x in trips} == {(2, 2)}
    assert trips[1].label == "Travel to 9 Fell Road"


@pytest.mark.parametrize(
    ("site", "rules"),
    [
        ({}, {}),
        ({"distance_km": D(0), "travel_minutes": 0}, {}),
        ({"distance_km": D(9)}, {"travel_rate_per_km": D(0)}),
        ({"travel_minutes": 9}, {"travel_hourly_rate": D(0)}),
    ],
)
def test_a_site_that_costs_nothing_to_reach_is_no_line(room, site, rules):
    assert travelled(room, make_site(**site), **rules) == ()


def test_rules_are_read_as_they_stand():
    found = rules_of(
        basis(
            profit_basis=ProfitBasis.MARGIN,
            profit_percent=D(35),
            overhead_basis=OverheadBasis.HOUR,
            overhead_per_hour=D(11),
            allowance_basis=AllowanceBasis.SHIFT,
            allowance_percent=D(12),
            minimum_charge=D(150),
            currency="GBP",
        )
    )
    assert found.currency == "GBP"
    assert found.profit == engine.Profit(engine.ProfitKind.MARGIN, D(35))
    assert found.overhead.kind is engine.OverheadKind.PER_LABOUR_HOUR
    assert found.overhead.value == 11
    assert found.allowance.kind is engine.AllowanceKind.OF_SHIFT
    assert found.minimum_charge == 150


def test_what_has_no_price_is_named_all_at_once(room):
    spec = make_spec(name="Bare")
    spec.fill.pack_price = None
    spec.fill.save()
    make_spec_item(spec=spec, material=make_hardware(name="Eyes", pack_price=D(0)))
    with pytest.raises(PricingError) as caught:
        request_of(groups(room, spec), basis())
    assert caught.value.field == "pack_price"
    assert "Eyes" in caught.value.message
    assert spec.fill.name in caught.value.message


def test_work_without_a_rate_is_named(room):
    spec = make_spec()
    free = make_operation(name="Corners", hourly_rate="0")
    make_spec_operation(spec=spec, operation=free)
    with pytest.raises(PricingError, match="Corners"):
        request_of(groups(room, spec), basis())
    assert Operation.objects.count() == 1


def test_a_size_that_cannot_be_built_has_no_price(room):
    with pytest.raises(PricingError, match="can't be built") as caught:
        request_of(groups(room, make_spec(), width_mm=10, height_mm=10), basis())
    assert caught.value.field == "size"
