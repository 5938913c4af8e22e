"""Set up what a job waits for; say that it came, go past it, take it back."""

from __future__ import annotations

import datetime as dt
from dataclasses import astuple, dataclass, fields, replace
from functools import partial
from typing import Any, TypeVar

from django.db import transaction
from django.db.models import Model

from jobs.board.actions import CannotUndoError
from jobs.board.models import Job
from jobs.gates.adapter import Place, placed, wanted_of
from jobs.gates.engine import Wanted
from jobs.gates.models import Gate, GateEntry, GateState
from quotes.offers.models import QuoteRevision
from shared.audit.actions import record
from shared.files.actions import attach, keep_written, write_bytes
from shared.files.pictures import Picture, keep_picture
from shared.outbox.actions import Letter, post
from shared.outbox.models import Message
from shared.outbox.tasks import send_message
from shop.people.models import Person

M = TypeVar("M", bound=Model)


class GateMovedOnError(Exception):
    """The gate is no longer as the person saw it; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was signed for or seen: of a fabric its code, colour and dye lot."""

    code: str = ""
    colour: str = ""
    dye_lot: str = ""
    reference: str = ""


SEEN = tuple(field.name for field in fields(Seen))
STANDS = ("state", *SEEN, "since", "by")
"""The columns that say how a gate stands."""


def set_up_on_yes(
    revision: QuoteRevision, by: Person | None, at: dt.datetime
) -> tuple[Gate, ...]:
    """Set up what the job of a yes waits for, once it is open.

    Called inside the accepting transaction, after `open_job`.
    """
    job = Job.objects.of_revision(revision).standing().get()
    return set_up_gates(job, by=by, at=at)


