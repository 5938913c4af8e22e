"""All addresses, and one page with nothing on it to measure the others against."""

from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import path

from shop.urls import urlpatterns as all_of_them

EMPTY = "{% extends 'base.html' %}{% block main %}<h1>Nothing</h1>{% endblock main %}"


def bare(request: HttpRequest) -> HttpResponse:
    """Answer with the base template alone."""
    return HttpResponse(engines["django"].from_string(EMPTY).render({}, request))


urlpatterns = [path("bare/", bare), *all_of_them]
