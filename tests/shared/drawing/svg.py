"""Reading drawings back: parse the SVG, find shapes and words."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree as ET

NS = "{http://www.w3.org/2000/svg}"


def parse(svg):
    return ET.fromstring(svg)


def all_of(root, tag):
    return list(root.iter(NS + tag))


def words(root):
    return [node.text for node in all_of(root, "text")]


def ids(root):
    return [node.get("id") for node in root.iter() if node.get("id")]


def collisions(drawing):
    """Name every pair of labels that touch, and every label off the paper."""
    labels = drawing.labels()
    pairs = [
        (a.text, b.text) for a, b in combinations(labels, 2) if a.box.overlaps(b.box)
    ]
    outside = [
        (label.text, "off the paper")
        for label in labels
        if not drawing.paper.contains(label.box)
    ]
    return pairs + outside
