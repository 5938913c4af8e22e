"""The pages of orders: who may, what they show, what they refuse, what they store."""

import datetime as dt
import uuid
from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.buying.actions import placing
from jobs.buying.models import Order, OrderLine, OrderState
from jobs.gates.models import Gate, GateKind
from shared.outbox.models import Message, MessageState
from tests.cast import AS_HTMX
from tests.factories.buying import make_need, make_order, make_order_line
from tests.factories.catalogue import make_fabric, make_sheet
from tests.factories.jobs import make_job
from tests.jobs.buying.pages import said, url
from tests.pages import BAD_TEXTS, grows, refused, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def quick_paper(monkeypatch):
    monkeypatch.setattr(placing, "order_pdf", lambda *a, **k: b"%PDF-")


class TestRights:
    READ = ("buying", "orders")
    OF_ORDER = ("order", "order-place", "order-preview", "order-pdf", "order-send")

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_makers_and_fitters_get_none_of_it(self, request, client_as, draft, who):
        browser = client_as(request.getfixturevalue(who))
        pages = [url(name) for name in self.READ]
        pages += [url(name, draft) for name in (*self.OF_ORDER, "delivery-new")]
        assert {browser.get(each).status_code for each in pages} == {403}
        verbs = ("order-add", "order-off", "order-again", "order-end", "order-expect")
        posts = [url(name, draft) for name in verbs]
        posts += [url("buying-write"), url("order-new")]
        assert {browser.post(each).status_code for each in posts} == {403}

    def test_outsiders_are_asked_to_sign_in(self, client, draft):
        for each in (url("buying"), url("orders"), url("order", draft)):
            assert client.get(each)["Location"].startswith("/accounts/login/")

    def test_wrong_methods(self, page, draft):
        for each in ("order-off", "order-again", "order-end", "order-add"):
            assert page.get(url(each, draft)).status_code == 405
        assert page.post(url("buying")).status_code == 405

    def test_what_is_not_there_is_404(self, page, draft, placed):
        ghost = uuid.uuid4()
        for name in ("order", "order-place", "delivery-new", "take-out"):
            assert page.get(url(name, ghost)).status_code == 404
        assert page.get(url("order-pdf", draft)).status_code == 404
        assert page.get(url("order-preview", placed)).status_code == 404
        assert page.post(url("delivery-undo", ghost)).status_code == 404

    def test_a_fitter_takes_nothing_out_a_maker_may(
        self, client_as, maker, fitter, job, ply
    ):
        make_need(job=job, material=ply)
        assert client_as(maker).get(url("take-out", job)).status_code == 200
        assert client_as(fitter).get(url("take-out", job)).status_code == 403


class TestToBuy:
    def test_with_no_job_it_says_what_will_show(self, page, shop):
        assert "As soon as a quote is accepted" in text(
            soup(page.get(url("buying"))).main
        )

    def test_a_line_opens_to_how_it_came(self, page, job, ply):
        make_need(job=job, material=ply)
        shown = soup(page.get(url("buying")))
        assert "5 sheets" in text(shown.select_one(".slips .slip"))
        workings = text(shown.select_one(".workings"))
        for words in ("Jobs still need", job.code, "counted", "So short", "Order by"):
            assert words in workings

    def test_waiting_lines_stand_apart_with_the_way_to_their_gate(self, page, job, ply):
        make_need(job=job, material=ply)
        gate = Gate.objects.create(job=job, kind=GateKind.DEPOSIT)
        shown = soup(page.get(url("buying")))
        assert not shown.select('input[name="line"]')
        link = shown.select_one(f'.slip--waiting a[href="{gate.get_absolute_url()}"]')
        assert text(link) == gate.title

    def test_ticked_lines_become_a_draft(self, page, job, ply):
        make_need(job=job, material=ply)
        key = soup(page.get(url("buying"))).select_one('input[name="line"]')["value"]
        answer = page.post(
            url("buying-write"), {"line": [key, "nonsense"]}, follow=True
        )
        assert "Written: B" in said(answer)
        assert Order.objects.get().lines.get().packs == 5

    def test_no_tick_and_old_ticks(self, page, job, ply):
        make_need(job=job, material=ply)
        answer = page.post(url("buying-write"), {})
        assert answer.status_code == 422
        assert "Tick what you want" in text(soup(answer).select_one(".errorlist"))
        old = {"line": [f"{uuid.uuid4()}:"]}
        answer = page.post(url("buying-write"), old, follow=True)
        assert "Nothing was written" in said(answer)
        assert not Order.objects.exists()

    def test_queries_do_not_grow(self, page, yard, owner):
        def another():
            make_need(job=make_job(by=owner), material=make_sheet(supplier=yard))

        assert grows(page, url("buying"), another) == 0


