"""What pages, quotes and papers show of rooms."""

from shop.surveys.reports.facts import (
    MadeFacts,
    OpeningFacts,
    RoomFacts,
    SiteFacts,
    SurveyFacts,
    WallFacts,
    cautions_in,
    room_cautions,
    room_facts,
    rooms_facts,
)

__all__ = [
    "MadeFacts",
    "OpeningFacts",
    "RoomFacts",
    "SiteFacts",
    "SurveyFacts",
    "WallFacts",
    "cautions_in",
    "room_cautions",
    "room_facts",
    "rooms_facts",
]
