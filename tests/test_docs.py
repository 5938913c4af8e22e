"""What README, DEVELOPERS and CHANGELOG say is so: paths, commands, names, sign-ins."""

import re
from dataclasses import dataclass
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

import pytest
from django.conf import settings
from django.core.management import get_commands

from jobs.demo.people import PARTS
from shared import menu
from shared.access import RIGHTS, Role

ROOT = Path(settings.BASE_DIR)
APPS = ("shared", "shop", "quotes", "jobs")
PAPERS = ("README.md", "DEVELOPERS.md", "CHANGELOG.md")
PICTURE_CAP = 300_000

# Named in the documents, but made by a running installation and not kept in the tree.
MADE_LATER = (".venv/", "data/", "mail/", "backups/", "engine/")
FILE_TYPES = (".py", ".md", ".toml", ".lock", ".html", ".css", ".js", ".svg", ".yaml")
# Said to be absent, or standing for any.
NOT_FILES = {"services.py", "utils.py", "managers.py", "_name.html"}


def text_of(paper: str) -> str:
    return (ROOT / paper).read_text(encoding="utf-8")


def prose(paper: str) -> str:
    """Return a document without its indented and fenced blocks."""
    text = re.sub(r"^```.*?^```$", "", text_of(paper), flags=re.M | re.S)
    return "\n".join(ln for ln in text.splitlines() if not re.match(r" {4}", ln))


def spans(paper: str) -> list[str]:
    return re.findall(r"`([^`\n]+)`", prose(paper))


def is_path(span: str) -> bool:
    if re.search(r"[\s<>*…=:{}]", span) or span.startswith(("/", "-")):
        return False
    return "/" in span or span.endswith(FILE_TYPES)


def paths(paper: str) -> list[str]:
    return [span for span in spans(paper) if is_path(span)]


def links(paper: str) -> list[str]:
    found = re.findall(r"\]\(([^)]+)\)", text_of(paper))
    return [link for link in found if "://" not in link]


def exists(path: str) -> bool:
    """Whether a path is there; a bare file name may stand for a role of features."""
    if path.startswith(MADE_LATER) or path in NOT_FILES:
        return True
    return (ROOT / path).exists() or (
        "/" not in path and any(any((ROOT / app).rglob(path)) for app in APPS)
    )


def features() -> set[str]:
    """Return every folder of an app that is a feature, as the map writes it."""
    plumbing = {"migrations", "management", "templatetags"}
    return {
        f"{app}/{path.parent.name}/"
        for app in APPS[1:]
        for path in (ROOT / app).glob("*/__init__.py")
        if path.parent.name not in plumbing
    }


def sources() -> str:
    return "\n".join(
        path.read_text(encoding="utf-8")
        for folder in (*APPS, "tests")
        for path in sorted((ROOT / folder).rglob("*.py"))
        if path != Path(__file__)
    )


@dataclass(frozen=True)
class Heading:
    """A chapter of a document."""

    paper: str
    title: str

    def body(self) -> str:
        found = re.search(
            rf"^## {re.escape(self.title)}\n(.*?)(?=^## |\Z)",
            text_of(self.paper),
            re.M | re.S,
        )
        assert found, f"{self.paper} has no chapter {self.title}"
        return found[1]


class TestPaths:
    @pytest.mark.parametrize("paper", PAPERS)
    def test_every_path_named_is_there(self, paper):
        assert [path for path in paths(paper) if not exists(path)] == []

    @pytest.mark.parametrize("paper", PAPERS)
    def test_every_link_leads_somewhere(self, paper):
        assert [link for link in links(paper) if not (ROOT / link).exists()] == []

    @pytest.mark.parametrize("paper", PAPERS)
    def test_no_code_is_broken_over_lines(self, paper):
        lines = prose(paper).splitlines()
        assert [line for line in lines if line.count("`") % 2] == []

    def test_there_are_paths_to_look_for(self):
        assert len(paths("DEVELOPERS.md")) > 50
        assert not exists("shop/nowhere.py")
        assert not exists("nowhere.py")

    def test_the_pictures_are_small(self):
        pictures = [link for link in links("README.md") if link.endswith(".png")]
        assert len(pictures) >= 2
        assert all((ROOT / p).stat().st_size < PICTURE_CAP for p in pictures)

    def test_every_picture_says_what_it_shows(self):
        described = re.findall(r"!\[([^\]]*)\]", text_of("README.md"))
        assert all(len(words) > 30 for words in described)


class TestCommands:
    def test_every_make_target_named_is_there_and_each_is_named(self):
        makefile = text_of("Makefile")
        targets = set(re.findall(r"^([a-z][a-z-]*):", makefile, re.M))
        named = {
            target
            for paper in ("README.md", "DEVELOPERS.md")
            for target in re.findall(r"(?:`|^ {4})make ([a-z-]+)", text_of(paper), re.M)
        }
        assert named == targets

    def test_every_command_of_manage_is_there(self):
        pattern = r"(?:`|^ {4}| )manage(?:\.py)? ([a-z_]+)"
        named = {
            command
            for paper in ("README.md", "DEVELOPERS.md")
            for command in re.findall(pattern, text_of(paper), re.M)
        }
        assert {"backup", "restore", "worker", "migrate"} <= named
        assert named <= set(get_commands())

    def test_every_module_to_be_run_is_there(self):
        named = re.findall(r"python -m ([\w.]+)", text_of("DEVELOPERS.md"))
        assert named
        assert all(find_spec(name) for name in named)

    def test_the_readme_begins_with_the_two_commands(self):
        start = Heading("README.md", "Start").body()
        assert re.findall(r"^ {4}(\S.*)$", start, re.M) == ["make run", "make test"]

    def test_developers_begin_with_the_check(self):
        assert text_of("DEVELOPERS.md").splitlines()[2] == "    make test"


