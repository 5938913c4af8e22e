"""Look at the paper, send it, and see to its mail."""

from __future__ import annotations

import datetime as dt
import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from quotes.offers.actions import CannotSendError, send_quote
from quotes.offers.documents import quote_pdf
from quotes.offers.draft import work_out_draft
from quotes.offers.forms import SendForm
from quotes.offers.models import Quote, QuoteRevision
from quotes.offers.paper import DRAFT
from quotes.offers.reports import QuotePage, cover_words, quote_page
from quotes.offers.rows import fingerprint
from quotes.offers.snapshot import snapshot_of
from quotes.offers.views.editing import workable_quote
from shared.access import Right, needs
from shared.conventions import today
from shared.files.views import file_response, pdf_response
from shared.htmx import done
from shared.notices import say
from shared.outbox.actions import send_again
from shared.outbox.models import Message
from shop.people.me import me
from shop.people.reports import profile


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def send(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show the covering mail and what stands in the way; send on POST."""
    quote = workable_quote(request, pk)
    if request.method == "POST":
        return _send(request, quote)
    page = _page(quote)
    words = cover_words(page, profile(), by=str(me(request)))
    seal = fingerprint(page.draft.rows)
    return _show(request, page, SendForm(initial=words | {"seal": seal}))


def _send(request: HttpRequest, quote: Quote) -> HttpResponse:
    form = SendForm(request.POST)
    if not form.is_valid():
        return _show(request, _page(quote), form, status=form.status)
    try:
        revision = send_quote(quote, form.cover(), by=me(request), at=timezone.now())
    except CannotSendError as error:
        for sentence in error.sentences:
            form.add_error(None, sentence)
        page = _page(quote)
        # what is shown now is what the next try is about
        form.data = request.POST.dict() | {"seal": fingerprint(page.draft.rows)}
        return _show(request, page, form, status=422)
    say(request, f"{revision.reference} is in the outbox and goes out now.")
    return done(request, quote.get_absolute_url())


def _page(quote: Quote) -> QuotePage:
    return quote_page(quote, on=today(timezone.now()))


def _show(
    request: HttpRequest, page: QuotePage, form: SendForm, status: int = 200
) -> HttpResponse:
    context = {"page": page, "form": form}
    return render(request, "quotes/offers/send.html", context, status=status)


@require_GET
@needs(Right.QUOTE)
def preview(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the draft as it would go out now; nothing is stored."""
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    draft = work_out_draft(quote)
    if draft.priced is None:
        raise Http404("the draft can't be priced yet")
    now = today(timezone.now())
    snapshot = snapshot_of(
        draft,
        draft.priced,
        letter=DRAFT,
        sent_on=now,
        valid_until=now + dt.timedelta(days=quote.valid_days),
    )
    return pdf_response(quote_pdf(snapshot), name=f"{quote.number} draft.pdf")


@require_GET
@needs(Right.QUOTE)
def revision_pdf(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Give the file of a sent revision, exactly as it was sent."""
    revision = get_object_or_404(QuoteRevision.objects.with_answers(), pk=pk)
    return file_response(revision.pdf)


@require_POST
@needs(Right.QUOTE)
def resend(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a message that failed back in the outbox."""
    message = get_object_or_404(Message, pk=pk)
    quote = get_object_or_404(Quote, pk=message.about_id)
    if quote.is_out_with(message.attachment):
        send_again(message, at=timezone.now())
        say(request, "Back in the outbox.")
    else:
        say(request, "That paper is no longer out: it is not sent again.")
    return done(request, quote.get_absolute_url())
