"""Addresses of what belongs to no app: the pattern page."""

from shared import patterns

app_name = "shared"
urlpatterns = patterns.urlpatterns
