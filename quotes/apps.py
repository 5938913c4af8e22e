"""From room to price: builds, pricing, offers."""

from django.apps import AppConfig

from shared.access import Right
from shared.menu import MenuEntry, add_entry


class QuotesConfig(AppConfig):
    """From room to price."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "quotes"

    def ready(self) -> None:
        """Add to the menu."""
        add_entry(MenuEntry(40, "Builds", "quotes:builds", "builds"))
        add_entry(MenuEntry(50, "Quotes", "quotes:quotes", "quotes", Right.QUOTE))
