"""Environment variables: read by type, refused with a line that helps."""

from pathlib import Path

import pytest

from shop.env import Environment, SettingError


@pytest.mark.parametrize(
    ("raw", "flag"),
    [("1", True), ("yes", True), ("On", True), ("0", False), ("no", False)],
)
def test_a_flag_takes_the_usual_words(raw, flag):
    assert Environment({"A": raw}).flag("A", default=not flag) is flag


def test_unset_and_blank_both_give_the_default():
    assert Environment({}).flag("A", default=True) is True
    assert Environment({"A": "  "}).whole("A", default=7, low=1, high=9) == 7


@pytest.mark.parametrize(
    ("read", "raw", "line"),
    [
        (
            lambda env: env.flag("A", default=False),
            "maybe",
            "A is 'maybe', which is not a yes or a no; write for example A=1",
        ),
        (
            lambda env: env.whole("A", default=587, low=1, high=65535),
            "many",
            "A is 'many', which is not a whole number; write for example A=587",
        ),
        (
            lambda env: env.whole("A", default=587, low=1, high=65535),
            "0",
            "A is '0', which is not a whole number from 1 to 65535; "
            "write for example A=587",
        ),
        (
            lambda env: env.one_of("A", choices=("tls", "none"), default="tls"),
            "ssl",
            "A is 'ssl', which is not one of tls, none; write for example A=tls",
        ),
        (
            lambda env: env.words("A", default=[], example="a.example"),
            ",",
            "A is ',', which is not a list with commas between; "
            "write for example A=a.example",
        ),
        (
            lambda env: env.origins("A", default=[], example="https://a.example"),
            "a.example",
            "A is 'a.example', which is not addresses that start with https://; "
            "write for example A=https://a.example",
        ),
        (
            lambda env: env.origins("A", default=[], example="https://a.example"),
            "https://a.example/quotes",
            "A is 'https://a.example/quotes', which is not addresses without a path; "
            "write for example A=https://a.example",
        ),
        (
            lambda env: env.folder("A", default=Path("/srv")),
            "here",
            "A is 'here', which is not a full path, from the root; "
            "write for example A=/srv/cleatbook",
        ),
        (
            lambda env: env.required("A", example="a.example"),
            "",
            "A is not set; write for example A=a.example",
        ),
    ],
)
def test_nonsense_is_refused_with_an_example(read, raw, line):
    with pytest.raises(SettingError) as error:
        read(Environment({"A": raw}))
    assert str(error.value) == line


def test_a_secret_that_is_too_short_is_refused_without_being_shown():
    with pytest.raises(SettingError) as error:
        Environment({"A": "hunter2"}).required("A", example="$(make one)", minimum=50)
    assert "hunter2" not in str(error.value)
    assert "7 characters" in str(error.value)


def test_lists_lose_their_blanks():
    env = Environment({"A": " a.example , b.example,"})
    assert env.words("A", default=[], example="") == ["a.example", "b.example"]
