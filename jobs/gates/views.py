"""What is waited for: the list, each gate's forms, its paper and its pictures."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from dataclasses import dataclass

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.board.actions import CannotUndoError
from jobs.board.models import Job
from jobs.gates import actions, reports
from jobs.gates.documents import sign_off_pdf
from jobs.gates.forms import KindFilter, MailForm, PassForm, ReasonForm
from jobs.gates.models import Gate, GateEntry, GateKind
from shared.access import Right, may, needs
from shared.files.actions import set_removed
from shared.files.models import Attachment
from shared.files.views import file_response, pdf_response
from shared.htmx import page_or_fragment
from shared.lists import cut, words
from shared.notices import say
from shop.people.me import me
from shop.people.reports import profile

GET_POST = ["GET", "HEAD", "POST"]


@dataclass(frozen=True, slots=True)
class Way:
    """One thing to say of a gate: its heading, its button, what is stored, who may."""

    title: str
    button: str
    said: str
    hint: str
    act: Callable[..., GateEntry]
    decides: bool = True


PAST = Way(
    "Go past it",
    "Go past it",
    "gone past. It shows wherever this would have waited.",
    "It stays on record, and shows beside whatever is bought or cut without it.",
    actions.override_gate,
)
DROP = Way(
    "Not needed",
    "It is not needed",
    "not needed.",
    "For what the quote asked for and this job does not need after all.",
    actions.drop_gate,
)
AGAIN = Way(
    "Wait for it again",
    "Wait for it again",
    "waited for again.",
    "What was written of it stays, as what to ask for.",
    actions.shut_again,
    decides=False,
)


@require_GET
def list_gates(request: HttpRequest) -> HttpResponse:
    """List what open jobs wait for, by kind: whom to ring today."""
    chosen = KindFilter(request.GET)
    gates = reports.gates_to_list(words(request), kind=chosen.wanted())
    context = {
        "listed": cut(request, gates, "q", "kind"),
        "form": chosen,
        "words": words(request),
        "is_narrowed": bool(words(request) or chosen.wanted()),
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
        "keeps_stores": may(request.user, Right.KEEP_STORES),
    }
    return page_or_fragment(
        request,
        page="jobs/gates/gates.html",
        fragment="jobs/gates/_gates.html",
        context=context,
    )


@require_POST
@needs(Right.QUOTE, Right.KEEP_STORES)
def set_up(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Set up what a job waits for, where it was opened before that was kept."""
    job = get_object_or_404(Job.objects.standing(), pk=pk)
    new = actions.set_up_gates(job, by=me(request), at=timezone.now())
    waits = reports.words_of(gate.kind for gate in new)
    say(request, f"{job.code} waits for {waits}." if new else "All of it is there.")
    return redirect(f"{job.get_absolute_url()}#waits")


def _gate(request: HttpRequest, pk: uuid.UUID, *, decides: bool) -> Gate:
    """Return a gate that this person may say something of, or 403, or 404."""
    gate: Gate = get_object_or_404(Gate.objects.with_job().with_said(), pk=pk)
    rights = reports.rights_of(me(request))
    if not (rights.decide if decides else rights.may_pass(gate)):
        raise PermissionDenied
    return gate


