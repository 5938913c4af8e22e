"""The house's budgets and the leaks between its layers that no import checker can see.

DEVELOPERS.md explains the rules. Each exception to a budget stands here by name, with its
reason.
"""

import ast
import re
import statistics
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings

ROOT = Path(settings.BASE_DIR)
# From the lowest to the highest.
APPS = ("shared", "shop", "quotes", "jobs")

MODULE_CAP = 400
BODY_CAP, BODY_MEDIAN, BODY_P90 = 50, 10, 30
VIEW_CAP = 45
TEMPLATE_CAP, PARTIAL_CAP = 200, 80
TEST_CAP, TEST_MEDIAN = 45, 12
SCRIPTS_CAP = 1300
KERNEL_CAP = 900

LONG_MODULES: dict[str, str] = {}
LONG_FUNCTIONS: dict[str, str] = {}
LONG_TEMPLATES: dict[str, str] = {}
LONG_TESTS: dict[str, str] = {}


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def modules(*folders: str) -> list[Path]:
    return [
        path
        for folder in folders
        for path in sorted((ROOT / folder).rglob("*.py"))
        if "migrations" not in path.parts
    ]


def templates(*folders: str) -> list[Path]:
    return [
        path
        for folder in folders or ("",)
        for path in sorted((ROOT / "templates" / folder).rglob("*.*"))
        if path.is_file()
    ]


def scripts() -> list[Path]:
    """Return the scripts that are ours: what others wrote carries a version in its name."""
    return [
        path
        for app in APPS
        for path in sorted((ROOT / app).glob("static/**/*.js"))
        if not re.search(r"-\d+(\.\d+)+(\.min)?\.js$", path.name)
    ]


def code_lines(script: Path) -> list[str]:
    """Return the lines of a script that do something: not blank, no comment alone."""
    lines = (line.strip() for line in read(script).splitlines())
    return [line for line in lines if line and not line.startswith(("//", "/*"))]


@dataclass(frozen=True)
class Function:
    """A function and the number of lines in its body, without its docstring."""

    where: str
    name: str
    lines: int
    is_view: bool


def functions(paths: list[Path]) -> list[Function]:
    return [
        Function(
            where=f"{name_of(path)}::{node.name}",
            name=node.name,
            lines=body_lines(node),
            is_view=path.name == "views.py"
            and [arg.arg for arg in node.args.args[:1]] == ["request"],
        )
        for path in paths
        for node in ast.walk(ast.parse(read(path)))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]


def body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    body = node.body[1:] if ast.get_docstring(node) is not None else node.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def too_long(lengths: dict[str, int], cap: int, excepted: dict[str, str]) -> list[str]:
    """Return what is over the cap unexcused, and what is excused but need not be."""
    over = {name for name, length in lengths.items() if length > cap}
    return sorted(
        [
            f"{name} has {lengths[name]} lines, cap {cap}"
            for name in over - set(excepted)
        ]
        + [f"{name} needs no exception any more" for name in set(excepted) - over]
    )


def line_counts(paths: list[Path]) -> dict[str, int]:
    return {name_of(path): len(read(path).splitlines()) for path in paths}


class TestBudgets:
    def test_no_module_is_too_long(self):
        counts = line_counts([*modules(*APPS), *modules("tests")])
        assert too_long(counts, MODULE_CAP, LONG_MODULES) == []

    def test_no_function_is_too_long(self):
        lengths = {f.where: f.lines for f in functions(modules(*APPS))}
        assert too_long(lengths, BODY_CAP, LONG_FUNCTIONS) == []

    def test_most_functions_are_short(self):
        lengths = [f.lines for f in functions(modules(*APPS))]
        assert statistics.median(lengths) <= BODY_MEDIAN
        assert statistics.quantiles(lengths, n=10)[-1] <= BODY_P90

    def test_no_view_is_too_long(self):
        views = [f for f in functions(modules(*APPS)) if f.is_view]
        assert too_long({v.where: v.lines for v in views}, VIEW_CAP, {}) == []

    def test_no_template_is_too_long(self):
        pages = [path for path in templates() if not path.name.startswith("_")]
        assert too_long(line_counts(pages), TEMPLATE_CAP, LONG_TEMPLATES) == []

    def test_no_partial_is_too_long(self):
        partials = [path for path in templates() if path.name.startswith("_")]
        assert too_long(line_counts(partials), PARTIAL_CAP, {}) == []

    def test_tests_are_short(self):
        tests = [f for f in functions(modules("tests")) if f.name.startswith("test_")]
        lengths = {test.where: test.lines for test in tests}
        assert too_long(lengths, TEST_CAP, LONG_TESTS) == []
        assert statistics.median(lengths.values()) <= TEST_MEDIAN

    def test_our_scripts_together_are_small(self):
        lines = {path: len(code_lines(path)) for path in scripts()}
        kernel = sum(lines[path] for path in lines if path.parent.name == "kernel")
        assert 0 < kernel <= KERNEL_CAP
        assert 0 < sum(lines.values()) - kernel <= SCRIPTS_CAP

    def test_blank_lines_and_comments_of_a_script_do_not_count(self, tmp_path):
        script = tmp_path / "a.js"
        script.write_text("// One.\n\n/** Two. */\nlet a = 1; // three\n * a;\n")
        assert code_lines(script) == ["let a = 1; // three", "* a;"]

    def test_a_body_is_counted_without_its_docstring(self):
        node = ast.parse(
            'def f():\n    """One.\n\n    Two."""\n    a = 1\n    return a'
        ).body
        assert body_lines(node[0]) == 2

    def test_an_exception_that_is_not_needed_is_reported(self):
        assert too_long({"a": 5, "b": 3}, 4, {"b": "why"}) == [
            "a has 5 lines, cap 4",
            "b needs no exception any more",
        ]


