"""Addresses of builds and of a room's planned panels."""

from django.urls import path

from quotes.specs.views import builds, plan

urlpatterns = [
    path("builds/", builds.builds, name="builds"),
    path("builds/starter/", builds.builds_starter, name="builds-starter"),
    path("builds/<uuid:pk>/", builds.build, name="build"),
    path("builds/<uuid:pk>/copy/", builds.build_copy, name="build-copy"),
    path("builds/<uuid:pk>/change/", builds.build_change, name="build-change"),
    path("builds/<uuid:pk>/archive/", builds.build_archive, name="build-archive"),
    path("builds/<uuid:pk>/restore/", builds.build_restore, name="build-restore"),
    path("builds/<uuid:pk>/bench-sheet.pdf", builds.build_sheet, name="build-sheet"),
    path("rooms/<uuid:pk>/plan/", plan.plan, name="plan"),
    path("rooms/<uuid:pk>/plan/add/", plan.plan_add, name="plan-add"),
    path("planned/<uuid:pk>/", plan.plan_change, name="plan-change"),
    path("planned/<uuid:pk>/drop/", plan.plan_drop, name="plan-drop"),
    path("planned/<uuid:pk>/restore/", plan.plan_restore, name="plan-restore"),
    path("planned/<uuid:pk>/bench-sheet.pdf", plan.plan_sheet, name="plan-sheet"),
]
