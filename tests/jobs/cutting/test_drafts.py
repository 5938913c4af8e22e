"""Beside a draft quote's price: what this job alone takes in whole sheets."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from jobs.cutting.models import SawRules
from jobs.cutting.reports import whole_sheets
from quotes.offers.draft import work_out_draft
from shared.money import round_money
from tests.cast import AS_HTMX
from tests.factories.catalogue import mm
from tests.factories.offers import make_cafe, make_quote
from tests.pages import soup

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote(shop, owner):
    return make_cafe(by=owner)


def url(quote):
    return reverse("jobs:quote-in-sheets", args=(quote.pk,))


def wood_in_price(quote):
    """The quote's own figure for wood: every line's materials of sheets and boards."""
    kinds = work_out_draft(quote).priced.breakdown.by_kind
    return sum(k.money.value for k in kinds if k.kind in {"sheet", "board"})


def test_what_the_price_reckons_with_is_what_the_quote_says(quote):
    found = whole_sheets(quote)
    assert found.lines
    ours = sum(line.priced for line in found.lines)
    assert abs(ours - wood_in_price(quote)) < D("1e-20")


def test_whole_ones_hold_every_part(quote):
    for line in whole_sheets(quote).lines:
        assert line.count > 0
        assert 0 < line.yield_percent <= 100
        assert line.whole == line.count * line.material.unit_price
        assert abs(line.difference - (line.whole - line.priced)) <= D("0.01")


def test_what_is_printed_adds_up(quote):
    for line in whole_sheets(quote).lines:
        printed = [round_money(each, "GBP") for each in (line.whole, line.priced)]
        assert line.difference == printed[0] - printed[1]


def test_a_part_that_fits_no_sheet_is_named(quote):
    SawRules.objects.create(pk=1, trim_ticks=mm(600))  # leaves 20 mm of a sheet
    refused = [line.refused for line in whole_sheets(quote).lines if line.refused]
    assert refused
    assert "fits no sheet" in refused[0]


def test_without_panels_there_is_nothing(client_as, owner, shop):
    quote = make_quote(by=owner, panels=0)
    assert whole_sheets(quote).difference == D(0)
    assert "takes any wood yet" in client_as(owner).get(url(quote)).content.decode()


def test_the_quote_s_page_fetches_it(client_as, owner, quote):
    browser = client_as(owner)
    page = soup(browser.get(quote.get_absolute_url()))
    assert page.select_one("#draft-sheets")["hx-get"] == url(quote)
    part = browser.get(url(quote), headers=AS_HTMX)
    assert b"<html" not in part.content
    assert soup(part).select_one("#draft-sheets table")


def test_who_makes_and_fits_is_kept_out(client_as, maker, fitter, quote):
    for person in (maker, fitter):
        assert client_as(person).get(url(quote)).status_code == 403


def test_a_quote_that_is_settled_has_its_job(client_as, owner, shop):
    quote = make_quote(by=owner)
    quote.state = "accepted"
    quote.save()
    assert client_as(owner).get(url(quote)).url == quote.get_absolute_url()
