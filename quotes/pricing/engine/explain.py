"""Plain words for a figure: what was joined to what, and what it came to."""

from collections.abc import Callable, Iterator
from decimal import Decimal

from quotes.pricing.engine.figures import Figure, Op, Unit

UNIT_WORDS = {
    Unit.MONEY: "",
    Unit.MINUTES: "min",
    Unit.HOURS: "h",
    Unit.METRES: "m",
    Unit.SQUARE_METRES: "m²",
    Unit.COUNT: "",
    Unit.PERCENT: "%",
    Unit.KILOMETRES: "km",
    Unit.MILES: "miles",
}
"""The word printed after a value in each unit."""

PER_WORDS = {
    Unit.HOURS: "an hour",
    Unit.METRES: "a metre",
    Unit.SQUARE_METRES: "a m²",
    Unit.COUNT: "each",
    Unit.KILOMETRES: "a km",
    Unit.MILES: "a mile",
}
"""The words that make a rate of a unit, where saying so helps the reader."""

OPENINGS = {Op.LARGEST: "the larger of ", Op.SMALLEST: "the smaller of "}


def explain(
    figure: Figure,
    *,
    show: Callable[[Figure], str] | None = None,
    depth: int | None = None,
) -> str:
    """Return the derivation as indented lines of plain text.

    Parameters
    ----------
    figure : the figure to open.
    show : prints one operand; the default, `plain`, knows no locale.
    depth : levels to open below the first; None opens all.
    """
    return "\n".join(_lines(figure, show or plain, depth, 0))


def sentence(figure: Figure, show: Callable[[Figure], str] | None = None) -> str:
    """Return one level: "4 joints × 4.5 min × 48.00 an hour = 14.40"."""
    show = show or plain
    how = working(figure, show)
    return f"{how} = {show(figure)}" if how else show(figure)


def working(figure: Figure, show: Callable[[Figure], str] | None = None) -> str:
    """Return how a figure came, without what it came to; "" where nothing opens."""
    show = show or plain
    if not figure.opens or not figure.parts:
        return ""
    if figure.op is Op.PART:
        whole, before, after, base = (show(part) for part in figure.parts)
        return f"{whole} shared over {base}, from {before} to {after}"
    between = f" {figure.symbol} "
    joined = between.join(_operand(figure, part, show) for part in figure.parts)
    if figure.op is Op.ROUND:
        return f"{joined}, rounded"
    return f"{OPENINGS.get(figure.op, '')}{joined}"


def plain(figure: Figure) -> str:
    """Return the value with its unit, in no particular locale."""
    number = _number(figure.value, 2 if figure.unit is Unit.MONEY else 0)
    words = [number, figure.noun or UNIT_WORDS[figure.unit]]
    if figure.per is not None and figure.unit is Unit.MONEY:
        words.append(PER_WORDS[figure.per])
    return " ".join(word for word in words if word)


def _operand(figure: Figure, part: Figure, show: Callable[[Figure], str]) -> str:
    """Return a part as it stands in its parent's sentence; sums name theirs."""
    if figure.op in {Op.SUM, Op.DIFFERENCE} and part.unit is not Unit.PERCENT:
        return f"{part.label} {show(part)}"
    return show(part)


def _lines(
    figure: Figure, show: Callable[[Figure], str], depth: int | None, level: int
) -> Iterator[str]:
    yield f"{'  ' * level}{figure.label}: {sentence(figure, show)}"
    if depth is not None and level >= depth:
        return
    for part in figure.parts:
        if part.opens:
            yield from _lines(part, show, depth, level + 1)


def _number(value: Decimal, least_places: int) -> str:
    """Print at most four decimals, at least the places asked for."""
    whole, _, places = f"{value:.4f}".partition(".")
    places = places.rstrip("0").ljust(least_places, "0")
    return f"{whole}.{places}" if places else whole
