"""Deliveries and uses: booked once, taken back whole, told where something is odd."""

import datetime as dt
import uuid
from decimal import Decimal

import pytest

from jobs.board.models import Panel
from jobs.buying.actions.deliveries import Came, receive, take_back, take_price
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.actions.uses import Out, book_cut, put_back, take_out
from jobs.buying.models import Delivery, DeliveryLine, JobUse, OrderState
from jobs.buying.reports.jobs import job_material
from jobs.buying.reports.orders import order_page
from jobs.buying.taking_back import refuse_with_uses, uses_keep_yes
from jobs.cutting.models import CutKind, CutPlan, CutPlanPanel
from jobs.cutting.slots import StockUse
from quotes.offers.actions import CannotAnswerError
from shop.catalogue.actions.stock import count_stock, move_stock, undo_move
from shop.catalogue.models import PriceChange, StockLevel, StockMove, StockReason
from tests.factories.buying import make_need, make_order, make_order_line
from tests.factories.catalogue import make_fabric, make_sheet, make_supplier
from tests.factories.jobs import AT, make_job

pytestmark = pytest.mark.django_db

LATER = AT + dt.timedelta(hours=1)


@pytest.fixture
def yard(shop):
    return make_supplier(name="Yard")


@pytest.fixture
def ply(yard):
    return make_sheet(name="Ply", supplier=yard, pack_quantity=2)


@pytest.fixture
def order(yard):
    return make_order(supplier=yard, placed=True)


@pytest.fixture
def line(order, ply):
    return make_order_line(order=order, material=ply, packs=3)


def come(order, *came, by, key=None, **more):
    return receive(order, came, key=key or uuid.uuid4(), by=by, at=AT, **more)


def there(material, lot=""):
    return StockLevel.objects.get(material=material, lot=lot).quantity


class TestDeliveries:
    def test_a_part_comes_then_the_rest(self, order, line, ply, owner):
        come(order, Came(line.pk, Decimal(4)), by=owner, note_number="N1")
        line.refresh_from_db()
        order.refresh_from_db()
        assert (line.arrived, line.outstanding, there(ply)) == (4, 2, 4)
        assert order.is_placed
        come(order, Came(line.pk, Decimal(2)), by=owner)
        order.refresh_from_db()
        assert (order.state, there(ply)) == (OrderState.ARRIVED, 6)
        move = StockMove.objects.order_by("created_at").first()
        assert (move.why, move.unit_cost) == (StockReason.DELIVERED, 24)
        assert move.note == f"order {order.number}, note N1"

    def test_a_second_tap_books_nothing(self, order, line, ply, owner):
        key = uuid.uuid4()
        first = come(order, Came(line.pk, Decimal(6)), by=owner, key=key)
        second = come(order, Came(line.pk, Decimal(6)), by=owner, key=key)
        assert first.delivery == second.delivery
        assert there(ply) == 6

    def test_the_key_of_another_orders_delivery_is_refused(
        self, order, line, yard, ply, owner
    ):
        key = uuid.uuid4()
        come(order, Came(line.pk, Decimal(1)), by=owner, key=key)
        other = make_order(supplier=yard, placed=True)
        second = make_order_line(order=other, material=ply)
        with pytest.raises(CannotOrderError, match="out of date"):
            come(other, Came(second.pk, Decimal(1)), by=owner, key=key)

    def test_more_than_was_ordered_is_booked_and_told(self, order, line, ply, owner):
        received = come(order, Came(line.pk, Decimal(7)), by=owner)
        assert received.told == ("Ply: 1 sheet more than ordered.",)
        assert there(ply) == 7

    def test_another_dye_lot_is_told(self, order, yard, owner):
        felt = make_fabric(name="Felt", supplier=yard)
        line = make_order_line(order=order, material=felt, packs=1, lot="L7")
        received = come(order, Came(line.pk, Decimal(50), lot="L8"), by=owner)
        assert received.told == ("Felt: lot L8, signed for was L7.",)
        assert there(felt, "L8") == 50

    def test_of_what_is_called_off_nothing_comes(self, order, line, owner):
        order.state = OrderState.CALLED_OFF
        order.save()
        with pytest.raises(CannotOrderError, match="nothing more is expected"):
            come(order, Came(line.pk, Decimal(1)), by=owner)
        assert not StockMove.objects.exists()

    def test_one_line_refused_books_none(self, order, line, owner):
        other = make_order_line(order=order, material=make_sheet(), packs=1)
        many = Decimal(10) ** 12
        with pytest.raises(CannotOrderError, match="more than any stores hold"):
            come(order, Came(line.pk, Decimal(1)), Came(other.pk, many), by=owner)
        assert not StockMove.objects.exists()
        assert not Delivery.objects.exists()

    def test_taken_back_it_is_as_before(self, order, line, ply, owner):
        received = come(order, Came(line.pk, Decimal(6)), by=owner)
        take_back(received.delivery, by=owner, at=LATER)
        line.refresh_from_db()
        order.refresh_from_db()
        assert (line.arrived, there(ply), order.state) == (0, 0, OrderState.PLACED)
        with pytest.raises(CannotOrderError, match="already"):
            take_back(received.delivery, by=owner, at=LATER)
        assert there(ply) == 0

    def test_after_a_count_it_stays(self, order, line, ply, owner):
        received = come(order, Came(line.pk, Decimal(6)), by=owner)
        count_stock(ply, Decimal(5), note="one split", by=owner, at=LATER)
        with pytest.raises(CannotOrderError, match="counted after this"):
            take_back(received.delivery, by=owner, at=LATER)
        line.refresh_from_db()
        assert line.arrived == 6

    def test_a_pack_whose_price_does_not_divide_comes_in(self, order, yard, owner):
        wool = make_sheet(name="Wool", supplier=yard, pack_quantity=6)
        line = make_order_line(order=order, material=wool, packs=2)
        come(order, Came(line.pk, Decimal(6), pack_price=Decimal(55)), by=owner)
        assert there(wool) == 6
        assert StockMove.objects.get().unit_cost == Decimal("9.1667")


