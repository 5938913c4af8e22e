"""Changing a build with its rows: what is stored, what is refused, what is kept."""

import datetime as dt
import uuid

import pytest
from django.forms import CheckboxInput, Select
from django.urls import reverse

from quotes.specs.forms import BuildForms
from quotes.specs.models import BuildSpec
from quotes.specs.starter import install_starter
from shop.catalogue.models import Material
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_fabric, make_operation, make_sheet
from tests.factories.specs import (
    make_brace,
    make_spec,
    make_spec_item,
    make_spec_operation,
)
from tests.pages import BAD_TEXTS, GOOD_TEXTS, queries, shown, soup, text

AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)


@pytest.fixture
def five(shop, owner):
    install_starter(at=AT, by=owner)


@pytest.fixture
def wall(shop):
    spec = make_spec(back_fabric=make_fabric(), back_style="inside_frame")
    make_brace(spec=spec, name="Centre", edge="square", place="centre", position=1)
    for position in range(2):
        make_spec_item(spec=spec, position=position)
        make_spec_operation(spec=spec, position=position)
    return spec


@pytest.fixture
def browser(client_as, maker):
    return client_as(maker)


def url_of(spec):
    return reverse("quotes:build-change", args=(spec.pk,))


def filled(spec):
    """What an untouched form would send, without the page round it."""
    forms = BuildForms(BuildSpec.objects.with_parts().get(pk=spec.pk))
    found = {}
    for rows in forms.sets:
        found |= values(rows.management_form)
        for form in rows:
            found |= values(form)
    return found | values(forms.build)


def values(form):
    found = {}
    for field in form:
        value = field.field.widget.format_value(field.value())
        if isinstance(field.field.widget, Select):
            found[field.html_name] = value[0] if value else ""
        elif not isinstance(field.field.widget, CheckboxInput):
            found[field.html_name] = "" if value is None else str(value)
        elif field.value():
            found[field.html_name] = "on"
    return found


def controls(page):
    """Everything that a page's form would send as it stands."""
    found = {}
    for box in page.select("#build-form input[name], #build-form textarea[name]"):
        if box.get("type") != "checkbox" or box.has_attr("checked"):
            found[box["name"]] = box.get(
                "value", "on" if box.get("type") == "checkbox" else ""
            )
    for select in page.select("#build-form select[name]"):
        chosen = select.find("option", selected=True)
        found[select["name"]] = chosen["value"] if chosen else ""
    return found


def columns(spec):
    fresh = BuildSpec.objects.with_parts().get(pk=spec.pk)
    rows = [
        {k: v for k, v in vars(row).items() if not k.startswith("_")}
        for rows in (fresh.braces, fresh.items, fresh.operations)
        for row in rows.all()
    ]
    return {k: v for k, v in vars(fresh).items() if not k.startswith("_")}, rows


@pytest.mark.parametrize(
    "preset", ["wall-panel", "hung-panel", "reveal-panel", "corner-panel", "screen"]
)
def test_storing_an_untouched_form_changes_nothing(five, browser, preset):
    spec = BuildSpec.objects.get(preset=preset)
    before = columns(spec)
    response = browser.post(url_of(spec), controls(soup(browser.get(url_of(spec)))))
    assert response.status_code == 302
    assert columns(spec) == before


def test_depth_stock_and_a_brace_are_changed_and_it_says_so(wall, browser):
    thick = make_sheet()
    typed = filled(wall) | {
        "depth_ticks": "120",
        "frame_stock": str(thick.pk),
        "braces-1-strip_ticks": "90",
    }
    page = soup(browser.post(url_of(wall), typed, follow=True))
    wall.refresh_from_db()
    assert (wall.depth_ticks, wall.frame_stock) == (120 * 320, thick)
    assert wall.braces.all()[1].strip_ticks == 90 * 320
    assert f"{wall} is stored" in text(page.select_one("#messages"))


def test_htmx_is_sent_on_to_the_build(wall, browser):
    response = browser.post(url_of(wall), filled(wall), headers=AS_HTMX)
    assert response["HX-Redirect"] == wall.get_absolute_url()


