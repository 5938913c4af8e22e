"""The shop itself: people, clients, surveys, catalogue."""

from datetime import timedelta

from django.apps import AppConfig

from shared.access import Right
from shared.menu import MenuEntry, add_entry


class ShopConfig(AppConfig):
    """The shop itself."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "shop"

    def ready(self) -> None:
        """Say how the shop writes things, and add to the menu."""
        from shared.conventions import register_provider  # models are ready only now
        from shared.tasks import come_round
        from shop.catalogue.tasks import bring_finishes
        from shop.clients.slots import CLIENT_SECTIONS
        from shop.people.reports import conventions
        from shop.surveys.offline import register_ops
        from shop.surveys.reports.pages import client_rooms

        register_provider(conventions)
        CLIENT_SECTIONS.add(client_rooms)
        register_ops()
        come_round(bring_finishes, every=timedelta(days=1))
        add_entry(
            MenuEntry(20, "Clients", "shop:clients", "clients", Right.SEE_CLIENTS)
        )
        add_entry(MenuEntry(30, "Rooms", "shop:rooms", "rooms"))
        add_entry(MenuEntry(80, "Stores", "shop:materials", "stores"))
        add_entry(MenuEntry(90, "Shop", "shop:profile", "shop", Right.RUN_SHOP))
