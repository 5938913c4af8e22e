"""What all three apps use."""

from django.apps import AppConfig


class SharedConfig(AppConfig):
    """Lengths, money, files, mail, history."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "shared"
