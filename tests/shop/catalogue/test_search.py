"""Suppliers and kinds of work are found by every word of what is known of them."""

import pytest
from django.urls import reverse

from shop.catalogue.models import Operation, Supplier
from tests.cast import AS_HTMX
from tests.factories import catalogue as make
from tests.pages import grows, soup, text

SUPPLIERS, OPERATIONS = reverse("shop:suppliers"), reverse("shop:operations")


@pytest.fixture
def stores(shop):
    make.make_supplier(name="Elm Yard", email="saw@example.org", phone="0151 4960")
    make.make_supplier(name="Cloth Loft")
    make.make_operation(name="Glue a joint", code="joint-glue")
    make.make_operation(name="Cut a bevel", code="bevel")


@pytest.mark.parametrize("words", ["elm", "YARD elm", "saw@", "4960", "elm 0151"])
def test_a_supplier_is_found_by_any_part(stores, words):
    assert [str(s) for s in Supplier.objects.matching(words)] == ["Elm Yard"]


@pytest.mark.parametrize("words", ["glue", "JOINT a", "joint-gl"])
def test_a_kind_of_work_is_found_by_name_or_code(stores, words):
    assert [str(o) for o in Operation.objects.matching(words)] == ["Glue a joint"]


def test_every_word_has_to_be_found(stores):
    assert not Supplier.objects.matching("elm loft")
    assert not Operation.objects.matching("glue bevel")


@pytest.mark.parametrize(
    ("url", "words", "found", "left_out"),
    [
        (SUPPLIERS, "elm", "Elm Yard", "Cloth Loft"),
        (OPERATIONS, "glue", "Glue a joint", "Cut a bevel"),
    ],
)
def test_a_list_is_searched_with_and_without_htmx(
    client_as, owner, stores, url, words, found, left_out
):
    browser = client_as(owner)
    whole = soup(browser.get(url, {"q": words}))
    assert whole.select_one("input[name=q]")["value"] == words
    part = soup(browser.get(url, {"q": words}, headers=AS_HTMX))
    assert part.select_one("h1") is None
    for page in (whole, part):
        assert found in text(page)
        assert left_out not in text(page)


@pytest.mark.parametrize("url", [SUPPLIERS, OPERATIONS])
def test_nothing_found_says_so(client_as, owner, stores, url):
    page = text(soup(client_as(owner).get(url, {"q": "zz\0top"})))
    assert "Nothing is found" in page
    assert "yet" not in page


def test_what_is_put_aside_is_found_as_such(client_as, owner, stores):
    Supplier.objects.filter(name="Elm Yard").update(archived_at="2026-01-05T09:00Z")
    page = soup(client_as(owner).get(SUPPLIERS, {"q": "elm"}))
    assert "Elm Yard" in text(page.select_one("#aside"))
    assert "Nothing is found" not in text(page)


def test_a_long_list_keeps_the_words_on_its_next_page(client_as, owner, shop):
    for number in range(51):
        make.make_supplier(name=f"Mill {number:02}")
    page = soup(client_as(owner).get(SUPPLIERS, {"q": "mill"}))
    assert page.select_one("#suppliers a[href*='q=mill&page=2']")


def test_queries_do_not_grow_with_what_is_found(client_as, owner, shop):
    browser = client_as(owner)
    assert grows(browser, f"{SUPPLIERS}?q=yard", make.make_supplier) == 0
    assert grows(browser, f"{OPERATIONS}?q=work", make.make_operation) == 0
