"""Modules that others import are asked for at once, not one after the other."""

import re
from pathlib import Path

from django.conf import settings

ROOT = Path(settings.BASE_DIR)
SCRIPTS = ROOT / "shared/static/shared/js"
IMPORT = re.compile(r'^import (?:[^"]* from )?"(\.[^"]+)";', re.MULTILINE)
BASE = (ROOT / "templates/base.html").read_text(encoding="utf-8")


def named(pattern):
    return set(re.findall(pattern % r"\{% static 'shared/js/([\w./-]+)' %\}", BASE))


def imported(start):
    """Give the modules that one imports, and those that they do."""
    found, todo = set(), [SCRIPTS / start]
    while todo:
        here = todo.pop()
        for path in IMPORT.findall(here.read_text(encoding="utf-8")):
            module = (here.parent / path).resolve()
            if module not in found:
                found.add(module)
                todo.append(module)
    return {module.relative_to(SCRIPTS).as_posix() for module in found}


def test_every_page_names_all_modules_that_it_imports():
    begun = named('type="module" src="%s"')
    whole = set().union(*map(imported, begun))
    assert "offline/store.js" in whole
    assert named('rel="modulepreload" href="%s"') == whole - begun
