"""Pages of parts and of a survey that is begun, with nothing on them but that."""

import uuid

from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import include, path

from shared.offline.pages import kept_on_device
from shared.offline.registry import find
from shop.surveys.models import Opening, Survey

FIELD = """
<div class="field"><label for="{id}-{name}">{label}</label>
<input id="{id}-{name}" value="{value}" data-offline-field="{name}" data-offline-lane="{lane}"
  data-offline-op="{op}" data-offline-version="0"{more}>
<output data-offline-state></output></div>
"""
PAGE = """
{% extends "base.html" %}
{% block title %}Parts{% endblock %}
{% block main %}
<div data-offline-page>BODY</div>
{% endblock %}
"""


def field(lane, name, label, value="", more=""):
    """One box."""
    kind, _, record = lane.partition(":")
    return FIELD.format(
        id=record, name=name, label=label, value=value, lane=lane, op=kind, more=more
    )


def opening(record, kind="", width=""):
    """One opening."""
    lane = f"opening:{record}"
    metric = ' data-length="metric"'
    kinds = field(lane, "kind", "Kind", kind)
    return f"<article>{field(lane, 'width_1', 'Width', width, metric)}{kinds}</article>"


def wall(record, shown=""):
    """One wall with its openings, and a button for one more."""
    lane = f"wall:{record}"
    return f"""
      {field(lane, "length", "Length", more=' data-length="metric"')}
      <div data-offline-parts="opening" data-offline-of="{lane}">{shown}</div>
      <button type="button" data-offline-add="opening" data-offline-of="{lane}"
        data-offline-value='{{"kind":"window"}}'>Window</button>
    """


OPENING = f"""
  <template data-offline-template="opening">{opening("__new__")}</template>
"""
BEGIN = f"""
  <section><h1>Begin</h1>
  <button type="button" data-offline-begin>New client</button>
  <button type="button" data-offline-begin data-offline-value='{{"room":"ROOM"}}'>Front room</button>
  <button type="button" data-offline-begin data-offline-value='{{"shape":"l","walls":6}}'>L</button>
  </section>
  <template data-offline-template="survey"><h1>Begun</h1>
  {field("client:__client__", "name", "Client")}
  {field("room:__room__", "name", "Room")}
  {field("survey:__survey__", "notes", "Notes")}
  {wall("__wall1__")}
  {"".join(f'<section id="wall-__wall{n}__">Wall {n}</section>' for n in range(2, 9))}
  </template>
  {OPENING}
"""


def page(request: HttpRequest, body: str) -> HttpResponse:
    """Answer with a page that holds some markup."""
    whole = engines["django"].from_string(PAGE.replace("BODY", body))
    return HttpResponse(whole.render({}, request))


@kept_on_device
def parts(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show the first wall of a survey."""
    first = Survey.objects.get(pk=pk).walls.all()[0]
    there = Opening.objects.filter(wall=first)
    op = find("opening")
    assert op is not None
    shown = "".join(
        opening(one.pk, one.kind, op.read(one.pk, "width_1")) for one in there
    )
    return page(request, wall(first.pk, shown) + OPENING)


@kept_on_device
def begin(request: HttpRequest) -> HttpResponse:
    """Show what a survey can be begun for."""
    room = Survey.objects.values_list("room_id", flat=True).first()
    return page(request, BEGIN.replace("ROOM", str(room)))


urlpatterns = [
    path("parts/<uuid:pk>/", parts, name="parts"),
    path("surveys/begin/", begin, name="begin"),
    path("", include("shop.urls")),
]