@dataclass(frozen=True)
class Leak:
    """What must not be found, where, and an example that would be."""

    name: str
    pattern: str
    example: str
    paths: list[Path]
    allowed: frozenset[str] = frozenset()

    def found(self) -> list[str]:
        return [
            f"{name_of(path)}:{number}: {line.strip()}"
            for path in self.paths
            if name_of(path) not in self.allowed
            for number, line in enumerate(read(path).splitlines(), 1)
            if re.search(self.pattern, line)
        ]


def upward(what: str, example: str, paths_of) -> list[Leak]:
    """Return a leak for each app, of names that belong to an app above it."""
    return [
        Leak(
            name=f"{app} names an app above it: {example}",
            pattern=what.format(upper="|".join(APPS[APPS.index(app) + 1 :])),
            example=example,
            paths=paths_of(app),
            # The one permitted place, beside the settings.
            allowed=frozenset({"shop/urls.py", "shop/settings.py"}),
        )
        for app in APPS[:-1]
    ]


EVENT = (
    r"\son(click|change|input|submit|load|key\w+|mouse\w+|pointer\w+|touch\w+|focus\w*"
    r"|blur|error|toggle|drag\w*|scroll)\s*="
)


def screen_templates() -> list[Path]:
    return [path for path in templates() if "pdf" not in path.parts]


LEAKS = [
    *upward(r"""["'](?:{upper})\.[A-Z]\w+["']""", '"jobs.Panel"', modules),
    *upward(r"""["'](?:{upper}):[\w-]+""", 'reverse("jobs:board")', modules),
    *upward(r"""["'](?:{upper}):[\w-]+""", "{% url 'jobs:board' %}", templates),
    *upward(r"""["'](?:{upper})/[\w/-]+\.html""", '"jobs/board/_x.html"', templates),
    Leak(
        "models are imported, not looked up by name",
        r"\bget_model\(",
        'apps.get_model("jobs", "Panel")',
        modules(*APPS),
    ),
    Leak(
        "views ask named questions",
        r"\.(filter|exclude|annotate)\(",
        "Client.objects.filter(name=name)",
        [path for path in modules(*APPS) if path.name == "views.py"],
    ),
    Leak(
        "htmx's headers are named in one module",
        r"HX-[A-Z]|\bHX_[A-Z]",
        'response["HX-Redirect"] = url',
        [*modules(*APPS), *scripts()],
        frozenset({"shared/htmx.py"}),
    ),
    Leak(
        "models do nothing behind one's back",
        r"^\s+(async )?def a?(save|delete)\(",
        "    def save(self, *args):",
        [p for p in modules(*APPS) if p.name == "models.py" or "models" in p.parts],
    ),
    Leak(
        "no signals",
        r"django\.(db\.models\.)?(signals|dispatch)|\.signals import|@receiver\(",
        "from django.core.signals import request_started",
        modules(*APPS),
    ),
    Leak(
        "no style but in style sheets",
        r"<style\b|\sstyle\s*=",
        '<p style="color: red">',
        screen_templates(),
    ),
    Leak(
        "no script inside a page",
        r"<script(?![^>]*\ssrc=)|" + EVENT + r"|\bhx-on\b|javascript:",
        '<button onclick="go()">',
        templates(),
    ),
    Leak(
        "no style or script inside markup made by Python",
        r"""<style\b|<\w[^>]*\s(style|on[a-z]+)=""",
        """f'<path style="fill: red">'""",
        modules(*APPS),
    ),
    Leak(
        "addresses come from their names",
        r"""(href|action|hx-(get|post|put|delete))=["']/""",
        '<a href="/clients/">',
        templates(),
        # Shown when something is broken, which may be the addresses.
        frozenset({"templates/500.html"}),
    ),
    Leak(
        "tests wait for events, not for time",
        r"\bsleep\(|wait_for_timeout\(",
        "time.sleep(1)",
        [path for path in modules("tests") if path != Path(__file__)],
    ),
    Leak(
        "fragments see only what they are given",
        r"""\{% include ["'][^"']*/_(?![^%]*\bonly\b)""",
        '{% include "shop/_row.html" with row=row %}',
        templates(),
    ),
    Leak(
        "fragments are whole in themselves",
        r"\{% (extends|block) ",
        '{% extends "base.html" %}',
        [path for path in templates() if path.name.startswith("_")],
    ),
]