class TestOrders:
    def test_the_list_is_searched_and_filtered(self, page, draft, placed):
        def found(query):
            answer = page.get(f"{url('orders')}?{query}", headers=AS_HTMX)
            assert answer.content.lstrip().startswith(b'<div class="stack')
            return [text(c) for c in soup(answer).select("tbody .code")]

        assert found("") == [draft.number, placed.number]
        assert found("state=placed") == [placed.number]
        assert found("q=ply yard") == [draft.number, placed.number]
        assert found("q=felt") == []

    def test_queries_do_not_grow(self, page, yard, ply, draft):
        assert grows(page, url("orders"), lambda: make_order(supplier=yard)) == 0

        def another_line():
            make_order_line(order=draft, material=make_sheet(supplier=yard))

        assert grows(page, url("order", draft), another_line) == 0

    def test_packs_and_note_of_a_draft_are_changed(self, page, draft):
        line = draft.lines.get()
        typed = {f"packs_{line.pk}": "7", "note": "Ring first."}
        assert "Stored" in said(page.post(url("order", draft), typed, follow=True))
        draft.refresh_from_db()
        assert (draft.lines.get().quantity, draft.note) == (7, "Ring first.")

    @pytest.mark.parametrize(
        "packs", ["", "x", "-1", "0", "1.5", "1e9", "9999999999", "٣", "a\0b"]
    )
    def test_bad_packs_are_refused_and_kept(self, page, draft, packs):
        name = f"packs_{draft.lines.get().pk}"
        refused(page, url("order", draft), {name: packs, "note": "Kept."}, name)
        assert draft.lines.get().packs == 3

    @pytest.mark.parametrize("note", [*BAD_TEXTS, "n" * 2001])
    def test_bad_notes_are_refused(self, page, draft, note):
        name = f"packs_{draft.lines.get().pk}"
        refused(page, url("order", draft), {name: "3", "note": note}, "note")

    def test_cloth_off_the_roll_is_ordered_by_the_tenth(self, page, draft, yard):
        felt = make_fabric(supplier=yard, pack_quantity=1)
        typed = {"material": str(felt.pk), "packs": "7.3"}
        page.post(url("order-add", draft), typed)
        assert draft.lines.get(material=felt).quantity == Decimal("7.3")

    @pytest.mark.parametrize("packs", ["", "0", "-2", "1.5", "x"])
    def test_nothing_odd_is_put_on(self, page, draft, ply, packs):
        typed = {"material": str(ply.pk), "packs": packs}
        refused(page, url("order-add", draft), typed, "packs")

    def test_what_another_supplier_sells_is_not_put_on(self, page, draft):
        for foreign in (str(make_sheet().pk), "x", ""):
            typed = {"material": foreign, "packs": "1"}
            refused(page, url("order-add", draft), typed, "material")

    def test_a_line_taken_off_comes_back_with_one_tap(self, page, draft):
        line = draft.lines.get()
        answer = page.post(url("order-line-drop", line), follow=True)
        assert not draft.lines.exists()
        undo = soup(answer).select_one("#messages form")["action"]
        page.post(undo)
        assert draft.lines.get().packs == 3

    @pytest.mark.parametrize("query", ["", "material=x&packs=1", "packs=NaN"])
    def test_a_spoiled_way_back_is_404(self, page, draft, query):
        again = url("order-line-again", draft)
        assert page.post(f"{again}?{query}").status_code == 404

    def test_an_order_is_begun_by_hand(self, page, yard):
        page.post(url("order-new"), {"supplier": str(yard.pk)})
        assert Order.objects.get().supplier == yard
        refused(page, url("order-new"), {"supplier": "x"}, "supplier")

    def test_called_off_with_a_way_back(self, page, placed):
        answer = page.post(url("order-off", placed), follow=True)
        assert "only knows if you tell them" in said(answer)
        page.post(soup(answer).select_one("#messages form")["action"])
        placed.refresh_from_db()
        assert placed.is_placed

    def test_a_placed_order_is_not_changed_by_its_old_form(self, page, placed):
        line = placed.lines.get()
        typed = {f"packs_{line.pk}": "9", "note": ""}
        assert "it stays so" in said(
            page.post(url("order", placed), typed, follow=True)
        )
        assert placed.lines.get().packs == 3


