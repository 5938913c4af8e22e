"""On a phone, what a thumb has to hit on builds, plans and quotes is 44 px."""

import pytest
from django.urls import reverse
from django.utils import timezone

from quotes.offers.actions import accept_quote
from quotes.specs.models import BuildSpec, PlannedPanel
from tests.browser.conftest import PHONE
from tests.browser.test_touch import TOO_SMALL
from tests.factories.offers import make_cafe, make_line, make_quote, make_sent
from tests.factories.people import make_person

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def owner():
    return make_person(username="ada", first_name="Ada", role="owner")


@pytest.fixture
def paths(owner):
    """Give the pages of a draft, of what is out and accepted, of its panels and builds."""
    draft, now = make_cafe(by=owner), timezone.now()
    out, accepted = (
        make_quote(by=owner, client=draft.client, rooms=[]) for _ in range(2)
    )
    for quote in (out, accepted):
        make_line(quote=quote, by=owner)
        make_sent(by=owner, quote=quote, at=now)
    accept_quote(accepted, note="", by=owner, at=now)
    panel, spec = PlannedPanel.objects.first(), BuildSpec.objects.first()
    of_draft = ("quote", "quote-change", "quote-rooms", "line-new", "quote-send")
    return [
        *(
            reverse(f"quotes:{n}")
            for n in ("quotes", "quote-new", "builds", "price-rules")
        ),
        *(reverse(f"quotes:{name}", args=(draft.pk,)) for name in of_draft),
        *(quote.get_absolute_url() for quote in (out, accepted)),
        reverse("quotes:plan", args=(panel.room_id,)),
        reverse("quotes:plan-change", args=(panel.pk,)),
        spec.get_absolute_url(),
        reverse("quotes:build-change", args=(spec.pk,)),
    ]


def test_nothing_is_too_small_for_a_thumb(open_browser, owner, paths):
    page = open_browser(owner, viewport=PHONE)
    small = {}
    for path in paths:
        page.goto(path)
        if found := page.evaluate(TOO_SMALL):
            small[path] = found
    assert small == {}