@pytest.mark.parametrize("leak", LEAKS, ids=lambda leak: leak.name)
def test_nothing_leaks(leak):
    assert leak.found() == []


@pytest.mark.parametrize("leak", LEAKS, ids=lambda leak: leak.name)
def test_a_leak_would_be_found(leak):
    assert re.search(leak.pattern, leak.example)


@pytest.mark.parametrize("leak", LEAKS, ids=lambda leak: leak.name)
def test_a_leak_is_looked_for_somewhere(leak):
    assert leak.paths


class TestLayers:
    def test_nothing_points_up_and_nothing_is_reached_from_below(self):
        wrong = []
        for model in (m for app in APPS for m in apps.get_app_config(app).get_models()):
            for field in model._meta.get_fields():
                target = field.related_model
                if field.auto_created or not field.is_relation or target is None:
                    continue
                here, there = model._meta.app_label, target._meta.app_label
                if here == there or there not in APPS:
                    continue
                # shared may point at the people, and at nothing else above it.
                is_person = here == "shared" and target is apps.get_model(
                    settings.AUTH_USER_MODEL
                )
                points_up = APPS.index(there) > APPS.index(here) and not is_person
                if points_up or not field.remote_field.hidden:
                    wrong.append(str(field))
        assert wrong == []

    def test_no_catch_all_modules(self):
        names = {path.name for path in modules(*APPS)}
        assert names.isdisjoint(
            {"services.py", "utils.py", "managers.py", "helpers.py"}
        )

    def test_the_import_contracts_know_every_feature(self):
        config = tomllib.loads(read(ROOT / "pyproject.toml"))
        contracts = config["tool"]["importlinter"]["contracts"]
        (roles,) = (c for c in contracts if c["name"] == "Roles inside a feature")
        features = {
            f"{app}.{path.parent.name}"
            for app in APPS[1:]
            for path in (ROOT / app).glob("*/__init__.py")
            if path.parent.name not in {"migrations", "management", "templatetags"}
        }
        assert features <= set(roles["containers"])

    def test_only_the_first_folders_of_the_plan_hold_templates(self):
        found = {p.name for p in (ROOT / "templates").iterdir() if p.is_dir()}
        assert found <= {*APPS, "registration", "admin"}


class TestPapers:
    """What the documents and the locks say is so."""

    def test_every_variable_that_is_read_is_explained(self):
        documents = read(ROOT / "README.md") + read(ROOT / "DEVELOPERS.md")
        missing = {name for name in settings.ENVIRONMENT.asked if name not in documents}
        assert missing == set()

    def test_every_variable_that_is_explained_is_read(self):
        documents = read(ROOT / "README.md") + read(ROOT / "DEVELOPERS.md")
        explained = set(re.findall(r"\bCLEATBOOK_[A-Z_]+\b", documents))
        assert explained <= settings.ENVIRONMENT.asked

    @pytest.mark.parametrize(
        "lock", sorted(path.name for path in ROOT.glob("requirements*.lock"))
    )
    def test_a_lock_names_versions_and_hashes_and_no_addresses(self, lock):
        text = read(ROOT / lock)
        assert "://" not in text
        entries = [e for e in re.split(r"\n(?=\S)", text.strip()) if e]
        assert all("==" in entry and "--hash=sha256:" in entry for entry in entries)

    def test_every_make_target_is_listed_by_make_help(self):
        makefile = read(ROOT / "Makefile")
        targets = set(re.findall(r"^([a-z][a-z-]*):", makefile, re.M))
        assert targets == set(re.findall(r"^([a-z][a-z-]*):.*## ", makefile, re.M))

    def test_every_direct_dependency_has_its_reason_beside_it(self):
        text = read(ROOT / "pyproject.toml").split("[tool.ruff]")[0]
        entries = re.findall(r'^  ".*$', text, re.M)
        assert len(entries) > 20
        assert [e for e in entries if not re.search(r"# \w", e)] == []
