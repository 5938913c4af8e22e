"""The same figures on page, paper and in the snapshot, to the cent, whatever the rules."""

from decimal import Decimal as D

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from quotes.offers.documents import quote_html
from quotes.offers.draft import work_out_draft
from quotes.pricing.models import LineKind, TaxRate
from shared.conventions import using
from shared.money import minor_exponent, show_money
from shop.clients.models import Site
from shop.people.reports import profile
from tests.factories.offers import make_line, make_quote, make_rules, snapshot_of_draft
from tests.factories.people import make_profile
from tests.factories.specs import make_spec, make_spec_operation
from tests.pages import soup, text

pytestmark = pytest.mark.django_db

CASES = {
    "plain": {},
    "without tax": {"tax": None},
    "tax of nought": {"tax": "0"},
    "an odd rate": {"tax": "8.875"},
    "tax inside": {"prices_include_tax": True},
    "tax inside, by line": {"prices_include_tax": True, "tax_rounding": "line"},
    "tax by line": {"tax_rounding": "line"},
    "margin": {"profit_basis": "margin", "profit_percent": D("37.5")},
    "least charge": {"minimum_charge": D(5000)},
    "no deposit": {"deposit_percent": D(0)},
    "a third as deposit": {"deposit_percent": D("33.333")},
    "overhead by the hour": {"overhead_basis": "hour", "overhead_per_hour": D("7.77")},
    "all at once": {
        "tax": "19",
        "prices_include_tax": True,
        "minimum_charge": D(3000),
        "travel_rate_per_km": D("0.6173"),
        "travel_hourly_rate": D(31),
    },
}


def draft(by, *, currency="EUR", discount="0", locale="en_GB", **rules):
    """Return a draft of three panels and two lines, the panels at an odd price."""
    make_profile(currency=currency, locale=locale)
    make_rules(**rules)
    spec = make_spec()
    make_spec_operation(spec=spec)
    quote = make_quote(by=by, spec=spec, panels=3, discount_percent=D(discount))
    Site.objects.update(distance_km=D(13), travel_minutes=17)
    make_line(quote=quote, by=by, quantity=D("2.5"), unit_price=D("19.99"))
    make_line(quote=quote, by=by, text="Skip", kind="other", unit_price=D("0.05"))
    return quote


def amounts(price):
    """Return the sums of a snapshot's price, by name; those left out are nought."""
    names = ("subtotal", "discount", "net", "tax", "gross", "deposit", "balance")
    return {name: D(price[name] or 0) for name in names}


@pytest.mark.parametrize("discount", ["0", "7.5", "33.333"])
@pytest.mark.parametrize("name", CASES)
def test_the_laws_of_sums(owner, name, discount):
    price = snapshot_of_draft(draft(owner, discount=discount, **CASES[name]))["price"]
    check_sums(price, amounts(price))
    check_lines(price["lines"])
    for amount in amounts(price).values():
        assert amount == round(amount, 2)


def check_sums(price, sums):
    """Sums add up: lines, less discount, with tax; deposit and balance are the total."""
    assert sums["subtotal"] == sum(D(line["net"]) for line in price["lines"])
    discounted = sums["subtotal"] - sums["discount"]
    assert discounted == (sums["gross"] if price["tax_inclusive"] else sums["net"])
    assert sums["net"] + sums["tax"] == sums["gross"]
    assert sums["deposit"] + sums["balance"] == sums["gross"]
    assert sums["tax"] == sum(D(tax["tax"]) for tax in price["taxes"])


def check_lines(lines):
    """Each line is so many of its unit, rounded once to the cent."""
    for line in lines:
        net = D(line["net"])
        exact = D(line["quantity"]) * D(line["unit_price"])
        assert abs(exact - net) <= D("0.005")
        assert net == round(net, 2)


@pytest.mark.parametrize("name", ["plain", "tax inside", "all at once", "without tax"])
def test_page_paper_and_snapshot_say_the_same(owner, client_as, name):
    quote = draft(owner, discount="7.5", **CASES[name])
    snapshot = snapshot_of_draft(quote)
    price = snapshot["price"]
    with using(quote_conventions()):
        sums = amounts(price)
        shown = {
            key: show_money(sums[key], currency="EUR", locale="en_GB") for key in sums
        }
        priced = work_out_draft(quote).priced.totals
    assert (priced.gross.value, priced.net.value) == (sums["gross"], sums["net"])
    paper = text(BeautifulSoup(quote_html(snapshot), "html.parser"))
    page = client_as(owner).get(reverse("quotes:quote", args=(quote.pk,)))
    told = text(soup(page).find("main"))
    for key in ("gross", "deposit", "balance", "subtotal"):
        assert shown[key] in paper, key
        assert shown[key].lstrip("€") in told, key
    for line in price["lines"]:
        amount = show_money(D(line["net"]), currency="EUR", locale="en_GB")
        assert amount in paper
        assert amount in told


def quote_conventions():
    return profile().conventions()


@pytest.mark.parametrize(
    ("currency", "locale"), [("JPY", "ja_JP"), ("KWD", "ar_KW"), ("CHF", "de_CH")]
)
def test_other_currencies_have_their_own_smallest_coin(owner, currency, locale):
    quote = draft(owner, currency=currency, locale=locale, discount="7.5")
    snapshot = snapshot_of_draft(quote)
    exponent = minor_exponent(currency)
    for amount in amounts(snapshot["price"]).values():
        assert amount == round(amount, exponent)
    assert snapshot["shop"]["currency"] == currency
    assert quote_html(snapshot)


def test_kinds_of_lines_bear_their_own_tax(owner):
    quote = draft(owner)
    TaxRate.objects.of_kind(LineKind.LABOUR).update(percent=D(5))
    TaxRate.objects.of_kind(LineKind.OTHER).delete()
    make_line(quote=quote, by=owner, text="Fitting", kind="labour")
    snapshot = snapshot_of_draft(quote)
    rates = {x["text"]: D(x["tax_percent"]) for x in snapshot["price"]["lines"]}
    assert (rates["Fitting"], rates["Skip"]) == (5, 0)
    assert {D(tax["percent"]) for tax in snapshot["price"]["taxes"]} >= {5, 20}
    paper = text(BeautifulSoup(quote_html(snapshot), "html.parser"))
    assert "tax 5 %" in paper
    assert "tax 0 %" in paper


def test_the_same_panels_cost_the_same_in_another_order(owner):
    quote = draft(owner)
    before = snapshot_of_draft(quote)["price"]
    for position, line in enumerate(reversed(quote.free_lines.all())):
        line.position = position
        line.save()
    after = snapshot_of_draft(quote)["price"]
    assert [x["text"] for x in before["lines"]] != [x["text"] for x in after["lines"]]
    assert amounts(before) == amounts(after)


def test_a_discount_never_raises_a_price(owner):
    quote = draft(owner, prices_include_tax=True)
    totals = []
    for percent in ("0", "0.001", "5", "50", "99.999", "100"):
        quote.discount_percent = D(percent)
        quote.save()
        totals.append(D(snapshot_of_draft(quote)["price"]["gross"]))
    assert totals == sorted(totals, reverse=True)
