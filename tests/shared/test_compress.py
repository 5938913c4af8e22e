"""What goes over the wire is small."""

import gzip
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.http import FileResponse, HttpResponse, StreamingHttpResponse
from django.test import RequestFactory
from django.urls import reverse

from shared.compress import CompressMiddleware

TEXT = "fabric and felt " * 100


def asked(response, **headers):
    request = RequestFactory().get("/", headers={"Accept-Encoding": "gzip"} | headers)
    return CompressMiddleware(lambda _: response)(request)


@pytest.mark.django_db
def test_a_page_comes_compressed_and_whole(client):
    plain = client.get(reverse("shop:sign-in"))
    small = client.get(reverse("shop:sign-in"), headers={"Accept-Encoding": "gzip"})
    assert small.headers["Content-Encoding"] == "gzip"
    assert len(small.content) < len(plain.content) / 2
    whole = gzip.decompress(small.content)
    assert whole.lower().startswith(b"<!doctype html>")


@pytest.mark.parametrize("kind", ["text/css", "application/json", "image/svg+xml"])
def test_text_is_compressed(kind):
    response = asked(HttpResponse(TEXT, content_type=kind))
    assert gzip.decompress(response.content).decode() == TEXT


@pytest.mark.parametrize("kind", ["font/woff2", "image/jpeg", "application/pdf"])
def test_what_is_small_already_stays_as_it_is(kind):
    response = asked(HttpResponse(TEXT, content_type=kind))
    assert not response.has_header("Content-Encoding")


def test_a_part_by_its_range_stays_as_it_is():
    part = asked(HttpResponse(TEXT, content_type="text/css", status=206))
    assert not part.has_header("Content-Encoding")


def test_who_does_not_ask_for_it_gets_it_plain():
    response = asked(
        HttpResponse(TEXT, content_type="text/css"), **{"Accept-Encoding": ""}
    )
    assert response.content.decode() == TEXT


def test_a_file_keeps_its_date_to_be_asked_by():
    response = StreamingHttpResponse([TEXT.encode()], content_type="text/css")
    response["Last-Modified"], response["ETag"] = "Wed, 25 Nov 2026 09:00:00 GMT", '"a"'
    small = asked(response)
    assert gzip.decompress(b"".join(small.streaming_content)).decode() == TEXT
    assert small["Last-Modified"]
    assert not small.has_header("ETag")


def test_a_typeface_is_sent_with_its_length():
    found = finders.find("shared/fonts/besley-600.woff2")
    with Path(found).open("rb") as file:
        response = asked(FileResponse(file, content_type="font/woff2"))
        assert response.has_header("Content-Length")
