"""A client is found by any part of name, phone, e-mail or address."""

import pytest

from shop.clients.models import Client
from tests.factories.clients import make_client, make_site


@pytest.fixture
def zoe(db):
    client = make_client(
        name="Zoë Müller",
        company="Café Krümel",
        phone="+44 151 496-0018",
        email="zoe.m@example.org",
        address="Weißgasse 4\nAltstadt",
    )
    make_site(client=client, address="Hafenhalle 7")
    make_client(name="Somebody Else", phone="020 7946 0000")
    return client


@pytest.mark.parametrize(
    "words",
    [
        "Zoë",
        "zoe",
        "ZOË",
        "üller",
        "muller",
        "krumel",
        "café",
        "CAFE",
        "496-0018",
        "496 0018",
        "4960018",
        "+44151",
        "0018",
        "zoe.m@",
        "example.org zoe",
        "weissgasse",
        "Weißgasse 4",
        "altstadt",
        "hafenhalle",
        "müller hafen",
    ],
)
def test_any_part_finds_the_client(zoe, words):
    assert list(Client.objects.matching(words)) == [zoe]


@pytest.mark.parametrize("words", ["nobody", "zoe else", "496-0019", "%", "_"])
def test_what_is_nowhere_finds_nobody(zoe, words):
    assert zoe not in Client.objects.matching(words)


def test_a_client_with_two_fitting_sites_is_found_once(zoe):
    make_site(client=zoe, address="Hafenhalle 8")
    assert Client.objects.matching("hafenhalle").count() == 1