@pytest.mark.usefixtures("quick_paper")
class TestPlacing:
    def typed(self, **more):
        usual = {
            "how": "mail",
            "to": "yard@example.org",
            "subject": "Order",
            "body": "Here it is.",
            "expected_on": str(timezone.localdate() + dt.timedelta(days=6)),
        }
        return usual | more

    def test_the_mail_is_proposed_and_the_order_placed(self, page, draft):
        form = soup(page.get(url("order-place", draft)))
        assert form.select_one('[name="to"]')["value"] == "yard@example.org"
        seal = form.select_one('[name="seal"]')["value"]
        answer = page.post(
            url("order-place", draft), self.typed(seal=seal), follow=True
        )
        assert "is in the outbox" in said(answer)
        draft.refresh_from_db()
        assert draft.state == OrderState.PLACED
        assert Message.objects.about(draft).get().to == "yard@example.org"

    def test_sent_otherwise_it_asks_for_no_mail(self, page, draft):
        typed = self.typed(how="other", to="", subject="", body="")
        page.post(url("order-place", draft), typed)
        draft.refresh_from_db()
        assert draft.is_placed
        assert not Message.objects.exists()

    def test_a_second_tap_is_told(self, page, draft):
        page.post(url("order-place", draft), self.typed())
        answer = page.post(url("order-place", draft), self.typed(), follow=True)
        assert "on order already" in said(answer)
        assert Message.objects.count() == 1

    def test_a_draft_changed_since_is_shown_anew(self, page, draft):
        answer = page.post(url("order-place", draft), self.typed(seal="old"))
        assert answer.status_code == 422
        assert "changed meanwhile" in text(soup(answer).main)
        seal = soup(answer).select_one('[name="seal"]')["value"]
        page.post(url("order-place", draft), self.typed(seal=seal))
        draft.refresh_from_db()
        assert draft.is_placed

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("to", ""),
            ("to", "yard"),
            ("to", "a@example.org,b@example.org"),
            ("subject", ""),
            ("subject", "s" * 201),
            ("body", "a\u202eb"),
            ("expected_on", ""),
            ("expected_on", "soon"),
            ("expected_on", "2020-01-01"),
        ],
    )
    def test_bad_input_places_nothing(self, page, draft, field, value):
        refused(page, url("order-place", draft), self.typed(**{field: value}), field)
        draft.refresh_from_db()
        assert draft.is_draft

    def test_how_it_goes_is_one_of_two(self, page, draft):
        answer = page.post(url("order-place", draft), self.typed(how="pigeon"))
        assert answer.status_code == 422
        assert "Choose how it goes" in text(soup(answer).main)

    def test_mail_that_failed_goes_again(self, page, draft):
        page.post(url("order-place", draft), self.typed())
        Message.objects.update(state=MessageState.FAILED)
        shown = soup(page.get(url("order", draft)))
        again = url("order-mail-again", Message.objects.get())
        assert shown.select_one(f'form[action="{again}"]')
        page.post(again)
        assert Message.objects.get().state == MessageState.WAITING

    def test_the_paper_is_sent_once_more(self, page, draft):
        page.post(url("order-place", draft), self.typed())
        page.post(url("order-send", draft), self.typed(to="other@example.org"))
        assert {m.to for m in Message.objects.all()} == {
            "yard@example.org",
            "other@example.org",
        }
        refused(page, url("order-send", draft), {"to": "", "subject": "s"}, "to")

    def test_another_day_is_expected(self, page, placed):
        page.post(url("order-expect", placed), {"expected_on": "2026-04-01"})
        placed.refresh_from_db()
        assert placed.expected_on == dt.date(2026, 4, 1)
        refused(page, url("order-expect", placed), {"expected_on": "x"}, "expected_on")


def test_a_line_of_an_order_holds_more_than_nothing(draft, ply):
    row = OrderLine(order=draft, material=ply, packs=0, pack_quantity=1, quantity=0)
    with pytest.raises(Exception, match="more than nothing"):
        row.validate_constraints()
