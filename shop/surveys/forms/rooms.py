"""Forms for rooms: where, what for, and a new address where it is new."""

from __future__ import annotations

from typing import Any

from django import forms

from shared.forms import PlainCharField, PlainModelForm
from shop.clients.forms import SiteForm
from shop.clients.models import Client, Site
from shop.surveys.models import Room


class _SiteChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A site by its first line and what tells it from others."""

    def label_from_instance(self, site: Any) -> str:
        """Show the whole address on one line."""
        return ", ".join(site.address.splitlines())


class RoomForm(PlainModelForm):
    """What is known of a room before anybody measures it."""

    notes = PlainCharField(max_length=4000, multiline=True, required=False)

    class Meta:
        model = Room
        fields = ("site", "name", "use", "storey", "sleeping_or_basement", "notes")
        field_classes = {"site": _SiteChoice}
        labels = {
            "site": "Where it is",
            "use": "What it is used for",
            "sleeping_or_basement": "A bedroom or a basement room",
        }
        help_texts = {"name": "As the client calls it: front room, booth, bar."}
        error_messages = {"name": {"required": "Give the room a name."}}

    def __init__(self, *args: Any, client: Client, **kwargs: Any) -> None:
        """Offer the client's own sites in use, and the one the room is at."""
        super().__init__(*args, **kwargs)
        sites = Site.objects.offered(client, also=self.instance.site_id)
        self.fields["site"].queryset = sites  # type: ignore[attr-defined]


class _NewRoomPart(RoomForm):
    """The room's part of the form, where the site may be a new one."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Let the site be another one than those known."""
        super().__init__(*args, **kwargs)
        site: Any = self.fields["site"]
        site.required, site.empty_label = False, "another address, typed below"
        site.widget.attrs.pop("aria-required", None)


class NewRoomForm:
    """A room and its address in one go: the address is asked once."""

    def __init__(self, data: Any = None, *, client: Client) -> None:
        """Bind both parts to what was typed."""
        sites = list(client.sites.live())
        first: dict[str, Any] = {"site": sites[0]} if len(sites) == 1 else {}
        own = "" if sites else client.details.address
        latest = client.enquiries.live().first()
        asked = {"tenure": latest.tenure, "setting": latest.setting} if latest else {}
        if latest:
            first["use"] = latest.use
        self.room = _NewRoomPart(data, client=client, initial=first)
        self.site = SiteForm(
            data,
            prefix="site",
            instance=Site(client=client),
            initial=asked | {"address": own},
        )
        self.knows_sites = bool(sites)
        self.is_bound = data is not None

    def is_valid(self) -> bool:
        """Whether the room will do, and the new address where one was asked for."""
        room = self.room.is_valid()
        return room and (self._chosen() is not None or self.site.is_valid())

    def _chosen(self) -> Site | None:
        chosen: Site | None = self.room.cleaned_data.get("site")
        return chosen

    @property
    def new_site(self) -> Site | None:
        """The site to write down, when no known one was chosen. Call it when valid."""
        if self._chosen() is not None:
            return None
        site: Site = self.site.save(commit=False)
        return site

    @property
    def wants_address(self) -> bool:
        """Whether the part for a new address stands open."""
        if not self.knows_sites:
            return True
        chosen = self.room["site"].value()
        return self.is_bound and not chosen

    @property
    def errors(self) -> dict[str, Any]:
        """What was refused, in both parts; the address only where it is asked for."""
        found = dict(self.room.errors)
        if self.is_bound and not self.room["site"].value():
            found |= {f"site-{name}": said for name, said in self.site.errors.items()}
        return found

    @property
    def status(self) -> int:
        """The answer's status: 422 when something typed was refused."""
        return 422 if self.is_bound and self.errors else 200
