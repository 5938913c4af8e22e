"""Words, pages and days as list pages and forms read them."""

import datetime as dt

import pytest
from django.core.exceptions import ValidationError
from django.test import RequestFactory

from shared.days import DayFormField
from shared.lists import cut, words
from shop.catalogue.models import Supplier
from tests.factories.catalogue import make_supplier


def _asked(**query):
    return RequestFactory().get("/", query)


def test_words_are_tidied_for_the_database():
    assert words(_asked(q="  café\0  Weir\u202e Lane ")) == "café Weir Lane"


def test_only_so_many_words_are_searched_for():
    assert len(words(_asked(q="a " * 100)).split()) == 8


@pytest.mark.django_db
def test_a_list_is_cut_by_fifty_and_keeps_its_query():
    for _ in range(51):
        make_supplier()
    listed = cut(_asked(q="yard & more", page="2"), Supplier.objects.all(), "q")
    assert len(listed.page) == 1
    assert listed.total == 51
    assert listed.kept == "q=yard+%26+more&"


@pytest.mark.django_db
@pytest.mark.parametrize("page", ["0", "99", "x", "-1", "1e9", ""])
def test_a_page_that_is_not_there_is_the_nearest_one(page):
    make_supplier()
    assert len(cut(_asked(page=page), Supplier.objects.all()).page) == 1


@pytest.mark.parametrize("text", ["2026-03-14", "14.3.2026"])
def test_a_day_is_read_as_people_write_it(text):
    assert DayFormField().clean(text) == dt.date(2026, 3, 14)


@pytest.mark.parametrize(
    "text", ["", "soon", "03/04/2026", "0026-03-14", "9999-01-01", "2026-02-30"]
)
def test_a_day_that_cannot_be_is_refused(text):
    with pytest.raises(ValidationError):
        DayFormField().clean(text)
