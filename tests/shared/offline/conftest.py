"""A pad that takes writes."""

import pytest

from shared.access import Right
from shared.offline import Forbidden, Op, Refused, register, registry
from shop.surveys.models import Room
from tests.factories.surveys import make_room


@pytest.fixture
def pad(db, monkeypatch):
    """A record with one text, and an op whose handler does as the text says."""
    monkeypatch.setattr(registry, "_ops", dict(registry._ops))

    def store(by, pk, field, value, at):
        Room.objects.filter(pk=pk).update(notes=value)
        if value == "refuse":
            raise Refused("Not this.")
        if value == "forbid":
            raise Forbidden
        if value == "break":
            raise RuntimeError(value)

    def read(pk, field):
        return Room.objects.get(pk=pk).notes

    register(Op("pad", "pad", frozenset({"notes", "more"}), Right.SURVEY, store, read))
    return make_room()


def notes(record):
    """What is stored."""
    return Room.objects.get(pk=record.pk).notes
