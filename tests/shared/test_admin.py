"""The admin shows history and changes none of it."""

import datetime as dt

import pytest
from django.apps import apps
from django.contrib import admin
from django.urls import reverse

from shared.audit.actions import record
from shared.models import AppendOnlyQuerySet, Entry

AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)


@pytest.fixture
def entry(owner):
    owner.is_staff = owner.is_superuser = True
    owner.save()
    return record(owner, verb="add", text="Taken on", by=owner, at=AT)


def test_an_owner_reads_the_log(client_as, owner, entry):
    page = client_as(owner).get(reverse("admin:shared_entry_changelist"))
    assert b"Taken on" in page.content


@pytest.mark.parametrize("verb", ["add", "delete"])
def test_nobody_writes_the_log(client_as, owner, entry, verb):
    args = [entry.pk] if verb == "delete" else []
    url = reverse(f"admin:shared_entry_{verb}", args=args)
    assert client_as(owner).post(url, {"post": "yes"}).status_code == 403
    assert Entry.objects.count() == 1


def test_a_change_of_the_log_is_refused(client_as, owner, entry):
    url = reverse("admin:shared_entry_change", args=[entry.pk])
    assert client_as(owner).post(url, {"text": "Nothing"}).status_code == 403
    assert Entry.objects.get().text == "Taken on"


def test_makers_do_not_enter_the_admin(client_as, maker):
    assert client_as(maker).get("/admin/", follow=False).status_code == 302


def test_every_ledger_in_the_admin_is_read_only(rf, owner, entry):
    request = rf.get("/")
    request.user = owner
    for model, shown in admin.site._registry.items():
        if isinstance(model._default_manager.all(), AppendOnlyQuerySet):
            assert not shown.has_add_permission(request)
            assert not shown.has_change_permission(request)
            assert not shown.has_delete_permission(request)


def test_every_ledger_can_be_looked_at_there():
    ledgers = {
        model
        for model in apps.get_models()
        if isinstance(model._default_manager.get_queryset(), AppendOnlyQuerySet)
    }
    assert ledgers
    assert ledgers <= set(admin.site._registry)
