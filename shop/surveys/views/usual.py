"""What the shop takes as usual for what must stay clear."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared.access import Right, needs
from shared.notices import say
from shop.people.me import me
from shop.people.reports import profile
from shop.surveys.actions.usual import keep_usual
from shop.surveys.forms.usual import UsualForm
from shop.surveys.reports.walk.places import usual_kinds
from shop.surveys.views.common import GET_POST, refuse, sent


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def zones_usual(request: HttpRequest) -> HttpResponse:
    """Change margins and sizes by kind, and what is left round a panel in an opening."""
    shop = profile()
    form = UsualForm(sent(request), usual=usual_kinds(), shop=shop)
    if request.method == "POST" and form.is_valid():
        clearance = form.cleaned_data["clearance"]
        try:
            keep_usual(
                form.chosen(),
                shop=shop,
                clearance_ticks=clearance,
                by=me(request),
                at=timezone.now(),
            )
        except ValidationError as refused:
            refuse(form, refused)
        else:
            say(request, "Stored.")
            return redirect("shop:zones-usual")
    return render(
        request, "shop/surveys/usual.html", {"form": form}, status=form.status
    )