class TestPrices:
    def book(self, order, line, price, by):
        price = None if price is None else Decimal(price)
        received = come(order, Came(line.pk, Decimal(2), pack_price=price), by=by)
        return DeliveryLine.objects.get(delivery=received.delivery)

    def proposed(self, order):
        return [p for d in order_page(order).deliveries for _, p in d.proposals]

    def test_a_price_that_differs_is_proposed_and_taken_over(
        self, order, line, ply, owner
    ):
        each = self.book(order, line, "51.50", owner)
        assert self.proposed(order) == [Decimal("51.50")]
        take_price(each, by=owner, at=LATER)
        ply.refresh_from_db()
        assert ply.pack_price == Decimal("51.50")
        assert order.number in PriceChange.objects.get().source
        assert self.proposed(order) == []
        assert StockMove.objects.get().unit_cost == Decimal("25.75")

    @pytest.mark.parametrize("price", [None, "48.00"])
    def test_the_same_price_proposes_nothing(self, order, line, owner, price):
        each = self.book(order, line, price, owner)
        assert self.proposed(order) == []
        with pytest.raises(CannotOrderError, match="already"):
            take_price(each, by=owner, at=LATER)

    def test_a_newer_price_is_not_undone_by_an_old_note(self, order, line, ply, owner):
        each = self.book(order, line, "51.50", owner)
        PriceChange.objects.create(
            material=ply,
            now=Decimal(60),
            pack_was=2,
            pack_now=2,
            source="letter",
            at=LATER,
            by=owner,
        )
        assert self.proposed(order) == []
        with pytest.raises(CannotOrderError, match="newer"):
            take_price(each, by=owner, at=LATER)


class TestUses:
    @pytest.fixture
    def job(self, owner, ply):
        made = make_job(by=owner)
        make_need(job=made, material=ply, quantity=5)
        move_stock(ply, Decimal(4), StockReason.DELIVERED, by=owner, at=AT)
        return made

    def row(self, job):
        (row,) = job_material(job, today=AT.date()).rows
        return row

    def test_what_is_taken_out_is_used_and_no_longer_needed(self, job, ply, maker):
        told = take_out(job, [Out(ply, Decimal(3))], by=maker, at=LATER)
        assert told == ()
        assert (self.row(job).used, self.row(job).left, there(ply)) == (3, 2, 1)
        assert self.row(job).used_cost == 72

    def test_put_back_it_is_needed_again_once(self, job, ply, maker):
        take_out(job, [Out(ply, Decimal(3))], by=maker, at=LATER)
        put_back(job, LATER, by=maker, at=LATER)
        assert (self.row(job).used, there(ply)) == (0, 4)
        with pytest.raises(CannotOrderError, match="already"):
            put_back(job, LATER, by=maker, at=LATER)
        assert there(ply) == 4

    def test_more_than_lies_there_is_booked_and_told(self, job, ply, maker):
        (told,) = take_out(job, [Out(ply, Decimal(9))], by=maker, at=LATER)
        assert "Ply" in told
        assert there(ply) == -5

    def test_a_plan_of_two_jobs_is_shared_by_area(self, job, ply, owner):
        other = make_job(by=owner, panels=6)
        plan = CutPlan.objects.create(
            number=1, kind=CutKind.SHEETS, material=ply, asked_at=AT, asked_by=owner
        )
        for panel in Panel.objects.of_jobs((job, other)):
            CutPlanPanel.objects.create(plan=plan, panel=panel)
        move = move_stock(ply, Decimal(-4), StockReason.USED, by=owner, at=LATER)
        book_cut(plan, (StockUse(ply, Decimal(4), move),))
        shares = JobUse.objects.of_plan(plan)
        assert {use.job: use.quantity for use in shares} == {job: 1, other: 3}
        undo_move(move, by=owner, at=LATER)
        assert self.row(job).used == 0

    def test_a_yes_stands_while_material_is_out(self, job, ply, owner):
        assert uses_keep_yes(job.revision) == ""
        take_out(job, [Out(ply, Decimal(1))], by=owner, at=LATER)
        with pytest.raises(CannotAnswerError, match="Ply was taken out"):
            refuse_with_uses(job.revision, owner, LATER)
