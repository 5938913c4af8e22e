"""Forms for rooms, surveys and their parts."""

from shop.surveys.forms.parts import BeamForm, MemberForm, OpeningForm, ZoneForm
from shop.surveys.forms.rooms import NewRoomForm, RoomForm
from shop.surveys.forms.surveys import FirstSurveyForm, NextSurveyForm, SurveyForm
from shop.surveys.forms.walls import ShapedSurveyForm, WallForm

__all__ = [
    "BeamForm",
    "FirstSurveyForm",
    "MemberForm",
    "NewRoomForm",
    "NextSurveyForm",
    "OpeningForm",
    "RoomForm",
    "ShapedSurveyForm",
    "SurveyForm",
    "WallForm",
    "ZoneForm",
]
