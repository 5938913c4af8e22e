"""What a cloth's own facts mean for cutting it, each as a plain sentence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jobs.cutting.adapter.wood import Alike
from shop.catalogue.models import Material

PALE = frozenset(
    [
        "white",
        "ivory",
        "cream",
        "ecru",
        "pale",
        "light",
        "chalk",
        "pearl",
        "snow",
        "vanilla",
        "eggshell",
        "oatmeal",
    ]
)
"""Words for pale colours, as a material's colour or name has them."""


def facts_of(material: Material, groups: Iterable[Alike] = ()) -> tuple[str, ...]:
    """Return what matters of a cloth for these panels; nothing is asked of the database."""
    return tuple(_facts(material, tuple(groups)))


def _facts(material: Material, groups: tuple[Alike, ...]) -> Iterator[str]:
    key = str(material.pk)
    fronts = [g for g in groups if _is_front(g, key)]
    if material.backed:
        yield (
            "This cloth is backed: it shuts the fill off from air, and a panel behind it"
            " absorbs much less. Ask before it is cut."
        )
    if not material.fire_papers:
        yield "No fire papers are on file for this cloth."
    if _is_pale(material) and not all(_is_lined(g) for g in fronts or groups):
        yield "The cloth is pale: without a lining under it the fill may show through."
    elif not material.colour and not all(_is_lined(g) for g in fronts or groups):
        yield (
            "No colour is on file: hold a piece over the fill, since pale or thin cloth"
            " needs a lining."
        )
    if material.directional:
        yield "The cloth has a direction: every piece runs up the roll."
    if material.repeat_ticks:
        yield "The cloth has a pattern: every piece begins at one of its lines."


def _is_front(group: Alike, material: str) -> bool:
    cloths = group.snapshot["takeoff"].get("cloths", ())
    return any(c["material"] == material and c["role"] == "front" for c in cloths)


def _is_lined(group: Alike) -> bool:
    return bool(group.snapshot["build"].get("front_lining"))


def _is_pale(material: Material) -> bool:
    words = f"{material.colour} {material.name}".casefold().replace(",", " ").split()
    return not PALE.isdisjoint(words)
