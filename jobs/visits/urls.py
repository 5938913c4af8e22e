"""Addresses of site days, their van lists and their papers."""

from django.urls import path

from jobs.visits.views import days, loading

urlpatterns = [
    path("van/", days.list_days, name="site-days"),
    path("van/new/", days.new_day, name="site-day-new"),
    path("van/<uuid:pk>/", days.show_day, name="site-day"),
    path("van/<uuid:pk>/change/", days.change, name="site-day-change"),
    path("van/<uuid:pk>/call-off/", days.cancel, name="site-day-cancel"),
    path("van/<uuid:pk>/put-back/", days.restore, name="site-day-restore"),
    path("van/<uuid:pk>/done/", days.finish, name="site-day-done"),
    path("van/<uuid:pk>/not-done/", days.reopen, name="site-day-reopen"),
    path(
        "van/<uuid:pk>/not-done/<uuid:batch>/", days.reopen, name="site-day-reopen-with"
    ),
    path("van/<uuid:pk>/list/", loading.van_list, name="van-list"),
    path("van/<uuid:pk>/list/tick/", loading.van_tick, name="van-tick"),
    path("van/<uuid:pk>/list.pdf", loading.van_list_paper, name="van-list-pdf"),
    path("van/<uuid:pk>/install.pdf", loading.install_sheet, name="install-sheet"),
    path("van/<uuid:pk>/holds/", loading.holds, name="site-day-holds"),
    path("van/<uuid:pk>/holds/take-back/", loading.take_back, name="take-back-load"),
]
