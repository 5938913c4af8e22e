"""Signing in, people, passwords and the shop's page."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from babel import Locale, UnknownLocaleError
from babel.numbers import list_currencies
from django import forms
from django.contrib.auth.forms import AuthenticationForm, UsernameField
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.functional import lazy

from shared.conventions import current
from shared.forms import (
    CountField,
    KeepTyped,
    MoneyFormField,
    PlainCharField,
    PlainForm,
    PlainModelForm,
)
from shared.money import MAX_DECIMALS, round_money
from shared.quantities import AREA
from shop.people.models import Person, ShopProfile


class SignInForm(KeepTyped, AuthenticationForm):
    """Name and password."""

    # Django's own field says how long a name may be but does not check it, and
    # PostgreSQL then refuses the record of the failed try.
    username = UsernameField(
        max_length=150, widget=forms.TextInput(attrs={"autofocus": True})
    )

    error_messages = AuthenticationForm.error_messages | {
        "invalid_login": "That name and password don’t go together."
        " Mind capitals in both.",
    }


class PersonForm(PlainModelForm):
    """What an owner writes down of somebody who works here."""

    class Meta:
        model = Person
        fields = ("username", "first_name", "last_name", "role", "phone", "email")
        labels = {
            "username": "Name to sign in with",
            "first_name": "First name",
            "last_name": "Family name",
            "email": "E-mail",
        }
        help_texts = {
            "username": "Short, without spaces, as in mina.",
            "role": "Owners run the shop; the office quotes; makers and fitters see no"
            " costs or prices.",
        }
        error_messages = {
            "username": {"unique": "Somebody already signs in with this name."}
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Say whose password boxes the browser should offer nothing for."""
        super().__init__(*args, **kwargs)
        self.fields["username"].widget.attrs["autocomplete"] = "off"


class OwnDetailsForm(PlainModelForm):
    """What people may change of themselves."""

    class Meta:
        model = Person
        fields = ("first_name", "last_name", "phone", "email")
        labels = {
            "first_name": "First name",
            "last_name": "Family name",
            "email": "E-mail",
        }


class _PasswordField(forms.CharField):
    """A new password, never stripped and never shown again."""

    def __init__(self, **kwargs: Any) -> None:
        """Tell the browser that it is new."""
        box = forms.PasswordInput(attrs={"autocomplete": "new-password"})
        super().__init__(widget=box, strip=False, max_length=200, **kwargs)


class SetPasswordForm(PlainForm):
    """A new password for somebody, typed once: it can be shown by the browser."""

    password = _PasswordField(
        label="New password",
        help_text="Eight characters or more; three words are easy to remember.",
        error_messages={"required": "Type a new password."},
    )

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        """Keep whose it is, since a password must not be like the name."""
        self.person = person
        super().__init__(*args, **kwargs)

    def clean_password(self) -> str:
        """Hold it to the rules of the settings."""
        password: str = self.cleaned_data["password"]
        validate_password(password, self.person)
        return password


class OwnPasswordForm(SetPasswordForm):
    """A new password for oneself, after the old one."""

    old = forms.CharField(
        label="Your password now",
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": "Type the password that you have now."},
    )
    field_order = ("old", "password")

    def clean_old(self) -> str:
        """Check that it is really the person."""
        old: str = self.cleaned_data["old"]
        if not self.person.check_password(old):
            raise ValidationError("That isn’t your password.")
        return old


class NewPersonForm(PersonForm):
    """Somebody new, with a first password."""

    password = _PasswordField(
        label="First password",
        help_text="Eight characters or more. They can change it on their own page.",
        error_messages={"required": "Type a first password."},
    )

    def clean(self) -> dict[str, Any]:
        """Hold the password to the rules, with the names beside it."""
        cleaned: dict[str, Any] = super().clean() or {}
        if password := cleaned.get("password"):
            known = Person(
                username=cleaned.get("username", ""),
                first_name=cleaned.get("first_name", ""),
                last_name=cleaned.get("last_name", ""),
                email=cleaned.get("email", ""),
            )
            try:
                validate_password(password, known)
            except ValidationError as refused:
                self.add_error("password", refused)
        return cleaned


def _zones() -> list[tuple[str, str]]:
    """Return the zones that are named after places, and UTC."""
    named = sorted(z for z in available_timezones() if "/" in z and z[:3] != "Etc")
    return [("UTC", "UTC"), *((z, z.replace("_", " ")) for z in named)]


