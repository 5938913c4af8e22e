"""Addresses of cut plans."""

from django.urls import path

from jobs.cutting.views import asking, drafts, learning, papers, plans, saw

urlpatterns = [
    path("cutting/", asking.list_plans, name="cutting"),
    path("cutting/rules/", asking.change_rules, name="saw-rules"),
    path("cutting/new/", asking.new_plan, name="cut-plan-new"),
    path("cutting/quote/<uuid:pk>/", drafts.quote_in_sheets, name="quote-in-sheets"),
    path("cutting/yields/", learning.yields, name="yields"),
    path("cutting/yields/<uuid:pk>/undo/", learning.undo, name="yield-undo"),
    path("cutting/<uuid:pk>/", plans.show_plan, name="cut-plan"),
    path("cutting/<uuid:pk>/stop/", plans.stop, name="cut-plan-stop"),
    path("cutting/<uuid:pk>/check/", plans.check, name="cut-plan-check"),
    path("cutting/<uuid:pk>/finish/", plans.finish, name="cut-plan-finish"),
    path("cutting/<uuid:pk>/unfinish/", plans.unfinish, name="cut-plan-unfinish"),
    path("cutting/<uuid:pk>/drop/", plans.drop, name="cut-plan-drop"),
    path("cutting/<uuid:pk>/restore/", plans.restore, name="cut-plan-restore"),
    path("cutting/<uuid:pk>/anew/", plans.anew, name="cut-plan-anew"),
    path("cutting/<uuid:pk>/saw/", saw.at_the_saw, name="cut-saw"),
    path("cutting/<uuid:pk>/saw/tick/", saw.tick, name="cut-tick"),
    path("cutting/<uuid:pk>/spoiled/", saw.spoiled, name="cut-spoiled"),
    path("cutting/<uuid:pk>/cut-list.pdf", papers.cut_list, name="cut-list"),
    path("cutting/<uuid:pk>/labels.pdf", papers.labels, name="cut-labels"),
]
