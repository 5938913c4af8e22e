"""Every form that any page shows takes nonsense without falling over or storing it.

Each feature's own tests say what is said beside which field; here nothing is left out.
"""

import re
import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import pytest
from bs4 import BeautifulSoup, Tag
from django.apps import apps
from django.contrib.auth import get_user_model
from django.db import connection, transaction
from django.urls import resolve

from tests.crawl import OURS, PARAMETER, Visitor, patterns, unprinted
from tests.pages import NUL, TURNED

pytestmark = [pytest.mark.django_db, pytest.mark.long]

REFUSED = {422, 404, 403, 405, 409}
FOREIGN = str(uuid.uuid4())
# What fits some field somewhere: in all fields at once it must do no harm.
NONSENSE = {
    "nothing": "",
    "letters": "abc",
    "negative": "-5",
    "zero": "0",
    "absurdly large": "9" * 40,
    "an exponent": "1e400",
    "not a number": "NaN",
    "emoji": "🪚",
    "combining marks": "e\u0301\u0327" * 3,
    "a foreign id": FOREIGN,
    "a NUL": NUL,
    "a turned direction": TURNED,
    "far too long": "x" * 100_000,
}
# No length, number, amount or day reads like this.
NO_NUMBER = ("letters", "negative", "absurdly large", "an exponent", "not a number")
TAKES_NUMBER = (
    ".input--length, [inputmode=decimal], [inputmode=numeric], "
    "[type=number], [type=date]"
)
# Signs in or out, or changes one's own password: tested with the people.
ELSEWHERE = {"accounts/login/", "accounts/logout/"}


@dataclass
class Form:
    """A form as a page shows it: where it goes, and what it would send untouched."""

    action: str
    sent: dict[str, list[str]] = field(default_factory=dict)
    kinds: dict[str, str] = field(default_factory=dict)
    numbers: list[str] = field(default_factory=list)

    @property
    def words(self) -> list[str]:
        """The fields for words: numbers and choices have their own tests."""
        return [
            name
            for name, kind in self.kinds.items()
            if kind == "text" and name not in self.numbers
        ]

    def with_all(self, value: str) -> dict[str, list[str]]:
        return self.sent | {name: [value] for name in self.kinds}

    def with_one(self, name: str, value: str) -> dict[str, list[str]]:
        return self.sent | {name: [value]}


def alike(name: str) -> str:
    """Rows of one table take the same: try one of them."""
    return re.sub(r"\d+", "0", name)


def one_of_each(names: Iterable[str]) -> list[str]:
    return list({alike(name): name for name in names}.values())


def read(tag: Tag, path: str) -> Form:
    form = Form(str(tag.get("action") or path))
    for control in tag.select("input[name], select[name], textarea[name]"):
        name, kind = str(control["name"]), str(control.get("type", "text"))
        if name == "csrfmiddlewaretoken":
            continue
        form.kinds[name] = _kind(control, kind)
        if control.css.match(TAKES_NUMBER):
            form.numbers.append(name)
        if kind not in {"checkbox", "radio"} or control.has_attr("checked"):
            form.sent.setdefault(name, []).extend(_values(control))
    if not tag.select("button:not([name]):not([type=button])"):
        for button in tag.select("button[name]")[:1]:
            form.sent[str(button["name"])] = [str(button.get("value", ""))]
    return form


def _kind(control: Tag, kind: str) -> str:
    if control.name == "select":
        return "choice"
    return kind if kind in {"hidden", "checkbox", "radio", "file"} else "text"


def _values(control: Tag) -> Iterator[str]:
    if control.name == "textarea":
        yield control.get_text()
    elif control.name == "select":
        chosen = control.select("option[selected]") or control.select("option")[:1]
        yield from (str(option.get("value", option.get_text())) for option in chosen)
    else:
        yield str(control.get("value", ""))


def forms_on(answer) -> Iterator[Form]:
    page = BeautifulSoup(answer.body.decode(), "html.parser")
    for tag in page.select("form[method=post]"):
        yield read(
            tag, answer.path.split("?")[0] if "?" not in answer.path else answer.path
        )


