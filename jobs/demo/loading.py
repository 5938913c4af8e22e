"""Load the whole demo: one invented shop with something at every step of the work."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from jobs.demo import buying, clients, cutting, gates, people, stock, stores, work
from shared.conventions import using
from shared.outbox.actions import deliver
from shared.outbox.models import Message

DAY = dt.timedelta(days=1)
OPENED = 90 * DAY
"""How long ago the shop was set up."""


# One transaction, although papers are printed in it: half a demo would be none, and nobody
# else is at work in an installation that has no shop yet.
@transaction.atomic
def load(at: dt.datetime) -> None:
    """Load the demo as it stands at a moment; every time in it is relative to that."""
    opened = at - OPENED
    cast = people.hire(opened)
    shop = people.open_shop(cast.owner, opened)
    with using(shop.conventions()):
        stores.fill_stores(cast, opened)
        stores.set_prices()
        stock.lay_in(cast, at)
        work.music_room_job(clients.music_room(cast, at), cast, at)
        work.cafe_job(clients.cafe(cast, at), cast, at)
        gates.say_what_came(cast, at)
        buying.order_material(cast, at)
        cutting.plan_cuts(cast, at)
        booth = work.draft(
            clients.voice_booth(cast, at),
            scope="Six panels round the microphone, two in the corners behind it.",
            by=cast.owner,
            at=at - 9 * DAY,
        )
        work.send(booth, by=cast.owner, at=at - 8 * DAY)
        work.draft(clients.hall(cast, at), by=cast.office, at=at - 2 * DAY)
        clients.enquiry_only(cast, at)


def hand_over_mail() -> None:
    """Send what the demo posted, each at the moment when it was posted."""
    for message in Message.objects.all():
        deliver(message.pk, at=message.next_try_at)
