"""From room to price: builds, pricing, offers."""

from django.apps import AppConfig

from shared.access import Right
from shared.menu import MenuEntry, add_entry


class QuotesConfig(AppConfig):
    """From room to price."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "quotes"

    def ready(self) -> None:
        """Add to the menu, and to the pages of the app below."""
        from quotes.specs.sections import room_panels  # models are ready only now
        from shop.surveys.slots import ROOM_SECTIONS

        ROOM_SECTIONS.add(room_panels)
        add_entry(MenuEntry(40, "Builds", "quotes:builds", "builds"))
        add_entry(MenuEntry(50, "Quotes", "quotes:quotes", "quotes", Right.QUOTE))
