"""Addresses of quotes."""

from django.urls import path

from quotes.offers.views import answers, drafts, lines, sending

urlpatterns = [
    path("quotes/", drafts.list_quotes, name="quotes"),
    path("quotes/new/", drafts.new_quote, name="quote-new"),
    path("quotes/<uuid:pk>/", drafts.show_quote, name="quote"),
    path("quotes/<uuid:pk>/change/", drafts.change_quote, name="quote-change"),
    path("quotes/<uuid:pk>/rooms/", drafts.change_rooms, name="quote-rooms"),
    path("quotes/<uuid:pk>/lines/new/", lines.new_line, name="line-new"),
    path("quotes/lines/<uuid:pk>/", lines.change_line, name="line-change"),
    path("quotes/lines/<uuid:pk>/remove/", lines.remove_line, name="line-remove"),
    path("quotes/lines/<uuid:pk>/restore/", lines.put_line_back, name="line-restore"),
    path("quotes/<uuid:pk>/send/", sending.send, name="quote-send"),
    path("quotes/<uuid:pk>/preview.pdf", sending.preview, name="quote-preview"),
    path("quotes/revisions/<uuid:pk>.pdf", sending.revision_pdf, name="quote-pdf"),
    path("quotes/mail/<uuid:pk>/again/", sending.resend, name="mail-again"),
    path("quotes/<uuid:pk>/accept/", answers.accept, name="quote-accept"),
    path("quotes/<uuid:pk>/take-back/", answers.take_back, name="quote-take-back"),
    path("quotes/<uuid:pk>/decline/", answers.decline, name="quote-decline"),
    path("quotes/<uuid:pk>/void/", answers.void, name="quote-void"),
]