class AreaRateField(MoneyFormField):
    """An amount per m², or per ft² in a shop of feet and inches; kept per m²."""

    def __init__(self, *, end: str) -> None:
        """Say in the label which unit of area it is for, known when it is shown."""
        named: Any = lazy(lambda: f"Per {AREA.usual} of floor, {end}", str)
        super().__init__(label=named(), required=False)

    def prepare_value(self, value: Any) -> Any:
        """Print the amount per the shop's own unit."""
        if isinstance(value, Decimal):
            value = round_money(value * self._per_unit(), current().currency)
        return super().prepare_value(value)

    def to_python(self, value: Any) -> Decimal | None:
        """Read the amount per the shop's own unit."""
        amount = super().to_python(value)
        if amount is None or isinstance(value, Decimal):
            return amount
        return round(amount / self._per_unit(), MAX_DECIMALS)

    def _per_unit(self) -> Decimal:
        return AREA.factor(AREA.usual)


class ProfileForm(PlainModelForm):
    """The shop's page: what papers show, and how lengths, money and time are written."""

    address = PlainCharField(max_length=400, multiline=True, required=False)
    how_to_pay = PlainCharField(
        max_length=600,
        multiline=True,
        required=False,
        help_text="Printed on the quote beside the deposit.",
    )
    terms = PlainCharField(
        max_length=4000,
        multiline=True,
        required=False,
        help_text="Printed on each quote.",
    )
    currency = PlainCharField(
        max_length=3, help_text="Three letters, as in EUR, GBP or USD."
    )
    locale = PlainCharField(
        max_length=10,
        label="Language and country",
        help_text="For numbers, money and dates, as in en_GB, en_US or de_AT.",
    )
    time_zone = forms.ChoiceField(choices=_zones)
    quote_valid_days = CountField(
        label="A quote is valid for, days", min_value=1, max_value=366, example="30"
    )
    ballpark_per_m2_from = AreaRateField(end="from")
    ballpark_per_m2_to = AreaRateField(end="to")
    ballpark_per_panel_from = MoneyFormField(label="Per panel, from", required=False)
    ballpark_per_panel_to = MoneyFormField(label="Per panel, to", required=False)

    class Meta:
        model = ShopProfile
        fields = (
            "name",
            "strapline",
            "address",
            "phone",
            "email",
            "web",
            "tax_number",
            "how_to_pay",
            "terms",
            "quote_valid_days",
            "unit_system",
            "fraction",
            "currency",
            "locale",
            "time_zone",
            "paper",
            "ballpark_per_m2_from",
            "ballpark_per_m2_to",
            "ballpark_per_panel_from",
            "ballpark_per_panel_to",
            "invented",
        )
        labels = {
            "unit_system": "Lengths in",
            "fraction": "Smallest fraction of an inch",
            "email": "E-mail",
            "invented": "This shop is invented",
        }
        help_texts = {
            "fraction": "",
            "invented": "Marks every page and paper as demo data. Untick it when you"
            " write in your own shop.",
        }

    def clean_currency(self) -> str:
        """Take a code that Babel knows."""
        code = str(self.cleaned_data["currency"]).upper()
        if code not in list_currencies():
            raise ValidationError("There is no such currency. Write EUR, GBP or USD.")
        return code

    def clean_locale(self) -> str:
        """Take a locale that Babel knows, written with a dash or an underscore."""
        code = str(self.cleaned_data["locale"])
        try:
            place = Locale.parse(code.replace("-", "_"))
        except (UnknownLocaleError, ValueError, TypeError):
            raise ValidationError(
                "There is no such language and country. Write en_GB, en_US or de_AT."
            ) from None
        return str(place)

    def clean_time_zone(self) -> str:
        """Take a zone that this machine knows."""
        return ZoneInfo(self.cleaned_data["time_zone"]).key

    def clean(self) -> dict[str, Any]:
        """Read both ends of a ballpark together."""
        cleaned: dict[str, Any] = super().clean() or {}
        for name in ("ballpark_per_m2", "ballpark_per_panel"):
            self._check_range(name, cleaned)
        return cleaned

    def _check_range(self, name: str, cleaned: dict[str, Any]) -> None:
        low, high = (cleaned.get(f"{name}_{end}") for end in ("from", "to"))
        if self.has_error(f"{name}_from") or self.has_error(f"{name}_to"):
            return
        if (low is None) != (high is None):
            empty = "from" if low is None else "to"
            self.add_error(f"{name}_{empty}", "Fill in both ends, or neither.")
        elif low is not None and high < low:
            self.add_error(f"{name}_to", "The upper end is below the lower end.")
