"""Addresses of rooms, surveys and their parts."""

from django.urls import path

from shop.surveys.views import members, parts, rooms, surveys, walk, walls

urlpatterns = [
    path("rooms/", rooms.rooms, name="rooms"),
    path("rooms/new/", rooms.room_new, name="room-new"),
    path("rooms/<uuid:pk>/", rooms.room, name="room"),
    path("rooms/<uuid:pk>/change/", rooms.room_change, name="room-change"),
    path("rooms/<uuid:pk>/archive/", rooms.room_archive, name="room-archive"),
    path("rooms/<uuid:pk>/restore/", rooms.room_restore, name="room-restore"),
    path("rooms/<uuid:pk>/measure/", surveys.survey_new, name="survey-new"),
    path("surveys/<uuid:pk>/", surveys.survey, name="survey"),
    path("rooms/<uuid:pk>/blank/", surveys.survey_blank, name="survey-blank"),
    path("surveys/<uuid:pk>/sheet/", surveys.survey_paper, name="survey-sheet"),
    path("surveys/<uuid:pk>/change/", surveys.survey_change, name="survey-change"),
    path("surveys/<uuid:pk>/walk/", walk.survey_walk, name="survey-walk"),
    path("photos/<uuid:pk>/", walk.photo, name="photo"),
    path("photos/<uuid:pk>/remove/", walk.photo_remove, name="photo-remove"),
    path("photos/<uuid:pk>/restore/", walk.photo_restore, name="photo-restore"),
    path("surveys/<uuid:pk>/openings/new/", parts.opening_new, name="opening-new"),
    path("surveys/<uuid:pk>/zones/new/", parts.zone_new, name="zone-new"),
    path("surveys/<uuid:pk>/beams/new/", walls.beam_new, name="beam-new"),
    path("surveys/<uuid:pk>/members/new/", members.member_new, name="member-new"),
    path("members/<uuid:pk>/change/", members.member_change, name="member-change"),
    path("members/<uuid:pk>/remove/", members.member_remove, name="member-remove"),
    path("members/<uuid:pk>/restore/", members.member_restore, name="member-restore"),
    path("walls/<uuid:pk>/after/", walls.wall_new, name="wall-new"),
    path("walls/<uuid:pk>/change/", walls.wall_change, name="wall-change"),
    path("walls/<uuid:pk>/remove/", walls.wall_remove, name="wall-remove"),
    path("walls/<uuid:pk>/restore/", walls.wall_restore, name="wall-restore"),
    path("beams/<uuid:pk>/change/", walls.beam_change, name="beam-change"),
    path("beams/<uuid:pk>/remove/", walls.beam_remove, name="beam-remove"),
    path("beams/<uuid:pk>/restore/", walls.beam_restore, name="beam-restore"),
    path("openings/<uuid:pk>/change/", parts.opening_change, name="opening-change"),
    path("openings/<uuid:pk>/remove/", parts.opening_remove, name="opening-remove"),
    path("openings/<uuid:pk>/restore/", parts.opening_restore, name="opening-restore"),
    path("zones/<uuid:pk>/change/", parts.zone_change, name="zone-change"),
    path("zones/<uuid:pk>/remove/", parts.zone_remove, name="zone-remove"),
    path("zones/<uuid:pk>/restore/", parts.zone_restore, name="zone-restore"),
]
