"""Modules that others import are asked for at once; the kernel is held to vectors."""

import re
from pathlib import Path

from django.conf import settings

ROOT = Path(settings.BASE_DIR)
SCRIPTS = ROOT / "shared/static/shared/js"
IMPORT = re.compile(r'^import (?:[^"]* from )?"(\.[^"]+)";', re.MULTILINE)
BASE = ROOT / "templates/base.html"


def named(pattern):
    words = BASE.read_text(encoding="utf-8")
    return set(re.findall(pattern % r"\{% static 'shared/js/([\w./-]+)' %\}", words))


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


def test_no_page_waits_for_a_module_of_its_own():
    """A walk is usable as soon as it keeps what is typed: what it comes to may follow."""
    others = [path for path in (ROOT / "templates").rglob("*.html") if path != BASE]
    words = "".join(path.read_text(encoding="utf-8") for path in others)
    own = re.findall(r"<script[^>]*>", words)
    assert any("js/told.js" in one for one in own)
    assert all(one.startswith('<script type="module" async ') for one in own)


def test_each_module_of_the_kernel_is_held_to_vectors():
    """It names them on top; a test in the browser asks it, or what imports it, for them."""
    tests = (ROOT / "tests/browser").glob("*.py")
    asks = "".join(path.read_text(encoding="utf-8") for path in tests)
    modules = list((SCRIPTS / "kernel").glob("*.js"))
    words = {path.name: path.read_text(encoding="utf-8") for path in modules}
    assert len(words) > 2
    for name, text in words.items():
        held = re.findall(r"\b(\w+)\.json", text.partition("\nexport ")[0])
        assert held, name
        for vectors in held:
            assert (ROOT / f"tests/vectors/{vectors}.json").exists(), name
            assert f"make_{vectors}" in asks or f"vectors/{vectors}.json" in asks, name
        users = [one for one, other in words.items() if f'"./{name}"' in other]
        assert any(f"/kernel/{one}" in asks for one in [name, *users]), name
