"""Keyed writes from a device that may be away: nothing typed is lost, nothing doubled."""

from shared.offline.registry import Forbidden, Op, Refused, register

__all__ = ["Forbidden", "Op", "Refused", "register"]
