"""From yes to done: bench, site days, next up."""

from datetime import timedelta

from django.apps import AppConfig

from shared.access import Right, Role
from shared.menu import MenuEntry, add_entry, set_home


class JobsConfig(AppConfig):
    """From yes to done."""

    default_auto_field = "django.db.models.BigAutoField"
    name = "jobs"

    def ready(self) -> None:
        """Add to the menu and to pages, open jobs of accepted quotes."""
        # Here, not above: they need models, which exist by now.
        from jobs.board.actions import open_job
        from jobs.board.sections import client_jobs, job_of_quote
        from jobs.board.slots import BOARD_NOTES, JOB_SECTIONS, PANEL_SECTIONS
        from jobs.board.taking_back import close_taken_back, work_keeps_yes
        from jobs.cutting.offline import register_ops as take_cuts
        from jobs.cutting.sections import draft_in_sheets, job_cuts
        from jobs.gates.actions import set_up_on_yes
        from jobs.gates.sections import board_note, job_waits, panel_waits
        from jobs.gates.taking_back import deposit_keeps_yes, refuse_with_deposit
        from jobs.visits.offline import register_ops
        from jobs.visits.sections import job_days
        from jobs.visits.taking_back import days_keep_yes, refuse_with_days
        from quotes.offers.slots import (
            KEEPS_YES,
            ON_ACCEPT,
            ON_TAKE_BACK,
            QUOTE_SECTIONS,
        )
        from shop.clients.slots import CLIENT_SECTIONS

        ON_ACCEPT.add(open_job)
        ON_ACCEPT.add(set_up_on_yes)
        for reason in (work_keeps_yes, days_keep_yes, deposit_keeps_yes):
            KEEPS_YES.add(reason)
        for undo in (close_taken_back, refuse_with_days, refuse_with_deposit):
            ON_TAKE_BACK.add(undo)
        QUOTE_SECTIONS.add(job_of_quote)
        QUOTE_SECTIONS.add(draft_in_sheets)
        CLIENT_SECTIONS.add(client_jobs)
        JOB_SECTIONS.add(job_waits)
        _begin_buying()
        PANEL_SECTIONS.add(panel_waits)
        BOARD_NOTES.add(board_note)
        JOB_SECTIONS.add(job_cuts)
        JOB_SECTIONS.add(job_days)
        register_ops()
        take_cuts()
        set_home("jobs:next-up")
        add_entry(MenuEntry(10, "Next up", "jobs:next-up", "next"))
        # a fitter's day is the van, then the bench that fills it
        van, bench = {Role.FITTER: 15}, {Role.FITTER: 16}
        add_entry(MenuEntry(58, "Cutting", "jobs:cutting", "cut", Right.CUT))
        add_entry(MenuEntry(60, "Bench", "jobs:bench", "bench", own_order=bench))
        add_entry(MenuEntry(70, "Van", "jobs:site-days", "van", own_order=van))


def _begin_buying() -> None:
    """Let buying follow what happens below it, and add to pages and the menu."""
    from jobs.board.slots import JOB_SECTIONS, ON_MEASURED
    from jobs.buying import following as buying
    from jobs.buying.reports.jobs import promises
    from jobs.buying.sections import job_needs
    from jobs.buying.slots import INSTALL_DAYS
    from jobs.buying.taking_back import refuse_with_uses, uses_keep_yes
    from jobs.buying.tasks import refresh
    from jobs.cutting.slots import ON_CUT, ON_PLANNED
    from jobs.visits.models import SiteDay
    from quotes.offers.slots import KEEPS_YES, ON_ACCEPT, ON_TAKE_BACK
    from shared.tasks import come_round
    from shop.catalogue.slots import PROMISES

    ON_ACCEPT.add(buying.follow_yes)
    ON_MEASURED.add(buying.follow_measure)
    ON_PLANNED.add(buying.follow_plan)
    ON_CUT.add(buying.follow_cut)
    KEEPS_YES.add(uses_keep_yes)
    ON_TAKE_BACK.add(refuse_with_uses)
    PROMISES.add(promises)
    INSTALL_DAYS.add(SiteDay.objects.first_installs)
    JOB_SECTIONS.add(job_needs)
    come_round(refresh, every=timedelta(hours=6))
    stores = Right.KEEP_STORES
    add_entry(MenuEntry(56, "Buying", "jobs:buying", "wrapped", stores))
