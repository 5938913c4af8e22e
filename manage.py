#!/usr/bin/env python
"""Django's command line for Cleatbook."""

import os
import sys


def main() -> None:
    """Run the command named on the command line."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    from django.core.management import execute_from_command_line

    from shop.env import SettingError

    try:
        execute_from_command_line(sys.argv)
    except SettingError as error:
        # A wrong variable is the reader's to mend: one line, no traceback.
        sys.exit(f"Cleatbook cannot start. {error}")


if __name__ == "__main__":
    main()
