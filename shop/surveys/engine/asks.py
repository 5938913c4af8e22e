"""What is missing in a survey, and what a later step will need: rules as data.

They are written once. The server asks them here; the walk carries them, and the device asks
the same of what is typed (kernel/asks.js). Both are held to tests/vectors/leave.json.

A rule is asked of facts: words by name, an empty word for what is not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

VERSION = "asks-1"

ANY = ("*",)
NOTHING = ("",)
YES = ("yes",)

Fact = str | Sequence[str]
"""A word, or several of which one is enough."""
Facts = Mapping[str, Fact]
When = Mapping[str, Sequence[str]]
"""By the name of a fact the words that it may be; `ANY` stands for all but none."""

UNREAD = {
    "length": "length not read yet",
    "opposite": "length not read; taken as that of the wall opposite",
    "diagonal": "diagonal over the corner at its end not read yet",
    "angle": "angle of the corner at its end not read yet",
}
"""What may be missing of a wall."""


@dataclass(frozen=True, slots=True)
class Ask:
    """A sentence, and when it is said; facts stand in it by name."""

    words: str
    when: When


@dataclass(frozen=True, slots=True)
class Group:
    """Asked of each record of a kind in turn; one sentence for all where it names `{names}`."""

    of: str
    asks: tuple[Ask, ...]

    @property
    def as_data(self) -> list[object]:
        """The group as devices get it."""
        return [self.of, [[ask.words, ask.when] for ask in self.asks]]


def holds(when: When, facts: Facts) -> bool:
    """Whether facts are what a rule waits for."""
    return all(_is(facts.get(name, ""), words) for name, words in when.items())


def _is(fact: Fact, words: Sequence[str]) -> bool:
    known = [fact] if isinstance(fact, str) else fact
    return any(one in words or (one and "*" in words) for one in known)


def asked(
    groups: Iterable[Group], records: Mapping[str, Sequence[Facts]]
) -> Iterator[str]:
    """Say all that is asked.

    Parameters
    ----------
    groups
        In the order in which they are said.
    records
        By kind, in the order of the walk, the facts of each record.
    """
    for group in groups:
        named: dict[str, list[str]] = {}
        for facts in records.get(group.of, ()):
            for ask in group.asks:
                if not holds(ask.when, facts):
                    continue
                if "{names}" in ask.words:
                    named.setdefault(ask.words, []).append(str(facts["name"]))
                else:
                    yield ask.words.format(**facts)
        for words, names in named.items():
            yield words.format(names=", ".join(names))


def _wall(missing: str, **when: Sequence[str]) -> Ask:
    return Ask(f"Wall {{name}}: {UNREAD[missing]}.", when)


FRAMED = ("board_wood", "board_metal", "lath")
"""What carries little by itself: panels hang from the studs or joists behind it."""

WALLS_UNREAD = Group(
    "wall",
    (
        _wall("length", length=NOTHING),
        _wall("opposite", length=("opposite",)),
        _wall("diagonal", length=("read",), corner=("diagonal",), diagonal=NOTHING),
        _wall("angle", length=("read",), corner=("angle",), angle=NOTHING),
    ),
)

MISSING = (
    WALLS_UNREAD,
    Group(
        "survey",
        (
            Ask("The height of the ceiling.", {"shape": ("flat",), "height": NOTHING}),
            Ask(
                "The height of the sloping ceiling at three corners or more.",
                {"shape": ("slope",), "corners": ("few",)},
            ),
        ),
    ),
    Group(
        "wall",
        (
            Ask(
                "The height of the ceiling at the left corner of wall {names}.",
                {"shape": ("corners",), "height": NOTHING},
            ),
        ),
    ),
    Group(
        "wall",
        (
            Ask(
                "What wall {names} is made of: it decides how panels hang.",
                {"construction": NOTHING},
            ),
        ),
    ),
    Group("survey", (Ask("What the ceiling is made of.", {"construction": NOTHING}),)),
    Group(
        "opening",
        (
            Ask("How far {name} is from the left corner.", {"from_left": NOTHING}),
            Ask(
                "How high the sill of {name} is above the floor.",
                {"sill": NOTHING, "kind": ("window", "recess")},
            ),
            Ask("The width and the height of {name}.", {"size": NOTHING}),
            Ask(
                "How deep the reveal of {name} is: it gets a panel.",
                {"gets_panel": YES, "reveal": NOTHING},
            ),
        ),
    ),
    Group(
        "zone",
        (
            Ask("Where on {where} the {name} is.", {"place": NOTHING}),
            Ask("How large the {name} on {where} is.", {"size": NOTHING}),
        ),
    ),
    Group("member", (Ask("Where the {name} in {where} is.", {"at": NOTHING}),)),
    Group("beam", (Ask("Length, width and drop of the {name}.", {"size": NOTHING}),)),
)
"""What the survey itself is incomplete without."""

NEEDED = (
    Group(
        "room",
        (
            Ask(
                "What the room is used for: it decides how dry it should sound.",
                {"use": NOTHING},
            ),
        ),
    ),
    Group(
        "wall",
        (
            Ask(
                "Where the studs of wall {names} are, where panels will go: board and"
                " plaster carry little.",
                {"construction": FRAMED, "found": NOTHING},
            ),
        ),
    ),
    Group(
        "survey",
        (
            Ask(
                "Where the joists of the ceiling are, should panels hang there.",
                {"construction": FRAMED, "found": NOTHING},
            ),
        ),
    ),
    Group(
        "opening",
        (
            Ask(
                "How deep in the reveal of {name} its panel will sit.",
                {"gets_panel": YES, "panel_depth": NOTHING},
            ),
            Ask(
                "What glass {name} has, and which way it faces: heat builds up behind a"
                " panel.",
                {"gets_panel": YES, "kind": ("window",), "glazed": NOTHING},
            ),
        ),
    ),
    Group(
        "room",
        (Ask("A photo: nobody remembers a room in three weeks.", {"photo": NOTHING}),),
    ),
    Group(
        "site",
        (
            Ask(
                "When the house was built: unknown counts as old.",
                {"year_built": NOTHING},
            ),
            Ask(
                "Whether they own or rent: a landlord has to agree to holes.",
                {"tenure": NOTHING},
            ),
            Ask(
                "How wide the narrowest door on the way in is: every panel has to pass it.",
                {"narrowest_door": NOTHING},
            ),
        ),
    ),
)
"""What a later step asks for; none of it keeps the room from being drawn."""
