"""Addresses that devices ask for by themselves, and the page of this device."""

from django.urls import URLPattern, path

from shared.offline import views

urlpatterns: list[URLPattern] = [
    path("sw.js", views.service_worker, name="service-worker"),
    path("offline/", views.device, name="device"),
    path("offline/token/", views.token, name="offline-token"),
    path("offline/pictures/", views.pictures, name="offline-pictures"),
    path("offline/writes/", views.writes, name="offline-writes"),
]
