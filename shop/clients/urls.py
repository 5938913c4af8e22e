"""Addresses of clients, enquiries and sites."""

from django.urls import path

from shop.clients import views

urlpatterns = [
    path("clients/", views.clients, name="clients"),
    path("clients/new/", views.client_new, name="client-new"),
    path("clients/<uuid:pk>/", views.client, name="client"),
    path("clients/<uuid:pk>/change/", views.client_change, name="client-change"),
    path("clients/<uuid:pk>/archive/", views.client_archive, name="client-archive"),
    path("clients/<uuid:pk>/restore/", views.client_restore, name="client-restore"),
    path("clients/<uuid:pk>/said/", views.client_said, name="client-said"),
    path("clients/<uuid:pk>/enquiries/new/", views.enquiry_new, name="enquiry-new"),
    path("clients/<uuid:pk>/sites/new/", views.site_new, name="site-new"),
    path("enquiries/<uuid:pk>/change/", views.enquiry_change, name="enquiry-change"),
    path("sites/<uuid:pk>/change/", views.site_change, name="site-change"),
    path("enquiries/<uuid:pk>/archive/", views.enquiry_archive, name="enquiry-archive"),
    path("enquiries/<uuid:pk>/restore/", views.enquiry_restore, name="enquiry-restore"),
    path("sites/<uuid:pk>/archive/", views.site_archive, name="site-archive"),
    path("sites/<uuid:pk>/restore/", views.site_restore, name="site-restore"),
]