@require_http_methods(GET_POST)
def in_hand(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take what came: of a fabric its code, colour and lot, else which paper it is."""
    gate = _gate(request, pk, decides=False)
    posted = request.POST if request.method == "POST" else None
    form = PassForm(posted, request.FILES or None, gate=gate)
    if posted is None or not form.is_valid():
        return _form(request, gate, form, title="It is in hand", button="It is in hand")

    def act() -> GateEntry:
        return actions.pass_gate(
            gate,
            form.what(),
            seen=form.cleaned_data["seen"],
            by=me(request),
            at=timezone.now(),
            picture=form.cleaned_data.get("swatch"),
        )

    return _done(request, gate, act, said="in hand.")


def _form(
    request: HttpRequest,
    gate: Gate,
    form: PassForm | ReasonForm,
    *,
    title: str,
    button: str,
    hint: str = "",
) -> HttpResponse:
    context = {
        "gate": gate,
        "form": form,
        "title": title,
        "button": button,
        "hint": hint,
        "action": request.path,
    }
    return page_or_fragment(
        request,
        page="jobs/gates/form.html",
        fragment="jobs/gates/_form.html",
        context=context,
        status=form.status,
    )


def _done(
    request: HttpRequest, gate: Gate, act: Callable[[], GateEntry], *, said: str
) -> HttpResponse:
    """Do it and go back to the job, or say politely that somebody was first."""
    try:
        entry = act()
    except actions.GateMovedOnError as moved:
        say(request, str(moved))
    else:
        undo = reverse("jobs:gate-undo", args=(entry.pk,))
        say(request, f"{gate.title}: {said}", undo=undo)
    return redirect(gate.get_absolute_url())


def _with_reason(request: HttpRequest, pk: uuid.UUID, way: Way) -> HttpResponse:
    """Ask why, and store it."""
    gate = _gate(request, pk, decides=way.decides)
    posted = request.POST if request.method == "POST" else None
    form = ReasonForm(posted, initial={"seen": gate.state})
    if posted is None or not form.is_valid():
        return _form(
            request, gate, form, title=way.title, button=way.button, hint=way.hint
        )

    def act() -> GateEntry:
        return way.act(
            gate,
            reason=form.cleaned_data["reason"],
            seen=form.cleaned_data["seen"],
            by=me(request),
            at=timezone.now(),
        )

    return _done(request, gate, act, said=way.said)


@require_http_methods(GET_POST)
def go_past(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Let a job go past what it waits for, and why."""
    return _with_reason(request, pk, PAST)


@require_http_methods(GET_POST)
def not_needed(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say that a job does not need it, and why."""
    return _with_reason(request, pk, DROP)


@require_http_methods(GET_POST)
def wait_again(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Wait for it again, and why."""
    return _with_reason(request, pk, AGAIN)


@require_POST
def undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take back what was said of a gate last."""
    entry = get_object_or_404(GateEntry.objects.with_gate(), pk=pk)
    if not reports.rights_of(me(request)).may_undo(entry):
        raise PermissionDenied
    try:
        actions.undo_entry(entry, by=me(request), at=timezone.now())
        say(request, f"{entry.gate.title}: as it was before.")
    except CannotUndoError:
        say(request, "That can’t be taken back: something was said of it since.")
    except actions.GateMovedOnError as moved:
        say(request, str(moved))
    return redirect(entry.gate.get_absolute_url())


def _fabric(pk: uuid.UUID) -> Gate:
    gates = Gate.objects.of_kind(GateKind.FABRIC).with_job().with_said()
    found: Gate = get_object_or_404(gates, pk=pk)
    return found


@require_GET
@needs(Right.QUOTE, Right.KEEP_STORES)
def sign_off(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the paper that the client signs for a fabric with."""
    gate = _fabric(pk)
    pdf = sign_off_pdf(gate, profile=profile())
    return pdf_response(pdf, name=f"fabric-{gate.job.code}.pdf")


@needs(Right.QUOTE)
@require_http_methods(GET_POST)
def mail(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Mail the paper that the client signs for a fabric with."""
    gate, shop = _fabric(pk), profile()
    posted = request.POST if request.method == "POST" else None
    form = MailForm(posted, initial=reports.covering(gate, sender=str(me(request))))
    if posted is None or not form.is_valid():
        context = {"gate": gate, "form": form}
        return page_or_fragment(
            request,
            page="jobs/gates/mail.html",
            fragment="jobs/gates/_mail.html",
            context=context,
            status=form.status,
        )
    pdf = sign_off_pdf(gate, profile=shop)
    letter = form.letter(reply_to=shop.email)
    actions.mail_sign_off(gate, letter, pdf=pdf, by=me(request), at=timezone.now())
    say(request, f"The paper for {gate.title} is on its way to {letter.to}.")
    return redirect(gate.get_absolute_url())


def _picture(pk: uuid.UUID) -> Attachment:
    pictures = Attachment.objects.of_kinds([reports.PICTURED]).select_related("file")
    return get_object_or_404(pictures, pk=pk)


@require_GET
def photo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show the picture of a swatch."""
    return file_response(_picture(pk).file)


@require_POST
def photo_remove(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a picture out; it can be put back."""
    return _set_removed(request, pk, removed=True)


@require_POST
def photo_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a picture back."""
    return _set_removed(request, pk, removed=False)


def _set_removed(request: HttpRequest, pk: uuid.UUID, *, removed: bool) -> HttpResponse:
    picture = _picture(pk)
    gate = _gate(request, picture.record_id, decides=True)
    set_removed(picture, gate, removed=removed, by=me(request), at=timezone.now())
    undo = reverse("jobs:gate-photo-restore", args=(pk,)) if removed else ""
    said = "The picture is taken out." if removed else "The picture is back."
    say(request, said, undo=undo)
    return redirect(gate.get_absolute_url())