@pytest.fixture
def ada(demo, client_as):
    person = get_user_model().objects.get(username="ada")
    return client_as(person, raise_request_exception=False)


@pytest.fixture(scope="module")
def found():
    return {}


@pytest.fixture
def forms(ada, found):
    """Each form of each kind once, by its address and fields."""
    if not found:
        with unprinted():
            answers = Visitor(ada).follow_links(most=3)
        for answer in answers:
            if answer.kind == "text/html" and b"<form" in answer.body:
                for form in forms_on(answer):
                    route = resolve(form.action.split("?")[0]).route
                    if form.kinds and route not in ELSEWHERE:
                        key = (route, *sorted({alike(n) for n in form.kinds}))
                        found.setdefault(key, form)
    return found


def rows() -> tuple[int, ...]:
    """How many rows each table has, by a single query."""
    models = [m for app in OURS for m in apps.get_app_config(app).get_models()]
    counts = (f'(SELECT COUNT(*) FROM "{m._meta.db_table}")' for m in models)
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {', '.join(counts)}")
        return tuple(cursor.fetchone())


def post(browser, form, data) -> tuple[int, bool]:
    """Send a form and take everything back; give the status, and whether rows came or went."""
    with transaction.atomic():
        before = rows()
        status = browser.post(form.action, data).status_code
        changed = status < 500 and rows() != before
        transaction.set_rollback(True)
    return status, changed


def test_forms_of_all_kinds_are_found(forms):
    routes = {route for route, *_ in forms}
    assert len(routes) > 25
    assert {"clients/new/", "bench/move/", "quotes/<uuid:pk>/send/"} <= routes
    asking = [form for form in forms.values() if form.numbers]
    assert len(asking) > 25
    assert sum(len(form.numbers) for form in asking) > 150


@pytest.mark.parametrize("kind", NONSENSE)
def test_nonsense_everywhere_does_no_harm(ada, forms, kind):
    wrong = []
    for form in forms.values():
        status, changed = post(ada, form, form.with_all(NONSENSE[kind]))
        if status >= 500 or (status in REFUSED and changed):
            wrong.append((form.action, status))
    assert wrong == []


def misses(answer, names, value) -> list[str]:
    """The fields that are not marked as wrong, or do not show what was typed."""
    page = BeautifulSoup(answer.content.decode(), "html.parser")
    marked = {
        control["name"]
        for control in page.select('[aria-invalid="true"][name]')
        if control.get("value") == value
    }
    return [name for name in names if name not in marked]


@pytest.mark.parametrize("kind", NO_NUMBER)
def test_what_is_no_number_is_refused_beside_its_field(ada, forms, kind):
    wrong, value = [], NONSENSE[kind]
    for form in (form for form in forms.values() if form.numbers):
        with transaction.atomic():
            typed = {name: [value] for name in form.numbers}
            answer = ada.post(form.action, form.sent | typed)
            transaction.set_rollback(True)
        if answer.status_code != 422:
            wrong.append((form.action, answer.status_code, form.numbers))
        elif missed := misses(answer, form.numbers, value):
            wrong.append((form.action, missed))
    assert wrong == []


def test_a_nul_is_refused_wherever_it_stands(ada, forms):
    wrong = []
    for form in forms.values():
        for name in one_of_each(form.words):
            status, changed = post(ada, form, form.with_one(name, NUL))
            if status not in REFUSED or changed:
                wrong.append((form.action, name, status))
    assert wrong == []


def test_a_choice_that_is_not_offered_is_refused(ada, forms):
    wrong = []
    for form in forms.values():
        choices = [name for name, kind in form.kinds.items() if kind == "choice"]
        for name in one_of_each(choices):
            status, changed = post(ada, form, form.with_one(name, FOREIGN))
            if status not in REFUSED or changed:
                wrong.append((form.action, name, status))
    assert wrong == []


def test_a_record_that_is_gone_is_not_found(ada):
    wrong = []
    for route in patterns():
        if "uuid:pk" in route:
            path = PARAMETER.sub(FOREIGN, route)
            status = ada.post(path, {"note": "gone"}).status_code
            if status not in {404, 405}:
                wrong.append((route, status))
    assert wrong == []
