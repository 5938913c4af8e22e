"""Addresses of the bench, jobs and panels."""

from django.urls import path

from jobs.board import views

urlpatterns = [
    path("bench/", views.show_bench, name="bench"),
    path("bench/move/", views.move, name="move"),
    path("bench/mark/", views.mark, name="mark"),
    path("bench/undo/<uuid:batch>/", views.undo, name="undo"),
    path("bench/undo-marks/<uuid:batch>/", views.take_back_marks, name="undo-marks"),
    path("jobs/", views.list_jobs, name="job-list"),
    path("jobs/<uuid:pk>/", views.show_job, name="job"),
    path("panels/<uuid:pk>/", views.show_panel, name="panel"),
    path("panels/<uuid:pk>/sheet.pdf", views.panel_sheet, name="panel-sheet"),
]
