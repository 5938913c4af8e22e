"""The shop's price rules: who may see them, what is refused, what a hundred becomes."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from quotes.offers.draft import work_out_draft
from quotes.pricing.actions import store_rules
from quotes.pricing.forms import PriceRulesForm
from quotes.pricing.models import LineKind, PriceRules, TaxRate
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shared.models import Entry
from tests.cast import AS_HTMX
from tests.factories.offers import AT, make_quote, make_rules
from tests.factories.people import make_profile
from tests.pages import BAD_TEXTS, queries, refused, shown, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]

URL = "/price-rules/"

TYPED = {
    "overhead_basis": "cost",
    "overhead_percent": "25",
    "overhead_per_hour": "12.50",
    "profit_basis": "markup",
    "profit_percent": "40",
    "allowance_basis": "work",
    "allowance_percent": "10",
    "wood_yield_percent": "80",
    "wood_waste_percent": "5",
    "fabric_yield_percent": "85",
    "fabric_spare_percent": "10",
    "fill_waste_percent": "8",
    "travel_rate_per_km": "0.60",
    "travel_hourly_rate": "30",
    "trips": "2",
    "crew": "2",
    "minimum_charge": "150",
    "deposit_percent": "50",
    "tax_name": "VAT",
    "tax_rounding": "total",
    "tax_panels": "20",
    "tax_labour": "20",
    "tax_material": "20",
    "tax_travel": "",
    "tax_other": "8.875",
}

BAD_NUMBERS = ("", "much", "-1", "1e2", "NaN", "9" * 40, "\0", "٣", "1 000")
SHARES = (
    "overhead_percent",
    "profit_percent",
    "allowance_percent",
    "wood_yield_percent",
    "wood_waste_percent",
    "fabric_yield_percent",
    "fabric_spare_percent",
    "fill_waste_percent",
    "deposit_percent",
)
AMOUNTS = (
    "overhead_per_hour",
    "travel_rate_per_km",
    "travel_hourly_rate",
    "minimum_charge",
)
BASES = ("overhead_basis", "profit_basis", "allowance_basis", "tax_rounding")
TAXES = tuple(f"tax_{kind}" for kind in LineKind.values)
NUMBERS = (*SHARES, *AMOUNTS, "trips", "crew")
BAD = [
    *((dict.fromkeys((*NUMBERS, *TAXES), bad)) for bad in BAD_NUMBERS if bad),
    dict.fromkeys(NUMBERS, ""),
    dict.fromkeys((*SHARES, *TAXES), "901"),
    dict.fromkeys((*SHARES, *TAXES), "12.3456"),
    dict.fromkeys(AMOUNTS, "10000000"),
    dict.fromkeys(("trips", "crew"), "0"),
    dict.fromkeys(("trips", "crew"), "51"),
    dict.fromkeys(("wood_yield_percent", "fabric_yield_percent"), "9.9"),
    dict.fromkeys(TAXES, "100.1"),
    dict.fromkeys(BASES, ""),
    dict.fromkeys(BASES, "other"),
    *({"tax_name": bad} for bad in ("", "x" * 21, *BAD_TEXTS)),
]
"""What is typed into one or more fields at once; each of them has to be refused."""


def rules():
    return PriceRules.objects.get()


def rates():
    return {rate.line_kind: rate.percent for rate in TaxRate.objects.all()}


class TestAccess:
    @pytest.mark.parametrize("method", ["get", "post"])
    def test_an_outsider_is_asked_to_sign_in(self, client, method):
        response = getattr(client, method)(URL)
        assert response.status_code == 302
        assert response["Location"].startswith(reverse("shop:sign-in"))

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_makers_and_fitters_are_kept_out(self, client_as, request, who):
        browser = client_as(request.getfixturevalue(who))
        assert browser.get(URL).status_code == 403
        assert browser.post(URL, TYPED).status_code == 403
        assert not PriceRules.objects.exists()

    @pytest.mark.parametrize("who", ["owner", "office"])
    def test_owner_and_office_come_in(self, client_as, request, who):
        browser = client_as(request.getfixturevalue(who))
        assert browser.get(URL).status_code == 200

    @pytest.mark.parametrize("method", ["put", "delete", "patch"])
    def test_other_methods_are_refused(self, owner, client_as, method):
        assert getattr(client_as(owner), method)(URL).status_code == 405

    def test_ways_lead_to_it_from_quotes_builds_and_the_shop(self, owner, client_as):
        for name in ("quotes:quotes", "quotes:builds", "shop:profile"):
            page = soup(client_as(owner).get(reverse(name)))
            assert page.find("a", href=URL), name

    def test_no_way_leads_a_maker_to_it(self, maker, client_as):
        page = soup(client_as(maker).get(reverse("quotes:builds")))
        assert not page.find("a", href=URL)


class TestStore:
    def test_everything_typed_is_stored(self, owner, client_as):
        response = client_as(owner).post(URL, TYPED, follow=True)
        assert response.redirect_chain == [(URL, 302)]
        assert "Stored." in text(soup(response).select_one("#messages"))
        found = rules()
        for name in (*SHARES, *AMOUNTS, "trips", "crew"):
            assert getattr(found, name) == D(TYPED[name]), name
        assert found.prices_include_tax is False

    def test_an_empty_rate_is_no_rate(self, owner, client_as):
        make_rules(tax="19")
        client_as(owner).post(URL, TYPED)
        assert rates() == {
            "panels": 20,
            "labour": 20,
            "material": 20,
            "other": D("8.875"),
        }

    def test_what_is_stored_is_shown_again(self, owner, client_as):
        browser = client_as(owner)
        browser.post(URL, TYPED | {"prices_include_tax": "on"})
        page = soup(browser.get(URL))
        assert shown(page, "profit_percent") == "40"
        assert shown(page, "tax_other") == "8.875"
        assert shown(page, "tax_travel") == ""
        assert shown(page, "overhead_per_hour") == "12.50"
        assert shown(page, "prices_include_tax") is True

    def test_what_is_shown_can_be_stored_again(self, owner, client_as):
        make_rules(
            tax="8.875", profit_percent=D("33.333"), travel_rate_per_km=D("0.4163")
        )
        with using(Conventions(unit_system=UnitSystem.IMPERIAL)):
            make_profile(unit_system="imperial")
            browser = client_as(owner)
            page = soup(browser.get(URL))
            again = {
                name: shown(page, name)
                for name in TYPED
                if shown(page, name) is not None
            }
            assert again["travel_rate_per_km"] == "0.67"
            browser.post(URL, again)
        assert rules().profit_percent == D("33.333")
        assert rules().travel_rate_per_km == D("0.4163")
        assert set(rates().values()) == {D("8.875")}

    def test_it_is_on_record_with_what_it_was(self, owner, client_as):
        make_rules(profit_percent=D(30))
        client_as(owner).post(URL, TYPED)
        entry = Entry.objects.get(verb="price-rules")
        assert entry.by == owner
        assert entry.detail["profit_percent"] == ["30.000", "40.000"]
        assert entry.detail["tax_travel"] == ["20.000", ""]
        assert "overhead_percent" not in entry.detail
        assert "40" not in entry.text

    def test_nothing_changed_is_not_on_record(self, owner, client_as):
        browser = client_as(owner)
        for _ in range(2):
            browser.post(URL, TYPED)
        assert Entry.objects.filter(verb="price-rules").count() == 1

    def test_a_failure_stores_nothing(self, owner, monkeypatch):
        make_rules(tax="20", profit_percent=D(30))
        monkeypatch.setattr("quotes.pricing.actions.record", None)
        changed = rules()
        changed.profit_percent = D(40)
        with pytest.raises(TypeError):
            store_rules(changed, {"panels": None}, by=owner, at=AT)
        assert rules().profit_percent == 30
        assert "panels" in rates()

    def test_drafts_follow_at_once(self, owner, client_as):
        quote = make_quote(by=owner)
        before = work_out_draft(quote).priced.totals.gross.value
        client_as(owner).post(URL, TYPED | {"minimum_charge": "5000"})
        assert before < work_out_draft(quote).priced.totals.gross.value >= 5000


class TestRefused:
    @pytest.mark.parametrize("typed", BAD)
    def test_what_makes_no_sense(self, owner, client_as, typed):
        page = refused(client_as(owner), URL, TYPED | typed, next(iter(typed)))
        for field in typed:
            assert text(page.select_one(f"#id_{field}_field .errorlist li")), field
        right = set(TYPED) - set(typed)
        assert not [x for x in right if page.select(f"#id_{x}_field .errorlist")]
        assert not PriceRules.objects.exists()
        assert not TaxRate.objects.exists()

    def test_a_margin_of_the_whole_price(self, owner, client_as):
        typed = TYPED | {"profit_basis": "margin", "profit_percent": "100"}
        refused(client_as(owner), URL, typed, "profit_percent")

    def test_a_shift_of_rest_alone(self, owner, client_as):
        typed = TYPED | {"allowance_basis": "shift", "allowance_percent": "100"}
        refused(client_as(owner), URL, typed, "allowance_percent")

    def test_the_example_waits_for_what_can_be_read(self, owner, client_as):
        response = client_as(owner).post(URL, TYPED | {"profit_percent": "much"})
        example = soup(response).select_one("#price-example")
        assert "can’t be read yet" in text(example)


class TestExample:
    """What a cost of 100 becomes, fetched while the rules are typed."""

    def example(self, browser, **typed):
        response = browser.get(URL, TYPED | typed, headers=AS_HTMX)
        page = soup(response)
        assert not page.find("html")
        assert [tag["id"] for tag in page.find_all(recursive=False)] == [
            "price-example"
        ]
        return text(page)

    def test_overhead_then_markup_then_tax(self, owner, client_as):
        # 100 + 25 % = 125; + 40 % = 175; + 20 % = 210; 50 of 175 is left
        said = self.example(client_as(owner))
        assert "Quoted at €175.00 , €210.00 with VAT" in said
        assert "€50.00 is left: 28.57 % of the price" in said

    def test_work_has_rest_and_delay_on_top(self, owner, client_as):
        # 100 + 10 % rest = 110; + 25 % = 137.50; + 40 % = 192.50
        assert "€192.50" in self.example(client_as(owner))

    def test_overhead_for_each_hour(self, owner, client_as):
        # material bears none: 140; work of 66 min: (110 + 1.1 × 12.50) × 1.4 = 173.25
        said = self.example(client_as(owner), overhead_basis="hour")
        assert "€140.00" in said
        assert "€173.25" in said

    def test_margin_is_a_share_of_the_price(self, owner, client_as):
        # 125 ÷ (1 - 0.375) = 200
        said = self.example(
            client_as(owner), profit_basis="margin", profit_percent="37.5"
        )
        assert "Quoted at €200.00" in said
        assert "37.5 % of the price" in said

    def test_prices_that_have_the_tax_in_them(self, owner, client_as):
        said = self.example(client_as(owner), prices_include_tax="on")
        assert "€175.00 , €210.00 with VAT" in said

    def test_it_opens(self, owner, client_as):
        response = client_as(owner).get(URL, TYPED, headers=AS_HTMX)
        workings = soup(response).select(".workings__sums")
        assert len(workings) > 3

    def test_trying_stores_nothing(self, owner, client_as):
        self.example(client_as(owner))
        assert not PriceRules.objects.exists()

    def test_the_same_address_is_a_whole_page(self, owner, client_as):
        page = soup(client_as(owner).get(URL, TYPED))
        assert page.find("html")
        assert shown(page, "profit_percent") == "40"

    def test_what_can_not_be_read_is_said(self, owner, client_as):
        said = self.example(client_as(owner), profit_percent="lots")
        assert "can’t be read yet" in said

    def test_other_questions_are_not_taken_for_rules(self, owner, client_as):
        page = soup(client_as(owner).get(URL, {"page": "2"}))
        assert not page.select(".errorlist")


def test_it_takes_few_queries(owner, client_as):
    make_rules()
    browser = client_as(owner)
    browser.get(URL)
    assert queries(browser, URL) <= 8


def test_the_form_has_every_rule():
    named = {field.name for field in PriceRules._meta.concrete_fields} - {"id"}
    assert named == set(PriceRulesForm.Meta.fields)