def test_the_page_sends_what_the_forms_hold(wall, browser):
    sent = controls(soup(browser.get(url_of(wall))))
    assert sent.pop("csrfmiddlewaretoken")
    assert sent == filled(wall)


@pytest.mark.parametrize("rows", ["braces", "items", "operations"])
def test_one_more_row_stores_nothing_and_keeps_what_was_typed(wall, browser, rows):
    typed = filled(wall) | {
        "more": rows,
        "name": "Half typed",
        "depth_ticks": "",
    }
    count = int(typed[f"{rows}-TOTAL_FORMS"])
    response = browser.post(url_of(wall), typed, headers=AS_HTMX)
    page = soup(response)
    assert response.status_code == 200
    assert page.find(id="build-form")
    assert page.select_one(f"[name={rows}-TOTAL_FORMS]")["value"] == str(count + 1)
    assert page.select_one("[name=name]")["value"] == "Half typed"
    assert not page.select(".errorlist")
    wall.refresh_from_db()
    assert wall.name != "Half typed"


def test_a_row_more_is_filled_with_what_is_usual_and_can_be_stored(wall, browser):
    typed = filled(wall)
    page = soup(browser.post(url_of(wall), typed | {"more": "braces"}))
    assert shown(page, "braces-2-bevel_deg") == "45"
    assert shown(page, "braces-2-fraction") == "0.5"
    typed = controls(page) | {"braces-2-name": "Third", "braces-2-strip_ticks": "40"}
    assert browser.post(url_of(wall), typed).status_code == 302
    assert wall.braces.last().name == "Third"


def test_a_new_row_is_stored_after_those_that_are_there(wall, browser):
    spare = make_operation()
    typed = filled(wall)
    count = int(typed["operations-TOTAL_FORMS"])
    typed |= {
        "operations-TOTAL_FORMS": str(count + 1),
        f"operations-{count}-operation": str(spare.pk),
        f"operations-{count}-id": "",
    }
    assert browser.post(url_of(wall), typed).status_code == 302
    assert wall.operations.last().operation == spare
    assert wall.operations.count() == count + 1


def test_a_row_is_taken_out_by_its_tick(wall, browser):
    typed = filled(wall) | {"items-0-DELETE": "on"}
    gone = wall.items.first().pk
    count = wall.items.count()
    assert browser.post(url_of(wall), typed).status_code == 302
    assert wall.items.count() == count - 1
    assert not wall.items.filter(pk=gone).exists()


BAD = {
    "no name": ({"name": ""}, "name"),
    "a name of spaces": ({"name": "   "}, "name"),
    "a name too long": ({"name": "x" * 81}, "name"),
    "a depth in letters": ({"depth_ticks": "deep"}, "depth_ticks"),
    "no depth": ({"depth_ticks": ""}, "depth_ticks"),
    "a depth of nothing": ({"depth_ticks": "0"}, "depth_ticks"),
    "a depth below nothing": ({"depth_ticks": "-3"}, "depth_ticks"),
    "an absurd depth": ({"depth_ticks": "9" * 30}, "depth_ticks"),
    "an unknown kind": ({"kind": "boat"}, "kind"),
    "a stock that is not there": ({"frame_stock": str(uuid.uuid4())}, "frame_stock"),
    "a stock that is no id": ({"frame_stock": "1 or 1"}, "frame_stock"),
    "no stock": ({"frame_stock": ""}, "frame_stock"),
    "layers in letters": ({"fill_layers": "two"}, "fill_layers"),
    "no layers": ({"fill_layers": "0"}, "fill_layers"),
    "too many layers": ({"fill_layers": "7"}, "fill_layers"),
    "a back without fabric": ({"back_fabric": ""}, "back_style"),
    "a share above one": ({"cleat_wall_share": "1.5"}, "cleat_wall_share"),
    "an infinite share": ({"cleat_wall_share": "1e9"}, "cleat_wall_share"),
    "battens of no size": ({"hanging": "battens"}, "battens_strip_ticks"),
    "a brace of no width": ({"braces-1-strip_ticks": ""}, "braces-1-strip_ticks"),
    "an upright cleat": ({"braces-0-runs": "upright"}, "braces-0-edge"),
    "spread over no bay": ({"braces-1-place": "spread"}, "braces-1-max_span_ticks"),
    "nothing of something": ({"items-0-quantity": "0"}, "items-0-quantity"),
    "a foreign material": ({"items-0-material": str(uuid.uuid4())}, "items-0-material"),
    "an unknown driver": ({"items-0-driver": "moon"}, "items-0-driver"),
    "spares above all": ({"items-0-spare_percent": "101"}, "items-0-spare_percent"),
    "work not there": ({"operations-0-operation": "x\0"}, "operations-0-operation"),
} | {f"bad text {n}": ({"name": bad}, "name") for n, bad in enumerate(BAD_TEXTS)}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_refused_beside_its_field(wall, browser, case):
    changed, field = BAD[case]
    typed = filled(wall) | changed
    before = columns(wall)
    response = browser.post(url_of(wall), typed)
    page = soup(response)
    assert response.status_code == 422
    assert text(page.select_one(f"#id_{field}_field .errorlist")), field
    assert page.select_one(f'.errors a[href="#id_{field}_field"]')
    for name, value in changed.items():
        box = page.select_one(f'input[name="{name}"]')
        assert box is None or box.get("value", "") == value
    assert columns(wall) == before


