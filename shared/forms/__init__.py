"""Form fields and forms that refuse with a sentence and lose nothing that was typed."""

from shared.forms.base import KeepTyped, PlainForm, PlainModelForm, plain_formfield
from shared.forms.lengths import LengthFormField, LengthInput, TypedLength, typed
from shared.forms.numbers import (
    CountField,
    MoneyFormField,
    NumberInput,
    PercentFormField,
    PlainDecimalField,
)
from shared.forms.text import PlainCharField, refuse_unprintable

__all__ = [
    "CountField",
    "KeepTyped",
    "LengthFormField",
    "LengthInput",
    "MoneyFormField",
    "NumberInput",
    "PercentFormField",
    "PlainCharField",
    "PlainDecimalField",
    "PlainForm",
    "PlainModelForm",
    "TypedLength",
    "plain_formfield",
    "refuse_unprintable",
    "typed",
]
