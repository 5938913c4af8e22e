"""Gapless numbers by series and local year."""

from __future__ import annotations

from django.db import models, transaction


class Counter(models.Model):
    """The last number given in one series and year."""

    series = models.CharField(max_length=20)
    year = models.PositiveSmallIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("series", "year"), name="%(app_label)s_%(class)s_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.series} {self.year}: {self.last}"


def next_number(series: str, *, year: int) -> int:
    """Give the next number; gapless because it shares the caller's transaction.

    Raises
    ------
    TransactionManagementError
        Outside a transaction: a number given and then lost would leave a gap.
    """
    if not transaction.get_connection().in_atomic_block:
        raise transaction.TransactionManagementError(series)
    Counter.objects.get_or_create(series=series, year=year)
    counter = Counter.objects.select_for_update().get(series=series, year=year)
    counter.last += 1
    counter.save(update_fields=("last",))
    return counter.last
