"""Addresses of what is waited for."""

from django.urls import path

from jobs.gates import views

urlpatterns = [
    path("gates/", views.list_gates, name="gates"),
    path("gates/job/<uuid:pk>/set-up/", views.set_up, name="gates-set-up"),
    path("gates/<uuid:pk>/in-hand/", views.in_hand, name="gate-pass"),
    path("gates/<uuid:pk>/go-past/", views.go_past, name="gate-override"),
    path("gates/<uuid:pk>/not-needed/", views.not_needed, name="gate-drop"),
    path("gates/<uuid:pk>/wait-again/", views.wait_again, name="gate-shut"),
    path("gates/<uuid:pk>/sign.pdf", views.sign_off, name="gate-paper"),
    path("gates/<uuid:pk>/mail/", views.mail, name="gate-mail"),
    path("gates/said/<uuid:pk>/undo/", views.undo, name="gate-undo"),
    path("gates/swatch/<uuid:pk>/", views.photo, name="gate-photo"),
    path(
        "gates/swatch/<uuid:pk>/take-out/",
        views.photo_remove,
        name="gate-photo-remove",
    ),
    path(
        "gates/swatch/<uuid:pk>/put-back/",
        views.photo_restore,
        name="gate-photo-restore",
    ),
]
