"""The forms of files: bring one in, and store what it does."""

from __future__ import annotations

from typing import Any

from django import forms

from shared.forms import PlainForm
from shop.catalogue.engine import Table, TableError, read_text
from shop.catalogue.engine.tables import MOST_BYTES, MOST_LINES
from shop.catalogue.forms.books import BOOKS, Book
from shop.catalogue.models import ImportedList


class ImportForm(PlainForm):
    """A file of one of the lists."""

    what = forms.ChoiceField(
        label="List",
        choices=[(value, label.capitalize()) for value, label in ImportedList.choices],
    )
    file = forms.FileField(
        label="File",
        max_length=200,
        widget=forms.FileInput(attrs={"accept": ".csv,text/csv,.txt,.tsv"}),
        help_text=f"CSV in UTF-8, up to {MOST_BYTES // 1_000_000} MB and {MOST_LINES} lines.",
        error_messages={
            "required": "Choose a file.",
            "missing": "Choose a file.",
            "invalid": "Choose a file.",
            "empty": "This file is empty. It begins with the titles of its columns.",
            "max_length": "The name of this file is too long. Give it a shorter one.",
        },
    )

    @property
    def book(self) -> Book:
        """Return the list that was chosen."""
        return BOOKS[ImportedList(self.cleaned_data["what"])]

    def clean(self) -> dict[str, Any]:
        """Read the file as a table, or say beside it why that can't be."""
        cleaned: dict[str, Any] = super().clean() or {}
        file = cleaned.get("file")
        if file and cleaned.get("what"):
            try:
                # one byte over the limit is enough to know
                cleaned["text"] = read_text(file.read(MOST_BYTES + 1))
                cleaned["table"] = self.book.read(cleaned["text"])
            except TableError as refused:
                self.add_error("file", refused.message)
        return cleaned

    @property
    def table(self) -> Table:
        """Return the file as it was read."""
        table: Table = self.cleaned_data["table"]
        return table


class StoreForm(PlainForm):
    """The word that what was seen is to be stored."""

    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    leave_out = forms.BooleanField(required=False)

    def __init__(self, *args: Any, refused: int, **kwargs: Any) -> None:
        """Ask about the lines that are refused, if there are any."""
        super().__init__(*args, **kwargs)
        self.refused = refused
        lines = "line that is" if refused == 1 else f"{refused} lines that are"
        self.fields["leave_out"].label = f"Leave out the {lines} refused"
        if not refused:
            del self.fields["leave_out"]

    def clean(self) -> dict[str, Any]:
        """Hold everything back until somebody says what becomes of refused lines."""
        cleaned: dict[str, Any] = super().clean() or {}
        if self.refused and not cleaned.get("leave_out"):
            self.add_error(
                "leave_out",
                "Say that they are left out, or mend the file and bring it in again.",
            )
        return cleaned
