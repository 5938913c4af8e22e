"""Addresses of sign-in, people and the shop's page."""

from django.urls import path

from shop.people import views

urlpatterns = [
    path("accounts/login/", views.sign_in, name="sign-in"),
    path("accounts/logout/", views.sign_out, name="sign-out"),
    path("shop/people/", views.people, name="people"),
    path("shop/people/new/", views.person_new, name="person-new"),
    path("shop/people/<uuid:pk>/", views.person, name="person"),
    path("shop/people/<uuid:pk>/change/", views.person_change, name="person-change"),
    path(
        "shop/people/<uuid:pk>/password/", views.person_password, name="person-password"
    ),
    path("shop/people/<uuid:pk>/archive/", views.person_archive, name="person-archive"),
    path("shop/people/<uuid:pk>/restore/", views.person_restore, name="person-restore"),
    path("shop/", views.profile, name="profile"),
]
