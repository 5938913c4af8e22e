"""Pages where material comes and goes: deliveries, a job's material, next up."""

import datetime as dt
from decimal import Decimal

import pytest

from jobs.buying.models import Delivery, JobUse
from jobs.nextup.reports import next_up
from shop.catalogue.actions.stock import move_stock
from shop.catalogue.models import StockLevel, StockReason
from tests.factories.buying import make_need, make_order, make_order_line
from tests.factories.catalogue import make_fabric
from tests.factories.jobs import AT
from tests.jobs.buying.pages import said, url
from tests.pages import refused, soup, text

pytestmark = pytest.mark.django_db


class TestDeliveries:
    def typed(self, page, order, **more):
        """Give the form as it is shown, with some boxes changed."""
        form = soup(page.get(url("delivery-new", order))).select_one("main form")
        boxes = form.select("input:not([type=checkbox])")
        shown = {box["name"]: box.get("value", "") for box in boxes}
        del shown["csrfmiddlewaretoken"]
        return shown | more

    def test_what_is_outstanding_stands_in_the_boxes(self, page, placed, ply):
        answer = page.post(
            url("delivery-new", placed), self.typed(page, placed), follow=True
        )
        assert "Booked into the stores" in said(answer)
        assert StockLevel.objects.get(material=ply).quantity == 3
        undo = soup(answer).select_one("#messages form")["action"]
        page.post(undo)
        assert StockLevel.objects.get(material=ply).quantity == 0

    def test_a_double_tap_books_once(self, page, placed, ply):
        typed = self.typed(page, placed)
        for _ in range(2):
            page.post(url("delivery-new", placed), typed)
        assert StockLevel.objects.get(material=ply).quantity == 3
        assert Delivery.objects.count() == 1

    @pytest.mark.parametrize("much", ["x", "-1", "1.5", "1e3", "99999999999"])
    def test_odd_amounts_are_refused(self, page, placed, much):
        name = f"quantity_{placed.lines.get().pk}"
        typed = self.typed(page, placed, **{name: much})
        refused(page, url("delivery-new", placed), typed, name)
        assert not Delivery.objects.exists()

    def test_nothing_at_all_is_refused(self, page, placed):
        name = f"quantity_{placed.lines.get().pk}"
        for nothing in ("", "0"):
            typed = self.typed(page, placed, **{name: nothing})
            answer = page.post(url("delivery-new", placed), typed)
            assert answer.status_code == 422
            assert "at least one line" in text(soup(answer).main)

    @pytest.mark.parametrize("key", ["", "x", "\0"])
    def test_a_spoiled_key_is_told(self, page, placed, key):
        typed = self.typed(page, placed, key=key)
        assert page.post(url("delivery-new", placed), typed).status_code == 422

    def test_another_dye_lot_is_asked_about(self, page, yard):
        felt = make_fabric(name="Felt", supplier=yard)
        order = make_order(supplier=yard, placed=True)
        line = make_order_line(order=order, material=felt, packs=1, lot="L7")
        lot = f"lot_{line.pk}"
        for other in ("", "L8"):
            typed = self.typed(page, order, **{lot: other})
            shown = refused(page, url("delivery-new", order), typed, lot)
            assert "L7" in text(shown.select_one(f"#id_{lot}_field .errorlist"))
        typed = self.typed(page, order, **{lot: "L8", f"lot_ok_{line.pk}": "on"})
        answer = page.post(url("delivery-new", order), typed, follow=True)
        assert "signed for was L7" in said(answer)

    def test_a_dearer_note_proposes_its_price(self, page, placed, ply):
        line = placed.lines.get()
        typed = self.typed(page, placed, **{f"price_{line.pk}": "51.50"})
        shown = soup(page.post(url("delivery-new", placed), typed, follow=True))
        form = shown.select_one('form[action*="/price/"]')
        assert "51.50" in text(form.find_parent("li"))
        page.post(form["action"])
        ply.refresh_from_db()
        assert ply.pack_price == Decimal("51.50")


class TestJobSection:
    def section(self, browser, job):
        return soup(browser.get(job.get_absolute_url())).select_one("#material")

    def test_needed_used_and_short(self, page, job, ply, owner):
        make_need(job=job, material=ply)
        move_stock(ply, Decimal(2), StockReason.DELIVERED, by=owner, at=AT)
        words = text(self.section(page, job))
        for said_there in ("Ply", "2 sheets in the stores; 3 sheets short", "€240.00"):
            assert said_there in words

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_no_money_for_those_who_see_none(self, request, client_as, job, ply, who):
        make_need(job=job, material=ply)
        words = text(self.section(client_as(request.getfixturevalue(who)), job))
        assert "5 sheets" in words
        assert "€" not in words

    def test_taken_out_and_put_back(self, client_as, maker, job, ply, owner):
        make_need(job=job, material=ply)
        move_stock(ply, Decimal(3), StockReason.DELIVERED, by=owner, at=AT)
        browser = client_as(maker)
        form = soup(browser.get(url("take-out", job)))
        name = f"quantity_{ply.pk}"
        assert form.select_one(f'[name="{name}"]')["value"] == "3"
        answer = browser.post(url("take-out", job), {name: "3"}, follow=True)
        assert JobUse.objects.get().quantity == 3
        browser.post(soup(answer).select_one("#messages form")["action"])
        assert StockLevel.objects.get(material=ply).quantity == 3

    @pytest.mark.parametrize("much", ["x", "-1", "0.5", "99999999999"])
    def test_odd_amounts_are_refused(self, page, job, ply, much):
        make_need(job=job, material=ply)
        name = f"quantity_{ply.pk}"
        refused(page, url("take-out", job), {name: much}, name)
        assert not JobUse.objects.exists()

    def test_a_moment_that_never_was(self, page, job):
        for stamp in (0, 10**30):
            answer = page.post(url("put-back", job, stamp), follow=True)
            assert "already" in said(answer)


class TestNextUp:
    def titles(self, person):
        page = next_up(person, today=AT.date())
        return {s.title: s for s in (*page.late, *page.due, *page.waiting, *page.rest)}

    def test_what_has_to_be_ordered_today(self, office, maker, job, ply):
        job.wanted_by = AT.date() + dt.timedelta(days=12)
        job.save()
        make_need(job=job, material=ply)
        slip = self.titles(office)["Order from Yard today"]
        assert (slip.line, slip.look) == (f"1 line, for {job.code}.", "due")
        assert "Order from Yard today" not in self.titles(maker)

    def test_drafts_arrivals_and_late_orders(self, office, draft, placed, yard):
        late = make_order(supplier=yard, placed=True, expected_on=dt.date(2026, 2, 27))
        placed.expected_on = AT.date()
        placed.save()
        found = self.titles(office)
        assert found[f"Place order {draft.number}"].look == ""
        assert found[f"Order {placed.number} arrives today"].look == "due"
        assert found[f"Ask after order {late.number}"].pill == "was due 27 February"
