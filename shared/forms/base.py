"""The forms that all others are made of: they keep what was typed."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db import models
from django.forms.models import ModelFormMetaclass

from shared.forms.lengths import LengthFormField, raw_text
from shared.forms.numbers import CountField, PlainDecimalField
from shared.forms.text import PlainCharField, refuse_unprintable

_DJANGOS_OWN = str(forms.Field.default_error_messages["required"])


class KeepTyped(forms.BaseForm):
    """What all forms here share: sentences from the server, typed values shown again."""

    # The browser's own bubbles would hide the sentence beside the field, in its own words.
    use_required_attribute = False

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Print labels without a colon; hold fields made from models to the same rules."""
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            # what a UUID field reads is no text any more when it comes to validators
            if (
                isinstance(field, forms.CharField)
                and not isinstance(field, forms.UUIDField)
                and refuse_unprintable not in field.validators
            ):
                field.validators = [*field.validators, refuse_unprintable]
            if str(field.error_messages.get("required")) == _DJANGOS_OWN:
                field.error_messages["required"] = (
                    "Choose one."
                    if isinstance(field, forms.ChoiceField)
                    else "Fill this in."
                )
            if field.required and isinstance(
                field.widget, forms.TextInput | forms.Textarea | forms.Select
            ):
                field.widget.attrs.setdefault("aria-required", "true")

    @property
    def status(self) -> int:
        """The answer's status: 422 when something typed was refused."""
        return 422 if self.is_bound and self.errors else 200


class PlainForm(KeepTyped, forms.Form):
    """A form that keeps what was typed."""


_SMALL = 32_767  # PostgreSQL's limit, on SQLite too
_USUAL: dict[type, dict[str, Any]] = {
    models.DecimalField: {"form_class": PlainDecimalField},
    models.IntegerField: {"form_class": CountField, "min_value": None},
    models.PositiveIntegerField: {"form_class": CountField},
    models.PositiveSmallIntegerField: {"form_class": CountField, "max_value": _SMALL},
    models.SmallIntegerField: {
        "form_class": CountField,
        "min_value": None,
        "max_value": _SMALL,
    },
}


def plain_formfield(column: models.Field[Any, Any], **kwargs: Any) -> Any:
    """Return this module's field for a plain column; others keep their own.

    Django's would take 1_000, ١٢ and 1e9 for numbers.
    """
    kind = type(column)
    usual = dict(_USUAL.get(kind, {}))
    if kind in (models.CharField, models.TextField) and column.max_length:
        usual = {"form_class": PlainCharField, "multiline": kind is models.TextField}
    return column.formfield(**usual | kwargs)


class _PlainFields(ModelFormMetaclass):
    """Makes the fields of a row's form by ``plain_formfield``."""

    def __new__(
        cls, name: str, bases: tuple[type, ...], attrs: dict[str, Any]
    ) -> _PlainFields:
        meta = attrs.get("Meta")
        if meta is not None and getattr(meta, "formfield_callback", None) is None:
            meta.formfield_callback = plain_formfield
        return super().__new__(cls, name, bases, attrs)


class PlainModelForm(KeepTyped, forms.ModelForm[Any], metaclass=_PlainFields):
    """A form of one row, which keeps what was typed, raw length texts too.

    Columns of text and numbers get the fields of this module by themselves.
    """

    def _post_clean(self) -> None:
        """Put ``x_text`` beside each changed ``x_ticks``, before the row is checked."""
        for name, field in self.fields.items():
            text_name = name.removesuffix("_ticks") + "_text"
            read = isinstance(field, LengthFormField) and name in self.cleaned_data
            if read and name in self.changed_data and hasattr(self.instance, text_name):
                setattr(self.instance, text_name, raw_text(self, name))
        super()._post_clean()  # type: ignore[misc]