@transaction.atomic
def set_up_gates(job: Job, *, by: Person | None, at: dt.datetime) -> tuple[Gate, ...]:
    """Make the gates that a job's agreed snapshot asks for and that are not there yet.

    Gives the new ones; none when it is done again, or when the job asks for nothing.
    Raises `UnknownSnapshotError` for a snapshot that this version does not know.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    there = set(Gate.objects.of_job(job).values_list("kind", "material"))
    asked = placed(wanted_of(job.revision.snapshot))
    new = [
        _new(job, place, asked[place], at=at) for place in asked if place not in there
    ]
    if new:
        Gate.objects.bulk_create(new)
        names = ", ".join(dict.fromkeys(gate.get_kind_display() for gate in new))
        record(job, verb="gated", text=f"{job.code} waits for: {names}.", by=by, at=at)
    return tuple(new)


def _new(job: Job, place: Place, asked: Wanted, *, at: dt.datetime) -> Gate:
    kind, material = place
    return Gate(
        created_at=at,
        job=job,
        kind=kind,
        material_id=material,
        code=asked.code[:60],
        colour=asked.colour[:60],
    )


@transaction.atomic
def pass_gate(
    gate: Gate,
    what: Seen,
    *,
    seen: str,
    by: Person,
    at: dt.datetime,
    picture: Picture | None = None,
) -> GateEntry:
    """Write down that it is in hand, and what was seen; of a fabric, what was signed for.

    Passing it again corrects what was written. A picture lies in storage already.

    Raises
    ------
    GateMovedOnError
        When it no longer stands as it was seen, or its job's yes was taken back.
    ValidationError
        When a fabric lacks its code or colour.
    """
    locked = _lock(gate, seen=seen)
    before = _stands(locked)
    for name, value in zip(SEEN, astuple(what), strict=True):
        setattr(locked, name, value)
    entry = _go(locked, before, GateState.PASSED, note="", by=by, at=at)
    if picture is not None:
        attach(locked, keep_picture(picture, name="swatch.jpg").pk, by=by, at=at)
    return entry


@transaction.atomic
def override_gate(
    gate: Gate, *, reason: str, seen: str, by: Person, at: dt.datetime
) -> GateEntry:
    """Go past a gate that is shut, on somebody's word: the reason stays on record.

    Raises `ValidationError` without a reason, `GateMovedOnError` as `pass_gate` does.
    """
    locked = _lock(gate, seen=seen)
    before = _stands(locked)
    return _go(locked, before, GateState.OVERRIDDEN, note=reason, by=by, at=at)


@transaction.atomic
def drop_gate(
    gate: Gate, *, reason: str, seen: str, by: Person, at: dt.datetime
) -> GateEntry:
    """Say that a job does not need this, and why."""
    locked = _lock(gate, seen=seen)
    before = _stands(locked)
    return _go(locked, before, GateState.DROPPED, note=reason, by=by, at=at)


@transaction.atomic
def shut_again(
    gate: Gate, *, reason: str, seen: str, by: Person, at: dt.datetime
) -> GateEntry:
    """Wait for it again: what was written of it stays as what to ask for."""
    locked = _lock(gate, seen=seen)
    before = _stands(locked)
    return _go(locked, before, GateState.SHUT, note=reason, by=by, at=at)


@transaction.atomic
def undo_entry(entry: GateEntry, *, by: Person, at: dt.datetime) -> GateEntry:
    """Put a gate back exactly as it stood before its last entry.

    Raises
    ------
    CannotUndoError
        When something was said of the gate since.
    """
    locked = _locked(entry.gate)
    newest = locked.entries.first()
    if newest is None or newest.pk != entry.pk:
        raise CannotUndoError
    before = _stands(locked)
    kept = newest.kept
    for name in SEEN:
        setattr(locked, name, kept[name])
    locked.since = dt.datetime.fromisoformat(kept["since"]) if kept["since"] else None
    locked.by_id = kept["by"]
    locked.state = newest.was
    return _write(
        locked, before, note=kept["note"], by=by, at=at, undoes=str(newest.pk)
    )


def _lock(gate: Gate, *, seen: str) -> Gate:
    """Hold the job, then the gate, which stands as it was seen."""
    locked = _locked(gate)
    if locked.state != seen:
        raise GateMovedOnError(
            f"{locked.title}: {locked.get_state_display()} by now. Look again."
        )
    return locked


def _locked(gate: Gate) -> Gate:
    """Hold the job first, as opening it and taking its yes back do."""
    job = Job.objects.select_for_update().get(pk=gate.job_id)
    if job.is_taken_back:
        raise GateMovedOnError(f"{job.code} was taken back: it waits for nothing.")
    locked: Gate = (
        Gate.objects.select_for_update(of=("self",)).with_job().get(pk=gate.pk)
    )
    return locked


def _stands(gate: Gate) -> dict[str, Any]:
    """Write down how a gate stands, with the words that were said of it last."""
    newest = gate.entries.first()
    kept = {name: getattr(gate, name) for name in SEEN}
    return kept | {
        "state": gate.state,
        "since": gate.since.isoformat() if gate.since else "",
        "by": str(gate.by_id) if gate.by_id else None,
        "note": newest.note if newest else "",
    }


def _go(
    gate: Gate,
    before: dict[str, Any],
    to: GateState,
    *,
    note: str,
    by: Person,
    at: dt.datetime,
) -> GateEntry:
    if gate.state == to != GateState.PASSED:
        raise GateMovedOnError(f"{gate.title}: {gate.get_state_display()} already.")
    gate.state = to
    is_open = to != GateState.SHUT
    gate.since, gate.by = (at, by) if is_open else (None, None)
    return _write(gate, before, note=note, by=by, at=at)


def _write(
    gate: Gate,
    before: dict[str, Any],
    *,
    note: str,
    by: Person,
    at: dt.datetime,
    undoes: str = "",
) -> GateEntry:
    """Store how the gate stands now, its entry and the log's line."""
    was = before.pop("state")
    kept = before | {"undoes": undoes}
    entry = GateEntry(
        gate=gate, was=was, now=gate.state, kept=kept, note=note, at=at, by=by
    )
    _checked(gate).save(update_fields=STANDS)
    _checked(entry).save(force_insert=True)
    _log(entry, undone=bool(undoes))
    return entry


def _log(entry: GateEntry, *, undone: bool) -> None:
    """Add a line to the job's log."""
    gate = entry.gate
    words = f"{gate.title}: {gate.get_state_display()}"
    if undone:
        words += " again, taken back"
    text = f"{words}. {entry.note}" if entry.note and not undone else f"{words}."
    record(gate.job, verb="gate", text=text, by=entry.by, at=entry.at)


def _checked(row: M) -> M:
    row.full_clean(validate_unique=False)
    return row


def mail_sign_off(
    gate: Gate, letter: Letter, *, pdf: bytes, by: Person, at: dt.datetime
) -> Message:
    """Put a fabric's paper, printed already, into the outbox for the client to sign."""
    path, digest = write_bytes(pdf)
    with transaction.atomic():
        file = keep_written(
            path,
            digest=digest,
            size=len(pdf),
            name=f"fabric-{gate.job.code}.pdf",
            content_type="application/pdf",
        )
        mail = replace(letter, attachment=file)
        message = post(mail, about=gate.job, by=by, at=at)
        text = f"Paper to sign mailed: {gate.title}."
        record(gate.job, verb="mailed", text=text, by=by, at=at)
        transaction.on_commit(partial(send_message.enqueue, str(message.pk)))
    return message