@pytest.mark.parametrize("name", GOOD_TEXTS)
def test_odd_names_are_names(wall, browser, name):
    assert browser.post(url_of(wall), filled(wall) | {"name": name}).status_code == 302


def test_a_name_of_another_build_is_refused(wall, browser):
    make_spec(name="Taken")
    response = browser.post(url_of(wall), filled(wall) | {"name": "taken"})
    assert response.status_code == 422
    assert "already has this name" in text(soup(response).main)


def test_the_same_work_twice_is_refused(wall, browser):
    typed = filled(wall)
    typed["operations-1-operation"] = typed["operations-0-operation"]
    response = browser.post(url_of(wall), typed)
    assert response.status_code == 422
    assert text(soup(response).select_one(".errors li"))


def test_two_operations_may_swap_places(wall, browser):
    typed = filled(wall)
    first, second = typed["operations-0-operation"], typed["operations-1-operation"]
    typed |= {"operations-0-operation": second, "operations-1-operation": first}
    assert browser.post(url_of(wall), typed).status_code == 302
    now = [str(row.operation_id) for row in wall.operations.all()[:2]]
    assert now == [second, first]


@pytest.mark.parametrize(
    "broken",
    [
        {"braces-TOTAL_FORMS": "x"},
        {"braces-TOTAL_FORMS": "100000"},
        {"braces-0-id": str(uuid.uuid4())},
        {"braces-0-id": "nonsense"},
        {"more": "nonsense", "braces-TOTAL_FORMS": ""},
    ],
)
def test_a_form_tampered_with_stores_nothing(wall, browser, broken):
    before = columns(wall)
    response = browser.post(url_of(wall), filled(wall) | broken)
    assert response.status_code == 422
    assert columns(wall) == before


def test_a_material_put_aside_stays_on_offer_where_it_is_used(wall, browser):
    Material.objects.update(archived_at=AT)
    assert browser.post(url_of(wall), filled(wall)).status_code == 302
    page = soup(browser.get(url_of(make_spec())))
    offered = [option["value"] for option in page.select("#id_front_fabric option")]
    assert str(wall.front_fabric_id) not in offered


def test_queries_do_not_grow_with_rows(shop, browser):
    spec = make_spec()
    few = queries(browser, url_of(spec))
    for position in range(1, 12):
        make_brace(spec=spec, name=f"B{position}", place="centre", position=position)
        make_spec_item(spec=spec, position=position)
    # one for the braces' stock, one for the items' materials: asked once there are any
    assert queries(browser, url_of(spec)) - few <= 2
