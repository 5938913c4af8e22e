"""Orders: written, placed once, sent, called off; what the supplier gets is frozen."""

import datetime as dt
import smtplib
from decimal import Decimal
from unittest import mock

import pytest

from jobs.buying.actions import drafts, placing
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.actions.placing import Cover, place_order, send_paper
from jobs.buying.documents import order_html
from jobs.buying.models import Order, OrderLine, OrderState
from jobs.buying.reports.orders import paper_of, seal_of
from jobs.buying.reports.tobuy import to_buy
from shared.conventions import using
from shared.files.models import StoredFile
from shared.outbox.actions import deliver
from shared.outbox.models import Message, MessageState
from shop.people.reports import profile
from tests.factories.buying import make_need, make_order, make_order_line
from tests.factories.catalogue import make_fabric, make_sheet, make_supplier
from tests.factories.jobs import AT, make_job

pytestmark = pytest.mark.django_db

TODAY = AT.date()
COMES = TODAY + dt.timedelta(days=5)
COVER = Cover("yard@example.org", "Order", "Here it is.")


@pytest.fixture
def yard(shop):
    return make_supplier(name="Yard", email="yard@example.org", lead_days=4)


@pytest.fixture
def ply(yard):
    return make_sheet(name="Ply", supplier=yard, supplier_code="P-15")


@pytest.fixture
def order(yard, ply):
    made = make_order(supplier=yard)
    make_order_line(order=made, material=ply, packs=3)
    return made


@pytest.fixture
def quick_paper(monkeypatch):
    """Print no PDF but where a test is about it: the paper's HTML is tried by itself."""
    monkeypatch.setattr(placing, "order_pdf", lambda *a, **k: b"%PDF-")


def placed(order, by, cover=COVER):
    return place_order(order, cover, expected_on=COMES, by=by, at=AT)


class TestWriting:
    def test_ticked_lines_become_a_draft_for_each_supplier(self, yard, ply, owner):
        felt = make_fabric(name="Felt", supplier=make_supplier(name="Mill"))
        for material in (ply, felt):
            make_need(job=make_job(by=owner), material=material)
        keys = {line.key for line in to_buy(today=TODAY).lines}
        orders = drafts.write_orders(keys, by=owner, at=AT)
        assert {str(each.supplier) for each in orders} == {"Yard", "Mill"}
        assert sorted(each.number for each in orders) == ["B2026-001", "B2026-002"]
        line = OrderLine.objects.get(material=ply)
        assert (line.name, line.supplier_code) == ("Ply", "P-15")
        assert (line.packs, line.pack_price, line.lot) == (5, 48, "")
        assert "5 sheets short for J" in line.how

    def test_of_two_people_who_tick_the_same_line_one_writes_it(self, ply, owner):
        make_need(job=make_job(by=owner), material=ply)
        keys = {line.key for line in to_buy(today=TODAY).lines}
        assert drafts.write_orders(keys, by=owner, at=AT)
        assert drafts.write_orders(keys, by=owner, at=AT) == ()
        assert OrderLine.objects.get().packs == 5

    def test_a_suppliers_open_draft_takes_more(self, order, ply, owner):
        make_need(job=make_job(by=owner), material=ply, quantity=8)
        keys = {line.key for line in to_buy(today=TODAY).lines}
        assert drafts.write_orders(keys, by=owner, at=AT) == (order,)
        assert order.lines.get().quantity == 8

    def test_a_price_changed_later_leaves_the_line_as_it_was(self, order, ply):
        ply.pack_price = Decimal(99)
        ply.save()
        assert order.lines.get().pack_price == 48

    def test_a_number_is_kept_when_an_order_is_given_up(self, yard, owner):
        first = drafts.start_order(yard, by=owner, at=AT)
        drafts.give_up(first, by=owner, at=AT)
        second = drafts.start_order(yard, by=owner, at=AT)
        assert (first.number, second.number) == ("B2026-001", "B2026-002")

    def test_the_year_of_a_number_is_the_shops_own(self, yard, owner, shop):
        eve = dt.datetime(2026, 12, 31, 23, 30, tzinfo=dt.UTC)
        shop.time_zone = "Europe/Berlin"
        with using(shop.conventions()):
            assert drafts.start_order(yard, by=owner, at=eve).number == "B2027-001"


