"""The address of the page that a person lands on."""

from django.urls import path

from jobs.nextup import views

urlpatterns = [path("", views.show_next_up, name="next-up")]
