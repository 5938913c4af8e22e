"""The people pages: who may open them and what they change."""

import pytest
from django.urls import reverse

from shared.models import Entry
from shop.people.models import Person
from tests.cast import AS_HTMX
from tests.factories.people import PASSWORD, make_person
from tests.pages import BAD_TEXTS, grows, refused, soup, text

NEW = {
    "username": "otto",
    "first_name": "Otto",
    "last_name": "Reed",
    "role": "fitter",
    "phone": "0151 4960 18",
    "email": "otto@example.org",
    "password": "long enough for Otto",
}


def _url(name, person):
    return reverse(f"shop:{name}", args=[person.pk])


def _changed(person, **fields):
    kept = ("username", "first_name", "last_name", "role", "phone", "email")
    return {name: getattr(person, name) for name in kept} | fields


def test_the_list_shows_who_is_here_and_who_left(client_as, owner):
    make_person(username="lena", first_name="Lena", is_active=False)
    page = soup(client_as(owner).get(reverse("shop:people")))
    assert "Ada" in text(page.find(attrs={"aria-labelledby": "here"}))
    assert "Lena" in text(page.find(attrs={"aria-labelledby": "left"}))


@pytest.mark.parametrize("words", ["reed", "OTTO reed", "ott", "o@example", "4960"])
def test_somebody_is_found_by_any_part(client_as, owner, words):
    make_person(
        username="otto",
        first_name="Otto",
        last_name="Reed",
        phone="0151 4960",
        email="o@example.org",
    )
    assert [str(p) for p in Person.objects.matching(words)] == ["Otto Reed"]
    url, browser = reverse("shop:people"), client_as(owner)
    whole = soup(browser.get(url, {"q": words}))
    assert whole.select_one("input[name=q]")["value"] == words
    part = soup(browser.get(url, {"q": words}, headers=AS_HTMX))
    assert part.select_one("h1") is None
    for page in (whole, part):
        found = page.select("#people .table__whole")
        assert [text(link) for link in found] == ["Otto Reed"]


def test_somebody_who_left_is_found_as_such(client_as, owner):
    make_person(username="lena", first_name="Lena", is_active=False)
    page = soup(client_as(owner).get(reverse("shop:people"), {"q": "lena"}))
    assert "Lena" in text(page.find(attrs={"aria-labelledby": "left"}))
    assert "Nobody is found" not in text(page)


def test_nobody_found_says_so(client_as, owner):
    page = soup(client_as(owner).get(reverse("shop:people"), {"q": "ada zz"}))
    assert "Nobody is found" in text(page)


def test_queries_do_not_grow_with_people(client_as, owner):
    names = iter(range(100))

    def make():
        make_person(username=f"m{next(names)}")

    assert grows(client_as(owner), reverse("shop:people"), make) == 0


@pytest.mark.parametrize("name", ["people", "person-new", "profile"])
def test_only_the_owner_runs_the_shop(client_as, office, maker, fitter, name):
    for somebody in (office, maker, fitter):
        assert client_as(somebody).get(reverse(f"shop:{name}")).status_code == 403


def test_nobody_opens_another_persons_page(client_as, maker, fitter):
    browser = client_as(maker)
    for name in ("person", "person-change", "person-password"):
        assert browser.get(_url(name, maker)).status_code == 200
        assert browser.get(_url(name, fitter)).status_code == 403


def test_a_stale_address_is_not_found(client_as, owner, maker):
    gone = _url("person", maker)
    maker.delete()
    assert client_as(owner).get(gone).status_code == 404


def test_the_owner_takes_somebody_on(client_as, owner):
    response = client_as(owner).post(reverse("shop:person-new"), NEW, follow=True)
    otto = Person.objects.get(username="otto")
    assert otto.role == "fitter"
    assert otto.check_password("long enough for Otto")
    assert not otto.is_staff
    assert "can sign in as otto" in text(soup(response).find(id="messages"))
    assert Entry.objects.about("person", otto.pk).get().verb == "add"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("username", ""),
        ("username", "two words"),
        ("username", "ADA☕"),
        ("username", "ada"),
        ("username", "u" * 151),
        *(("first_name", bad) for bad in BAD_TEXTS),
        ("first_name", "f" * 151),
        ("role", "king"),
        ("role", ""),
        ("phone", "0" * 41),
        ("email", "not an address"),
        ("password", ""),
        ("password", "short"),
        ("password", "12345678901"),
        ("password", "otto@example.org"),
    ],
)
def test_bad_input_is_refused_beside_its_field(client_as, owner, field, value):
    typed = NEW | {field: value}
    refused(client_as(owner), reverse("shop:person-new"), typed, field)
    assert Person.objects.count() == 1


def test_an_owner_may_use_the_admin_and_a_maker_may_not(client_as, owner, maker):
    typed = _changed(maker, role="owner")
    client_as(owner).post(_url("person-change", maker), typed)
    maker.refresh_from_db()
    assert maker.is_staff
    client_as(owner).post(_url("person-change", maker), _changed(maker, role="maker"))
    maker.refresh_from_db()
    assert not maker.is_staff


def test_a_maker_changes_the_own_name_but_not_the_role(client_as, owner, maker):
    typed = _changed(maker, first_name="Wilhelmina", role="owner", username="boss")
    client_as(maker).post(_url("person-change", maker), typed)
    maker.refresh_from_db()
    assert (maker.first_name, maker.role, maker.username) == (
        "Wilhelmina",
        "maker",
        "mina",
    )


def test_the_last_owner_stays_owner(client_as, owner):
    typed = _changed(owner, role="maker")
    refused(client_as(owner), _url("person-change", owner), typed, "role")
    owner.refresh_from_db()
    assert owner.role == "owner"


def test_somebody_leaves_and_comes_back(client_as, owner, maker):
    browser = client_as(owner)
    page = soup(browser.post(_url("person-archive", maker), follow=True))
    maker.refresh_from_db()
    assert not maker.is_active
    undo = page.select_one("#messages form")
    browser.post(undo["action"])
    maker.refresh_from_db()
    assert maker.is_active


def test_nobody_shuts_themselves_out(client_as, owner):
    response = client_as(owner).post(_url("person-archive", owner))
    assert response.status_code == 422
    owner.refresh_from_db()
    assert owner.is_active


def test_leaving_takes_a_post(client_as, owner, maker):
    assert client_as(owner).get(_url("person-archive", maker)).status_code == 405


def test_a_new_password_of_ones_own_needs_the_old_one(client_as, maker):
    typed = {"old": "wrong", "password": "a new long word"}
    refused(client_as(maker), _url("person-password", maker), typed, "old")
    assert Person.objects.get(pk=maker.pk).check_password(PASSWORD)


def test_a_new_password_of_ones_own_keeps_the_session(client_as, maker):
    browser = client_as(maker)
    typed = {"old": PASSWORD, "password": "a new long word"}
    browser.post(_url("person-password", maker), typed)
    assert browser.get(_url("person", maker)).status_code == 200
    assert Person.objects.get(pk=maker.pk).check_password("a new long word")


def test_a_password_set_by_the_owner_ends_sessions(client_as, owner, maker):
    theirs = client_as(maker)
    typed = {"password": "a new long word"}
    client_as(owner).post(_url("person-password", maker), typed)
    assert theirs.get(_url("person", maker)).status_code == 302


def test_a_weak_password_is_refused(client_as, owner, maker):
    typed = {"password": "password"}
    refused(client_as(owner), _url("person-password", maker), typed, "password")


def test_a_superuser_made_by_command_runs_the_shop(db):
    made = Person.objects.create_superuser("root", password=PASSWORD)
    assert made.role == "owner"
