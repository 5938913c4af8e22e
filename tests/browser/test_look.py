"""The pattern page in a real browser: every component, at three sizes, in both lights."""

import pytest
from django.urls import reverse

from tests.browser.conftest import SIZES, overflows


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_every_component_fits_and_nothing_complains(
    open_browser, owner, shop, size, light
):
    page = open_browser(owner, viewport=SIZES[size], color_scheme=light)
    page.goto(reverse("shared:patterns"))
    assert page.locator("h1").is_visible()
    assert not overflows(page)


def test_what_the_policy_forbids_is_noticed(open_browser, owner, shop, troubles):
    page = open_browser(owner)
    page.goto(reverse("shared:patterns"))
    page.evaluate(
        "document.body.insertAdjacentHTML('beforeend', '<p style=\"color:red\">')"
    )
    page.wait_for_function("document.querySelector('p[style]')")
    assert any("Content Security Policy" in trouble for trouble in troubles.found)
    troubles.found.clear()
