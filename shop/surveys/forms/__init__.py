"""Forms for rooms, surveys and their parts."""

from shop.surveys.forms.parts import OpeningForm, WallForm, ZoneForm
from shop.surveys.forms.rooms import NewRoomForm, RoomForm
from shop.surveys.forms.surveys import FirstSurveyForm, NextSurveyForm, SurveyForm

__all__ = [
    "FirstSurveyForm",
    "NewRoomForm",
    "NextSurveyForm",
    "OpeningForm",
    "RoomForm",
    "SurveyForm",
    "WallForm",
    "ZoneForm",
]
