"""What goes in the van, in which order work is done, what to mind (pure)."""

from __future__ import annotations

from jobs.visits.engine.cautions import Site, SiteCaution, site_cautions
from jobs.visits.engine.fixing import where_to_fix
from jobs.visits.engine.model import (
    Group,
    Holding,
    Line,
    Load,
    VanItem,
    VanList,
    VanPanel,
    VanPiece,
    VanRoom,
)
from jobs.visits.engine.order import Step, order_on_site
from jobs.visits.engine.vanlist import van_list

__all__ = [
    "Group",
    "Holding",
    "Line",
    "Load",
    "Site",
    "SiteCaution",
    "Step",
    "VanItem",
    "VanList",
    "VanPanel",
    "VanPiece",
    "VanRoom",
    "order_on_site",
    "site_cautions",
    "van_list",
    "where_to_fix",
]
