"""Every sentence that may be told before leaving, as a pattern by a name of its own."""

import re

from shop.clients.engine.cautions import SHOWN as OF_SITE
from shop.surveys.engine.asks import MISSING, NEEDED
from shop.surveys.engine.cautions import SHOWN
from shop.surveys.engine.findings import WORDS
from shop.surveys.engine.surfaces import WORDS as OF_SURFACES


def pattern(words):
    """Any text where a place for a value is; the first letter is a capital one."""
    parts = re.split(r"\{\w+\}", words)
    found = ".+".join(map(re.escape, parts))
    return re.compile(found)


WITHOUT_SURVEY = {"soundproof"}
"""What is said at the first talk alone."""

PATTERNS = (
    {key: pattern(words) for key, words in (WORDS | OF_SURFACES).items()}
    | {
        ask.words: pattern(ask.words)
        for group in (*MISSING, *NEEDED)
        for ask in group.asks
    }
    | {
        caution.title: pattern(caution.title)
        for _, caution in (*SHOWN, *OF_SITE)
        if caution.key not in WITHOUT_SURVEY
    }
)
