"""Addresses of what belongs to no app: the pattern page, and what devices ask for."""

from shared import patterns
from shared.offline import urls as offline

app_name = "shared"
urlpatterns = [*patterns.urlpatterns, *offline.urlpatterns]
