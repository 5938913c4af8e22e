import datetime as dt
import re
from collections import Counter

import pytest
from django.apps import apps
from django.core.management import CommandError, call_command
from django.db import models, transaction
from django.urls import reverse

from jobs.demo.loading import load
from jobs.demo.people import PARTS
from shared.access import Role
from shop.people.models import Person, ShopProfile
from shop.surveys.models import Room

AT = dt.datetime(2026, 5, 6, 8, 30, tzinfo=dt.UTC)
ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
NOT_CONTENT = {"id", "created_at", "password", "sha256", "content", "size"}


def content() -> Counter[str]:
    """Every row of ours without ids, hashes and what is drawn from them, as text."""
    ours = (m for app in ("shared", "shop", "quotes", "jobs") for m in _models(app))
    return Counter(
        f"{model._meta.label}: "
        + ID.sub(
            "", "; ".join(f"{f.name}={getattr(row, f.attname)}" for f in _told(model))
        )
        for model in ours
        for row in model._default_manager.all()
    )


def _models(app):
    return apps.get_app_config(app).get_models()


def _told(model):
    return [
        field
        for field in model._meta.concrete_fields
        if field.name not in NOT_CONTENT
        and not field.is_relation
        and not isinstance(field, models.UUIDField | models.JSONField)
        and not field.name.endswith(("sha256", "_id"))
    ]


@pytest.mark.django_db
class TestLoading:
    def test_it_is_the_same_each_time_for_the_same_moment(self):
        found = []
        for _ in range(2):
            with transaction.atomic():
                load(AT)
                found.append(content())
                transaction.set_rollback(True)
        assert found[0] == found[1]
        assert len(found[0]) > 100

    def test_it_says_how_to_sign_in_as_each_role(self, capsys, client):
        call_command("load_demo")
        said = capsys.readouterr().out
        assert {part.role for part in PARTS} == set(Role)
        for part in PARTS:
            (line,) = [row for row in said.splitlines() if f" {part.username} " in row]
            assert part.password in line
            assert part.role in line
            typed = {"username": part.username, "password": part.password}
            assert client.post(reverse("shop:sign-in"), typed).status_code == 302

    def test_it_loads_once(self, shop, capsys):
        with pytest.raises(CommandError, match="There is a shop already"):
            call_command("load_demo")
        assert Room.objects.count() == 0

    def test_it_does_not_load_beside_people(self, owner):
        with pytest.raises(CommandError):
            call_command("load_demo")
        assert not ShopProfile.objects.exists()

    def test_it_leaves_a_real_shop_alone_and_says_nothing(self, shop, capsys):
        call_command("load_demo", "--if-new")
        assert capsys.readouterr().out == ""
        assert Room.objects.count() == 0

    def test_it_says_again_how_to_sign_in(self, shop, capsys):
        ShopProfile.objects.update(invented=True)
        call_command("load_demo", "--if-new")
        assert PARTS[0].password in capsys.readouterr().out
        assert Room.objects.count() == 0

    def test_production_refuses_passwords_that_everybody_knows(self, settings):
        settings.PRODUCTION = True
        with pytest.raises(CommandError, match="not for production"):
            call_command("load_demo")
        assert not Person.objects.exists()

    def test_half_a_demo_is_none(self, monkeypatch):
        def fails(*args):
            raise RuntimeError

        monkeypatch.setattr("jobs.demo.clients.enquiry_only", fails)
        with pytest.raises(RuntimeError):
            load(AT)
        assert not ShopProfile.objects.exists()
        assert not Person.objects.exists()
