"""Place an order: look at the paper, send it, see to its mail."""

from __future__ import annotations

import datetime as dt
import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.actions.placing import expect_on, place_order, send_paper
from jobs.buying.documents import order_pdf
from jobs.buying.forms import ExpectForm, MailForm, PlaceForm
from jobs.buying.models import Order
from jobs.buying.reports.orders import cover_words, paper_of, seal_of
from jobs.buying.views.common import GET_POST, done_with, get_order
from jobs.buying.views.orders import show
from shared.access import Right, needs
from shared.conventions import today
from shared.dates import show_day
from shared.files.views import file_response, pdf_response
from shared.notices import say
from shared.outbox.actions import send_again
from shared.outbox.models import Message
from shop.people.me import me
from shop.people.reports import profile


def _expected(order: Order) -> dt.date:
    """Propose when it comes: today, and the supplier's days."""
    return today(timezone.now()) + dt.timedelta(days=order.supplier.lead_days)


def _seal(order: Order) -> str:
    return seal_of(paper_of(order, wanted_on=None, shop=profile()))


@require_http_methods(GET_POST)
@needs(Right.KEEP_STORES)
def place(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show the covering mail and the paper; place the order on POST."""
    order = get_order(pk)
    if not order.is_draft:
        say(request, f"{order.number} is {order.get_state_display()} already.")
        return redirect(order)
    now = today(timezone.now())
    if request.method == "POST":
        return _place(request, order, PlaceForm(request.POST, today=now))
    initial = cover_words(order, profile(), by=str(me(request))) | {
        "how": "mail" if order.supplier.email else "other",
        "expected_on": _expected(order),
        "seal": _seal(order),
    }
    return _show(request, order, PlaceForm(initial=initial, today=now))


def _place(request: HttpRequest, order: Order, form: PlaceForm) -> HttpResponse:
    if not form.is_valid():
        return _show(request, order, form, status=form.status)
    data = form.cleaned_data
    try:
        place_order(
            order,
            form.cover(),
            expected_on=data["expected_on"],
            seen=data["seal"],
            by=me(request),
            at=timezone.now(),
        )
    except CannotOrderError as refused:
        if not get_order(order.pk).is_draft:
            say(request, refused.message)
            return redirect(order)
        form.add_error(None, refused.message)
        # what is shown now is what the next try is about
        form.data = request.POST.dict() | {"seal": _seal(order)}
        return _show(request, order, form, status=422)
    sent = "is in the outbox and goes out now" if form.goes_by_mail() else "is placed"
    when = show_day(data["expected_on"], "no_year")
    say(request, f"{order.number} {sent}. Expected on {when}.")
    return redirect(order)


def _show(
    request: HttpRequest, order: Order, form: MailForm, status: int = 200
) -> HttpResponse:
    context = {
        "order": order,
        "form": form,
        "paper": paper_of(order, wanted_on=None, shop=profile()),
    }
    return render(request, "jobs/buying/place.html", context, status=status)


@require_GET
@needs(Right.KEEP_STORES)
def preview(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print a draft as it would go out now; nothing is stored."""
    order = get_order(pk)
    if not order.is_draft:
        raise Http404("it is no draft any more")
    shop = profile()
    paper = paper_of(order, wanted_on=_expected(order), shop=shop)
    pdf = order_pdf(paper, shop=shop, on=timezone.now())
    return pdf_response(pdf, name=f"{order.number} draft.pdf")


@require_GET
@needs(Right.KEEP_STORES)
def paper(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Give the paper exactly as it went out."""
    order = get_order(pk)
    if order.pdf is None:
        raise Http404("it was not placed yet")
    return file_response(order.pdf)


@require_http_methods(GET_POST)
@needs(Right.KEEP_STORES)
def send(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Send the frozen paper by mail, once more or for the first time."""
    order = get_order(pk)
    if not order.is_placed:
        say(request, f"{order.number} is {order.get_state_display()}: it is not sent.")
        return redirect(order)
    words = cover_words(order, profile(), by=str(me(request)))
    form = MailForm(request.POST or None, initial=words)
    if request.method == "POST" and form.is_valid():

        def act() -> None:
            send_paper(order, form.cover(), by=me(request), at=timezone.now())

        text = f"{order.number} is in the outbox and goes out now."
        return done_with(request, order, act, text)
    return _show(request, order, form, status=form.status)


@require_POST
@needs(Right.KEEP_STORES)
def resend(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a message that failed back in the outbox."""
    message = get_object_or_404(Message, pk=pk, about_kind="order")
    order = get_order(message.about_id or uuid.UUID(int=0))
    if order.is_placed:
        send_again(message, at=timezone.now())
        say(request, "Back in the outbox.")
    else:
        say(request, f"{order.number} is {order.get_state_display()}: it is not sent.")
    return redirect(order)


@require_POST
@needs(Right.KEEP_STORES)
def expect(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say anew when an order comes."""
    order = get_order(pk)
    form = ExpectForm(request.POST)
    if not form.is_valid():
        return show(request, order, expect_form=form)
    day = form.cleaned_data["expected_on"]

    def act() -> None:
        expect_on(order, day, by=me(request), at=timezone.now())

    return done_with(request, order, act, f"Expected on {show_day(day)}.")
