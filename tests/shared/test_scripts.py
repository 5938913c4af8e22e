"""Modules that others import are asked for at once; the kernel is held to vectors."""

import re
from pathlib import Path

from django.conf import settings

ROOT = Path(settings.BASE_DIR)
SCRIPTS = ROOT / "shared/static/shared/js"
IMPORT = re.compile(r'^import (?:[^"]* from )?"(\.[^"]+)";', re.MULTILINE)
BASE = ROOT / "templates/base.html"


def named(pattern, template):
    words = template.read_text(encoding="utf-8")
    return set(re.findall(pattern % r"\{% static 'shared/js/([\w./-]+)' %\}", words))


def begun_in(template):
    return named('type="module" src="%s"', template)


def asked_for_in(template):
    return named('rel="modulepreload" href="%s"', template)


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


def imported_by(begun):
    return set().union(*map(imported, begun))


def test_every_page_names_all_modules_that_it_imports():
    whole = imported_by(begun_in(BASE))
    assert "offline/store.js" in whole
    assert asked_for_in(BASE) == whole - begun_in(BASE)


def test_pages_with_scripts_of_their_own_name_what_those_import_besides():
    others = [path for path in (ROOT / "templates").rglob("*.html") if path != BASE]
    here = imported_by(begun_in(BASE)) | begun_in(BASE)
    own = {path: begun_in(path) for path in others if begun_in(path)}
    assert own
    for path, begun in own.items():
        assert asked_for_in(path) == imported_by(begun) - here, path.name


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
