"""Addresses of buying, and what a page says was done."""

from django.urls import reverse

from tests.pages import soup, text


def url(name, *args):
    """Return an address by name; rows stand for their ids."""
    return reverse(f"jobs:{name}", args=[getattr(a, "pk", a) for a in args])


def said(response):
    """Return the message that a page begins with."""
    return text(soup(response).select_one("#messages"))
