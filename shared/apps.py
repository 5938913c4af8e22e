"""What all three apps use."""

from datetime import timedelta

from django.apps import AppConfig
from django.contrib.staticfiles.apps import StaticFilesConfig


class StaticConfig(StaticFilesConfig):
    """Django's, less what is carried along for htmx 4: it imports what is not there."""

    ignore_patterns = [
        *StaticFilesConfig.ignore_patterns,
        "django_htmx/ext/*",
        "django_htmx/htm[ax]*-4*",
    ]


class SharedConfig(AppConfig):
    """Lengths, money, files, mail, history."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "shared"

    def ready(self) -> None:
        """Let the worker keep the house."""
        # Here, not above: it needs models, which exist by now.
        from shared.outbox.tasks import send_due
        from shared.tasks import back_up_daily, come_round, forget_finished

        come_round(send_due, every=timedelta(minutes=1))
        come_round(back_up_daily, every=timedelta(days=1))
        come_round(forget_finished, every=timedelta(days=1))
