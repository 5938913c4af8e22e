"""What all three apps use."""

from datetime import timedelta

from django.apps import AppConfig


class SharedConfig(AppConfig):
    """Lengths, money, files, mail, history."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "shared"

    def ready(self) -> None:
        """Let the worker keep the house."""
        # Here, not above: it needs models, which exist by now.
        from shared.tasks import back_up_daily, come_round, forget_finished

        come_round(back_up_daily, every=timedelta(days=1))
        come_round(forget_finished, every=timedelta(days=1))
