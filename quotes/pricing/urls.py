"""The address of the price rules."""

from django.urls import path

from quotes.pricing import views

urlpatterns = [path("price-rules/", views.price_rules, name="price-rules")]
