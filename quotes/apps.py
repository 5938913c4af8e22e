"""From room to price: builds, pricing, offers."""

from datetime import timedelta

from django.apps import AppConfig

from shared.access import Right
from shared.menu import MenuEntry, add_entry


class QuotesConfig(AppConfig):
    """From room to price."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "quotes"

    def ready(self) -> None:
        """Add to the menu, and to the pages of the app below."""
        # Here, not above: they need models, which exist by now.
        from quotes.offers.sections import client_quotes
        from quotes.offers.tasks import lapse_due
        from quotes.pricing.sections import way_to_rules
        from quotes.specs.sections import room_panels
        from shared.tasks import come_round
        from shop.clients.slots import CLIENT_SECTIONS
        from shop.people.slots import SHOP_SECTIONS
        from shop.surveys.slots import ROOM_SECTIONS

        ROOM_SECTIONS.add(room_panels)
        CLIENT_SECTIONS.add(client_quotes)
        SHOP_SECTIONS.add(way_to_rules)
        come_round(lapse_due, every=timedelta(minutes=15))
        add_entry(MenuEntry(40, "Builds", "quotes:builds", "builds"))
        add_entry(MenuEntry(50, "Quotes", "quotes:quotes", "quotes", Right.QUOTE))
