"""Write the kept snapshot of a schema that has none yet; one that is there stays.

    python -m tests.quotes.offers.write_golden

Every later version of the program has to read what is kept, since jobs are built from
such snapshots years after they were sent.
"""

import json
import os
from pathlib import Path

FOLDER = Path(__file__).parent / "golden"


def golden_path(schema):
    """Return where the snapshot of a schema is kept."""
    return FOLDER / f"snapshot_{schema}.json"


def small_cafe():
    """Return the snapshot of a café with a panel or two of four builds."""
    from shop.people.models import Person
    from tests.factories.offers import make_cafe, same_ids, snapshot_of_draft
    from tests.factories.people import make_person

    panels = (
        ("wall", 2, 600, 1200, "harbour-moss"),
        ("hung", 1, 1200, 900, ""),
        ("reveal", 1, 873, 1411, ""),
        ("corner", 1, 400, 1200, ""),
    )
    with same_ids():
        by = Person.objects.first() or make_person(username="ada", role="owner")
        return snapshot_of_draft(make_cafe(by=by, panels=panels))


def write():
    """Make the snapshot in a database of its own, and keep it."""
    from django.test.utils import setup_databases, teardown_databases

    old = setup_databases(verbosity=0, interactive=False)
    try:
        snapshot = small_cafe()
    finally:
        teardown_databases(old, verbosity=0)
    with golden_path(snapshot["schema"]).open("x", encoding="utf-8") as file:
        json.dump(snapshot, file, ensure_ascii=False, indent=1, sort_keys=True)
        file.write("\n")


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    write()