class TestNames:
    def test_every_dotted_name_can_be_imported(self):
        dotted = [
            span
            for span in spans("DEVELOPERS.md")
            if re.fullmatch(rf"({'|'.join(APPS)})(\.[A-Za-z_]+)+", span)
        ]
        assert len(dotted) > 5
        for name in dotted:
            if not find_spec_or_none(name):
                module, _, attribute = name.rpartition(".")
                assert hasattr(import_module(module), attribute), name

    def test_every_name_in_code_is_in_the_code(self):
        code = sources()
        named = {
            span
            for span in spans("DEVELOPERS.md")
            if re.fullmatch(r"_?[A-Z][A-Za-z]+(_[A-Z]+)*|_?[a-z]+(_[a-z]+)+", span)
            and not span.startswith("CLEATBOOK_")
        }
        missing = [n for n in named if not re.search(rf"\b{re.escape(n)}\b", code)]
        assert len(named) > 15
        assert missing == []

    def test_the_map_names_every_feature_and_no_other(self):
        chapter = Heading("DEVELOPERS.md", "The map").body()
        named = re.findall(r"^- `((?:shop|quotes|jobs)/\w+/)`: \S", chapter, re.M)
        assert sorted(named) == sorted(features())

    def test_the_map_names_everything_shared(self):
        chapter = Heading("DEVELOPERS.md", "The map").body()
        left_out = {"__init__", "apps", "migrations", "management", "static"}
        left_out |= {"templatetags", "urls", "patterns", "static_storage"}
        there = {p.stem for p in (ROOT / "shared").iterdir() if p.suffix in {".py", ""}}
        named = set(re.findall(r"`shared/(\w+)(?:\.py|/)`", chapter))
        assert there - left_out - {"__pycache__"} == named


def find_spec_or_none(name: str) -> bool:
    try:
        return find_spec(name) is not None
    except (ModuleNotFoundError, AttributeError):
        return False


def words_on_screens() -> str:
    """Return what templates, and the code that names buttons, may put on a page."""
    pages = (ROOT / "templates").rglob("*.html")
    texts = [re.sub(r"\{#.*?#\}", "", page.read_text("utf-8")) for page in pages]
    texts += [path.read_text("utf-8") for path in (ROOT / "shop").rglob("reports/*.py")]
    return "\n".join(texts)


class TestTour:
    def test_it_has_twelve_lines(self):
        tour = Heading("README.md", "A tour in twelve lines").body()
        numbers = re.findall(r"^(\d+)\. ", tour, re.M)
        assert numbers == [str(number) for number in range(1, 13)]

    def test_every_label_in_it_is_on_a_screen(self):
        tour = Heading("README.md", "A tour in twelve lines").body()
        labels = re.findall(r"\*\*([^*]+)\*\*", tour)
        entries = {entry.label for entry in menu._entries.values()}
        screens = words_on_screens()
        wanted = [label for label in labels if label not in entries]
        assert len(wanted) > 5
        missing = [
            label for label in wanted if not re.search(rf'[>}}"]{label}[<"]', screens)
        ]
        assert missing == []

    def test_it_goes_through_the_menu(self):
        tour = Heading("README.md", "A tour in twelve lines").body()
        for place in ("Next up", "Builds", "Buying", "Cutting", "Bench", "Van"):
            assert f"**{place}**" in tour

    def test_the_sign_ins_are_those_of_the_demo(self):
        rows = re.findall(
            r"^\| `(\w+)` \| `([^`]+)` \| (\w+) \|", text_of("README.md"), re.M
        )
        assert rows == [(p.username, p.password, p.role.value) for p in PARTS]

    @pytest.mark.parametrize("role", [Role.MAKER, Role.FITTER])
    def test_what_makers_and_fitters_see_is_their_menu(self, role):
        (seen,) = re.findall(rf"\| {role} \| ([^|;]+);", text_of("README.md"))
        theirs = {
            entry.label.lower()
            for entry in menu._entries.values()
            if entry.right is None or entry.right in RIGHTS[role]
        }
        assert set(seen.split(", ")) == theirs - {"next up"}


class TestWords:
    @pytest.mark.parametrize("paper", PAPERS)
    def test_no_path_of_somebodys_machine(self, paper):
        found = re.findall(
            r"(?<![\w.])/(?:home|root|tmp|work|Users)\b\S*", text_of(paper)
        )
        assert found == []

    @pytest.mark.parametrize("paper", PAPERS)
    def test_hosts_are_examples(self, paper):
        hosts = set(re.findall(r"\w+://(?:[^@/\s]+@)?([\w.-]+)", text_of(paper)))
        allowed = {"127.0.0.1", "localhost", "host", "cleatbook.example.org"}
        assert hosts <= allowed

    def test_the_changelog_has_a_place_for_what_comes(self):
        headings = re.findall(r"^## (.+)$", text_of("CHANGELOG.md"), re.M)
        assert headings[0] == "Unreleased"
