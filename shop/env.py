"""Typed readers of environment variables, which name what is wrong and what would work."""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar
from urllib.parse import urlsplit

T = TypeVar("T")

YES = frozenset({"1", "true", "yes", "on"})
NO = frozenset({"0", "false", "no", "off"})


class SettingError(ValueError):
    """An environment variable is missing or cannot be read."""


class Environment:
    """Reads variables by type; remembers which were asked for, so docs can be checked."""

    def __init__(self, variables: Mapping[str, str] | None = None) -> None:
        self._variables = os.environ if variables is None else variables
        self.asked: set[str] = set()

    def text(self, name: str, *, default: str, example: str = "") -> str:
        """Return the variable as it stands, or the default when unset or blank."""
        return self._read(name, str, default=default, example=example or default)

    def required(self, name: str, *, example: str, minimum: int = 1) -> str:
        """Return a variable that must be set, of at least so many characters."""
        value = self._raw(name)
        if value is None:
            raise SettingError(f"{name} is not set; write for example {name}={example}")
        if len(value) < minimum:
            raise SettingError(
                f"{name} has {len(value)} characters and needs {minimum} or more; "
                f"write for example {name}={example}"
            )
        return value

    def flag(self, name: str, *, default: bool) -> bool:
        """Return a yes or a no."""
        return self._read(name, _flag, default=default, example="1")

    def whole(self, name: str, *, default: int, low: int, high: int) -> int:
        """Return a whole number from low to high."""

        def parse(raw: str) -> int:
            number = int(raw)
            if not low <= number <= high:
                raise ValueError(f"a whole number from {low} to {high}")
            return number

        return self._read(name, parse, default=default, example=str(default))

    def one_of(self, name: str, *, choices: tuple[str, ...], default: str) -> str:
        """Return one of the listed words."""

        def parse(raw: str) -> str:
            if raw not in choices:
                raise ValueError(f"one of {', '.join(choices)}")
            return raw

        return self._read(name, parse, default=default, example=default)

    def words(self, name: str, *, default: list[str], example: str) -> list[str]:
        """Return a list written with commas between."""
        return self._read(name, _words, default=default, example=example)

    def origins(self, name: str, *, default: list[str], example: str) -> list[str]:
        """Return a list of web origins, each with its scheme and host and no path."""

        def parse(raw: str) -> list[str]:
            for origin in _words(raw):
                parts = urlsplit(origin)
                if parts.scheme not in {"http", "https"} or not parts.netloc:
                    raise ValueError("addresses that start with https://")
                if parts.path:
                    raise ValueError("addresses without a path")
            return _words(raw)

        return self._read(name, parse, default=default, example=example)

    def folder(self, name: str, *, default: Path) -> Path:
        """Return a folder by its full path."""

        def parse(raw: str) -> Path:
            path = Path(raw).expanduser()
            if not path.is_absolute():
                raise ValueError("a full path, from the root")
            return path

        return self._read(name, parse, default=default, example="/srv/cleatbook")

    def _raw(self, name: str) -> str | None:
        self.asked.add(name)
        return self._variables.get(name, "").strip() or None

    def _read(
        self, name: str, parse: Callable[[str], T], *, default: T, example: str
    ) -> T:
        raw = self._raw(name)
        if raw is None:
            return default
        try:
            return parse(raw)
        except ValueError as error:
            wanted = str(error)
            if "invalid literal" in wanted:
                wanted = "a whole number"
            raise SettingError(
                f"{name} is {raw!r}, which is not {wanted}; "
                f"write for example {name}={example}"
            ) from None


def _flag(raw: str) -> bool:
    word = raw.lower()
    if word not in YES | NO:
        raise ValueError("a yes or a no")
    return word in YES


def _words(raw: str) -> list[str]:
    words = [word.strip() for word in raw.split(",") if word.strip()]
    if not words:
        raise ValueError("a list with commas between")
    return words
