"""Two devices: different fields merge; one field, and a person chooses."""

from shared.offline.models import FieldVersion, Write
from shop.surveys.models import Room
from tests.devices import write
from tests.shared.offline.conftest import notes


def test_two_devices_write_different_fields(pad, fitter, owner, send):
    answers = [
        *send(fitter, write(pad, "one")),
        *send(owner, write(pad, "one", field="more")),
    ]
    assert [a["status"] for a in answers] == ["stored", "stored"]


def test_the_second_of_two_devices_is_shown_both_values(pad, fitter, owner, send):
    send(fitter, write(pad, "3750", was=""))
    item = write(pad, "3740", was="")
    (answer,) = send(owner, item)
    assert answer["status"] == "conflict"
    assert (answer["mine"], answer["base"]) == ("3740", 0)
    assert (answer["value"], answer["version"]) == ("3750", 1)
    assert answer["by"] == str(fitter)
    assert notes(pad) == "3750"
    kept = Write.objects.get(pk=item["key"])
    assert (kept.status, kept.answer["mine"]) == ("conflict", "3740")


def test_mine_counts_when_it_is_sent_on_top_of_theirs(pad, fitter, owner, send):
    send(fitter, write(pad, "3750", was=""))
    send(owner, write(pad, "3740", was=""))
    (answer,) = send(owner, write(pad, "3740", base=1, was="3750"))
    assert (answer["status"], answer["version"]) == ("stored", 2)
    assert notes(pad) == "3740"


def test_both_typed_the_same(pad, fitter, owner, send):
    send(fitter, write(pad, "3750", was=""))
    assert send(owner, write(pad, " 3750", was=""))[0]["status"] == "stored"


def test_a_version_alone_is_enough_to_see_it(pad, fitter, owner, send):
    send(fitter, write(pad, "one"))
    assert send(owner, write(pad, "two"))[0]["status"] == "conflict"
    assert send(owner, write(pad, "two", base=1))[0]["status"] == "stored"


def test_a_form_that_changed_it_meanwhile_counts_as_somebody(pad, fitter, send):
    send(fitter, write(pad, "one", was=""))
    Room.objects.filter(pk=pad.pk).update(notes="by a form")
    (answer,) = send(fitter, write(pad, "two", base=1, was="one"))
    assert (answer["status"], answer["value"]) == ("conflict", "by a form")
    assert (answer["version"], answer["by"]) == (2, "")
    assert notes(pad) == "by a form"


def test_who_saw_what_the_form_stored_may_write_on_top(pad, fitter, send):
    send(fitter, write(pad, "one", was=""))
    Room.objects.filter(pk=pad.pk).update(notes="by a\r\nform")
    (answer,) = send(fitter, write(pad, "two", base=1, was="by a\nform"))
    assert answer["status"] == "stored"


def test_what_follows_on_the_same_device_is_no_conflict(pad, fitter, send):
    first = write(pad, "one", was="")
    second = write(pad, "two", was="", after=first["key"])
    third = write(pad, "three", was="", after=second["key"])
    answers = send(fitter, first, second) + send(fitter, third)
    assert [(a["status"], a["version"]) for a in answers] == [
        ("stored", 1),
        ("stored", 2),
        ("stored", 3),
    ]


def test_what_follows_comes_after_another_device_is_one(pad, fitter, owner, send):
    first = write(pad, "one", was="")
    second = write(pad, "two", was="", after=first["key"])
    send(fitter, first)
    send(owner, write(pad, "theirs", base=1, was="one"))
    assert send(fitter, second)[0]["status"] == "conflict"
    assert notes(pad) == "theirs"


def test_what_follows_a_conflict_is_one_too(pad, fitter, owner, send):
    send(owner, write(pad, "theirs"))
    first = write(pad, "one", was="")
    second = write(pad, "two", was="", after=first["key"])
    statuses = [a["status"] for a in send(fitter, first, second)]
    assert statuses == ["conflict", "conflict"]


def test_what_follows_a_refusal_is_judged_by_what_was_seen(pad, fitter, send):
    first = write(pad, "refuse", was="")
    second = write(pad, "fine", was="", after=first["key"])
    statuses = [a["status"] for a in send(fitter, first, second)]
    assert statuses == ["refused", "stored"]


def test_what_overtook_its_forerunner_waits_for_it(pad, fitter, send):
    first = write(pad, "one", was="")
    second = write(pad, "two", was="", after=first["key"])
    assert send(fitter, second)[0]["status"] == "retry"
    assert [a["status"] for a in send(fitter, first, second)] == ["stored", "stored"]
    assert FieldVersion.objects.get().version == 2