@pytest.mark.usefixtures("quick_paper")
class TestPlacing:
    def test_state_paper_and_mail_are_stored_together(
        self, order, owner, django_capture_on_commit_callbacks
    ):
        with django_capture_on_commit_callbacks():
            placed(order, owner)
        order.refresh_from_db()
        message = Message.objects.about(order).get()
        assert (order.state, order.expected_on) == (OrderState.PLACED, COMES)
        assert (order.placed_by, order.placed_at) == (owner, AT)
        assert message.attachment == order.pdf
        assert (message.to, message.state) == (COVER.to, MessageState.WAITING)

    def test_sent_otherwise_there_is_no_mail(self, order, owner):
        placed(order, owner, Cover())
        assert not Message.objects.exists()
        assert Order.objects.get().pdf is not None

    def test_the_second_of_two_people_is_told(self, order, owner, office):
        placed(order, owner)
        with pytest.raises(CannotOrderError, match="on order already"):
            placed(order, office)
        assert Message.objects.count() == 1

    def test_two_at_once_place_it_once(self, order, owner, office, monkeypatch):
        """The other one places it while the paper of the first is printed."""

        def meanwhile(*args, **kwargs):
            monkeypatch.setattr(placing, "order_pdf", lambda *a, **k: b"%PDF-2")
            placed(order, office)
            return b"%PDF-1"

        monkeypatch.setattr(placing, "order_pdf", meanwhile)
        with pytest.raises(CannotOrderError, match="on order already"):
            placed(order, owner)
        order.refresh_from_db()
        assert order.placed_by == office
        assert order.pdf.read() == b"%PDF-2"
        assert Message.objects.count() == 1

    def test_a_draft_changed_while_it_is_printed_is_not_placed(
        self, order, owner, monkeypatch
    ):
        def meanwhile(*args, **kwargs):
            order.lines.update(packs=9)
            return b"%PDF-"

        monkeypatch.setattr(placing, "order_pdf", meanwhile)
        with pytest.raises(CannotOrderError, match="changed meanwhile"):
            placed(order, owner)
        order.refresh_from_db()
        assert order.is_draft
        assert not Message.objects.exists()
        assert not StoredFile.objects.exists()

    def test_what_the_person_did_not_look_at_is_not_placed(self, order, owner):
        seen = seal_of(paper_of(order, wanted_on=None, shop=profile()))
        order.lines.update(packs=9)
        with pytest.raises(CannotOrderError, match="changed meanwhile"):
            place_order(order, COVER, expected_on=COMES, seen=seen, by=owner, at=AT)

    def test_nothing_is_not_ordered(self, yard, owner):
        with pytest.raises(CannotOrderError, match="nothing on the order"):
            placed(make_order(supplier=yard), owner)

    def test_a_mail_that_cannot_be_stored_leaves_a_draft(self, order, owner):
        with (
            mock.patch.object(placing, "post", side_effect=RuntimeError),
            pytest.raises(RuntimeError),
        ):
            placed(order, owner)
        order.refresh_from_db()
        assert order.is_draft
        assert order.pdf is None

    def test_a_mail_server_that_is_away_leaves_the_order_placed(self, order, owner):
        placed(order, owner)
        message = Message.objects.get()
        with mock.patch(
            "shared.outbox.actions.get_connection", side_effect=smtplib.SMTPException
        ):
            assert deliver(message.pk, at=AT) == MessageState.WAITING
        order.refresh_from_db()
        assert order.is_placed

    def test_the_paper_goes_out_once_more_as_it_was(self, order, ply, owner):
        placed(order, owner)
        ply.name = "Other"
        ply.save()
        order.refresh_from_db()
        send_paper(order, COVER, by=owner, at=AT)
        first, second = Message.objects.about(order)
        assert first.attachment == second.attachment == order.pdf


@pytest.mark.usefixtures("quick_paper")
class TestAfterwards:
    def test_a_draft_alone_can_be_changed(self, order, ply, owner):
        placed(order, owner)
        line = order.lines.get()
        for change in (
            lambda: drafts.add_line(order, ply, Decimal(1), by=owner, at=AT),
            lambda: drafts.drop_line(line, by=owner, at=AT),
            lambda: drafts.change_draft(
                order, [(line, Decimal(9))], note="", by=owner, at=AT
            ),
        ):
            with pytest.raises(CannotOrderError, match="stays as it is"):
                change()
        assert order.lines.get().packs == 3

    def test_called_off_and_taken_up_again_it_is_what_it_was(self, order, owner):
        for was in (OrderState.DRAFT, OrderState.PLACED):
            if was == OrderState.PLACED:
                placed(order, owner)
            drafts.give_up(order, by=owner, at=AT)
            order.refresh_from_db()
            assert order.state == OrderState.CALLED_OFF
            drafts.take_up(order, by=owner, at=AT)
            order.refresh_from_db()
            assert order.state == was

    def test_mail_still_waiting_is_kept_back(self, order, owner):
        placed(order, owner)
        drafts.give_up(order, by=owner, at=AT)
        assert Message.objects.get().state == MessageState.WITHDRAWN

    def test_what_has_begun_to_come_is_ended_and_not_called_off(self, order, owner):
        placed(order, owner)
        order.lines.update(arrived=1)
        with pytest.raises(CannotOrderError, match="nothing more will come"):
            drafts.give_up(order, by=owner, at=AT)
        drafts.end_order(order, by=owner, at=AT)
        order.refresh_from_db()
        assert order.state == OrderState.ARRIVED
        drafts.take_up(order, by=owner, at=AT)
        order.refresh_from_db()
        assert order.is_placed


class TestPaper:
    def test_it_says_what_how_many_at_which_price(self, order, owner, shop):
        order.lines.update(lot="L7")
        order.note = "Ring before you come."
        paper = paper_of(order, wanted_on=COMES, shop=shop)
        html = order_html(paper, shop=shop, on=AT)
        for words in (
            order.number,
            "Yard",
            "3 sheets",
            "€144.00",
            "Dye lot L7 only",
            "Ring before you come.",
            "7 March 2026",
        ):
            assert words in html

    def test_a_missing_price_is_asked_for(self, order, shop):
        order.lines.update(pack_price=None)
        paper = paper_of(order, wanted_on=None, shop=shop)
        html = order_html(paper, shop=shop, on=AT)
        assert "tell us the prices that are missing" in html
        assert "Together without tax" not in html

    def test_it_prints(self, order, owner):
        assert placed(order, owner).pdf.read().startswith(b"%PDF-")
