"""Makers and fitters see no cost, price or margin: on no page, paper or derivation.

The demo holds figures that stand nowhere else. The owner must meet them, or the search
itself would be broken.
"""

import re
from decimal import Decimal

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse

from jobs.demo import stores
from quotes.offers.models import QuoteRevision
from shared.money import show_money
from shop.people.models import ShopProfile
from tests.crawl import Visitor

pytestmark = [pytest.mark.django_db, pytest.mark.same_anywhere, pytest.mark.long]

SENTINELS = (
    stores.PLYWOOD_PACK_PRICE,
    stores.HOURLY_RATE,
    stores.MARGIN_PERCENT,
    stores.OVERHEAD_PERCENT,
)
CURRENCY = re.compile(r"£|€|\$\d|&pound;|&euro;|\bGBP\b|\bEUR\b")
SEES_NO_MONEY = ("mina", "finn")


def figures_in(words: str) -> set[str]:
    """Return every number in a text, without the marks that group its digits."""
    plain = re.sub(r"(?<=\d)[,\u00a0\u202f' ](?=\d{3}\b)", "", words)
    return {
        number.rstrip("0").rstrip(".") if "." in number else number
        for number in re.findall(r"(?<![\w.-])\d+(?:\.\d+)?(?![\w-])", plain)
    }


def as_found(amount: Decimal) -> str:
    return f"{amount.normalize():f}"


@pytest.fixture(scope="module")
def walked():
    """What each person met so far, so that nobody walks twice."""
    return {}


@pytest.fixture
def visitor(demo, client_as):
    def visiting(username):
        person = get_user_model().objects.get(username=username)
        return Visitor(client_as(person, raise_request_exception=False))

    return visiting


@pytest.fixture
def met_by(visitor, walked):
    """Return a function that gives every page and paper that a person can reach."""

    def walking(username):
        if username not in walked:
            # the owner's links lead everywhere; the others' to fewer of the same pages,
            # and those who see no money try every address besides
            most = 1000 if username == "ada" else 8
            walked[username] = visitor(username).follow_links(most=most)
        return walked[username]

    return walking


def amounts(part) -> set[Decimal]:
    """Return every amount of money of a frozen price or cost, at any depth."""
    if isinstance(part, dict):
        return set().union(*map(amounts, part.values()))
    if isinstance(part, list):
        return set().union(*map(amounts, part))
    written = isinstance(part, str) and re.fullmatch(r"-?\d+\.\d+", part)
    return {Decimal(part)} if written else set()


def written_amounts() -> set[str]:
    """Return every amount of the quotes as a page would write it."""
    currency = ShopProfile.objects.get().currency
    frozen = QuoteRevision.objects.all()
    found = set().union(*(amounts(r.snapshot["price"]) for r in frozen))
    found |= set().union(*(amounts(r.snapshot["costs"]) for r in frozen))
    large = {amount for amount in found if amount >= 100}
    assert len(large) > 20
    return {
        show_money(amount, currency=currency, locale="en_GB").strip("£")
        for amount in large
    }


@pytest.mark.parametrize("username", SEES_NO_MONEY)
def test_no_money_is_shown_to_those_who_make_and_fit(met_by, visitor, username):
    answers = met_by(username) + visitor(username).try_addresses()
    assert {a.path for a in answers if a.status >= 500} == set()
    # The pattern page shows every component with samples: nobody's figures.
    samples = reverse("shared:patterns")
    seen = [a for a in answers if a.status == 200 and a.path != samples]
    assert len({answer.path for answer in seen}) > 20
    forbidden, sentinels = written_amounts(), {as_found(s) for s in SENTINELS}
    leaks = {
        (answer.path, found)
        for answer in seen
        for found in (
            set(CURRENCY.findall(answer.words))
            | (figures_in(answer.words) & sentinels)
            | {amount for amount in forbidden if amount in answer.words}
        )
    }
    assert leaks == set()


def test_the_owner_meets_every_figure_that_is_searched_for(met_by):
    pages = [a for a in met_by("ada") if a.kind == "text/html" and a.status == 200]
    met = set().union(*(figures_in(page.words) for page in pages))
    assert {as_found(s) for s in SENTINELS} <= met
    words = "".join(page.words for page in pages)
    assert CURRENCY.search(words)
    assert any(amount in words for amount in written_amounts())


def test_the_client_meets_prices_and_no_cost(met_by):
    papers = [
        a for a in met_by("ada") if a.kind == "application/pdf" and "quote" in a.path
    ]
    assert papers
    sentinels = {as_found(s) for s in SENTINELS}
    for paper in papers:
        assert "£" in paper.words
        assert figures_in(paper.words) & sentinels == set()


@pytest.mark.parametrize("username", ["ada", "olek", *SEES_NO_MONEY])
def test_every_link_that_is_shown_leads_somewhere(met_by, username):
    broken = {(a.path, a.status) for a in met_by(username) if a.status != 200}
    assert broken == set()


@pytest.mark.parametrize("username", [*SEES_NO_MONEY, "olek"])
def test_only_the_owner_enters_the_admin(visitor, username):
    answer = visitor(username).ask(reverse("admin:index"))
    assert answer.status == 302
    assert visitor("ada").ask(reverse("admin:index")).status == 200


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("<td>£4,321.09</td>", "4321.09"),
        ("4 joints × 4.5 min × 47.13 an hour", "47.13"),
        ("margin 31.700 %", "31.7"),
        ("a pack at 4\u202f321.09", "4321.09"),
    ],
)
def test_a_figure_is_found_however_it_is_written(words, found):
    assert found in figures_in(words)
