"""Logs say which request and where in the code, and nothing about anybody."""

import io
import logging
import re

import pytest
from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path

from shared.logs import LineFormatter, NoPathsFilter, RequestIdFilter

SECRET = "ada@example.org"


@login_not_required
def _fine(request, token):
    return HttpResponse("fine")


@login_not_required
def _broken(request, token):
    try:
        raise ValueError(SECRET)
    except ValueError as error:
        raise RuntimeError(f"{SECRET} again") from error


urlpatterns = [
    path("open/<token>/", _fine),
    path("broken/<token>/", _broken),
    path("", include("shared.urls")),  # what every page leads to
]


@pytest.fixture
def log():
    """Return what is written, through the filters and the formatter that we ship."""
    stream = io.StringIO()
    handler = logging.StreamHandler(stream)
    handler.setFormatter(LineFormatter())
    handler.addFilter(RequestIdFilter())
    handler.addFilter(NoPathsFilter())
    loggers = [logging.getLogger(name) for name in ("cleatbook", "django.request")]
    before = [logger.level for logger in loggers]
    for logger in loggers:
        logger.addHandler(handler)
        logger.setLevel(logging.INFO)
    yield stream
    for logger, level in zip(loggers, before, strict=True):
        logger.removeHandler(handler)
        logger.setLevel(level)


@pytest.fixture
def visitor(settings, db):
    settings.ROOT_URLCONF = __name__
    return Client(raise_request_exception=False)


def test_a_request_leaves_one_line_with_its_id_and_its_pattern(visitor, log):
    response = visitor.get(f"/open/{SECRET}/?q={SECRET}")
    request_id = response["X-Request-ID"]
    pattern = (
        rf"\S+Z INFO {request_id} cleatbook\.request: GET /open/<token>/ 200 \d+ ms"
    )
    assert re.fullmatch(pattern, log.getvalue().strip())


def test_each_request_has_an_id_of_its_own(visitor):
    assert (
        visitor.get("/open/a/")["X-Request-ID"]
        != visitor.get("/open/a/")["X-Request-ID"]
    )


def test_a_missing_page_is_logged_without_its_address(visitor, log):
    visitor.get(f"/nothing/{SECRET}/")
    assert "(no route) 404" in log.getvalue()
    assert "django.request: Not Found: (no route)" in log.getvalue()
    assert SECRET not in log.getvalue()


def test_an_error_is_logged_by_kind_and_place_but_without_its_words(visitor, log):
    assert visitor.get(f"/broken/{SECRET}/?q={SECRET}").status_code == 500
    written = log.getvalue()
    assert "Internal Server Error: /broken/<token>/" in written
    assert "builtins.RuntimeError" in written
    assert "builtins.ValueError" in written
    assert "in _broken" in written
    assert SECRET not in written


def test_outside_a_request_there_is_no_id(log):
    logging.getLogger("cleatbook.worker").info("started")
    assert " INFO - cleatbook.worker: started" in log.getvalue()
