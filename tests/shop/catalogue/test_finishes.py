"""Finishes: those that come with the program, and the shop's own."""

import datetime as dt
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from shared.models import Entry
from shop.catalogue import actions
from shop.catalogue.engine import FINISHES
from shop.catalogue.models import Finish
from shop.catalogue.tasks import bring_finishes
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_finish
from tests.pages import BAD_TEXTS, grows, refused, soup, text

AT = dt.datetime(2026, 3, 2, 10, 0, tzinfo=dt.UTC)
LIST, NEW = reverse("shop:finishes"), reverse("shop:finish-new")
FELT = {
    "name": "Felt tile 9 mm",
    "at_125": "0.05",
    "at_250": ".1",
    "at_500": "0,4",
    "at_1000": "0.755",
    "at_2000": "0.9",
    "at_4000": "1",
    "source": "the maker’s report of 2024",
}


class TestThoseOfTheProgram:
    def test_all_are_put_in_as_their_tables_print_them(self, db):
        assert actions.install_finishes(at=AT) == len(FINISHES)
        brick = Finish.objects.get(key="brick-unglazed")
        assert brick.coefficients == tuple(
            Decimal(v) for v in ("0.03", "0.03", "0.03", "0.04", "0.05", "0.07")
        )
        assert "Barron" in brick.source

    def test_nothing_is_put_in_twice_and_what_the_shop_changed_stays(self, db):
        actions.install_finishes(at=AT)
        Finish.objects.filter(key="brick-unglazed").update(name="Our brick")
        Finish.objects.filter(key="stage-floor").update(archived_at=AT)
        Finish.objects.filter(key="tile-fissured").delete()
        assert actions.install_finishes(at=AT) == 1
        assert Finish.objects.get(key="brick-unglazed").name == "Our brick"
        assert Finish.objects.get(key="stage-floor").archived_at == AT

    def test_the_worker_brings_them(self, db):
        bring_finishes.func()
        assert Finish.objects.count() == len(FINISHES)


class TestTheShopsOwn:
    def test_one_is_added_with_its_source_and_a_key_of_its_own(self, client_as, office):
        browser = client_as(office)
        for _ in range(2):
            assert browser.post(NEW, FELT).status_code == 302
        one, other = Finish.objects.order_by("created_at")
        assert (one.key, other.key) == ("felt-tile-9-mm", "felt-tile-9-mm-2")
        assert one.coefficients[2:4] == (Decimal("0.4"), Decimal("0.755"))
        assert Entry.objects.about("finish", one.pk).get().by == office

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("name", ""),
            ("name", "n" * 121),
            *(("name", bad) for bad in BAD_TEXTS),
            ("at_125", ""),
            ("at_250", "1.01"),
            ("at_500", "-0.1"),
            ("at_1000", "half"),
            ("at_2000", "NaN"),
            ("at_4000", "0.1234"),
            ("source", ""),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, office, field, value
    ):
        refused(client_as(office), NEW, FELT | {field: value}, field)
        assert not Finish.objects.exists()

    def test_a_change_keeps_the_key(self, client_as, office):
        finish = make_finish(key="felt")
        client_as(office).post(finish.get_absolute_url(), FELT)
        finish.refresh_from_db()
        assert (finish.key, finish.name) == ("felt", "Felt tile 9 mm")

    def test_one_is_put_aside_and_taken_up_again(self, client_as, office):
        finish, browser = make_finish(), client_as(office)
        page = soup(
            browser.post(reverse("shop:finish-archive", args=[finish.pk]), follow=True)
        )
        assert str(finish) in text(page.select_one("#aside"))
        again = page.select_one(f'form[action="/stores/finishes/{finish.pk}/restore/"]')
        browser.post(again["action"])
        finish.refresh_from_db()
        assert finish.archived_at is None

    def test_a_share_above_one_is_refused_by_the_database(self, db):
        with pytest.raises(IntegrityError), transaction.atomic():
            make_finish(at_500=Decimal("1.2"))


class TestTheList:
    def test_who_surveys_reads_it_and_changes_nothing(self, client_as, fitter):
        finish, browser = make_finish(), client_as(fitter)
        page = soup(browser.get(LIST))
        assert str(finish) in text(page)
        assert not page.select("#finishes a, #finishes form")
        for name in ("change", "archive", "restore"):
            url = reverse(f"shop:finish-{name}", args=[finish.pk])
            assert browser.post(url).status_code == 403
        assert browser.get(NEW).status_code == 403

    def test_it_is_searched_by_every_word_of_name_and_source(self, client_as, owner):
        make_finish(name="Cork floor", source="the maker’s sheet")
        make_finish(name="Slate", source="the table of 1950")
        page = soup(client_as(owner).get(LIST, {"q": "cork sheet"}, headers=AS_HTMX))
        assert page.html is None
        assert "Cork floor" in text(page)
        assert "Slate" not in text(page)

    def test_nothing_found_says_so(self, client_as, owner):
        assert "Nothing is found" in text(
            soup(client_as(owner).get(LIST, {"q": "zz\0"}))
        )

    def test_none_yet_says_so(self, client_as, owner):
        assert "No finishes yet" in text(soup(client_as(owner).get(LIST)))

    def test_queries_do_not_grow(self, client_as, owner):
        assert grows(client_as(owner), LIST, make_finish) == 0

    def test_the_stores_lead_to_it(self, client_as, fitter):
        page = soup(client_as(fitter).get(reverse("shop:materials")))
        assert page.select(f'a[href="{LIST}"]')
