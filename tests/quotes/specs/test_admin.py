from django.utils import timezone

from tests.factories.specs import make_planned
from tests.factories.surveys import make_room
from tests.pages import soup, text

LIST = "/admin/quotes/plannedpanel/"


def test_panels_taken_out_can_be_seen_and_nothing_be_changed(shop, owner, client_as):
    owner.is_staff = owner.is_superuser = True
    owner.save()
    browser = client_as(owner)
    panel = make_planned(room=make_room(), dropped_at=timezone.now())
    listed = soup(browser.get(f"{LIST}?dropped_at__isempty=0"))
    assert str(panel) in text(listed.select_one("#result_list"))
    assert browser.get(f"{LIST}add/").status_code == 403
    assert browser.post(f"{LIST}{panel.pk}/change/", {}).status_code == 403
    assert browser.post(f"{LIST}{panel.pk}/delete/", {"post": "yes"}).status_code == 403


def test_a_maker_has_no_admin(shop, maker, client_as):
    assert client_as(maker).get(LIST).status_code == 302
