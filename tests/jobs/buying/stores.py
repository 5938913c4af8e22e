"""The stores that the frozen panels of the tests are made from."""

from quotes.specs.starter import install_starter
from shop.catalogue.models import Material
from tests.factories.catalogue import make_supplier
from tests.factories.jobs import AT
from tests.factories.people import make_person


def fill_stores(*, by=None, lead_days=3):
    """Store the starter catalogue, each kind from a supplier of its own; by code."""
    install_starter(at=AT, by=by or make_person(role="owner"))
    suppliers = {}
    for material in Material.objects.all():
        if material.kind not in suppliers:
            suppliers[material.kind] = make_supplier(
                name=f"{material.kind.title()} yard",
                email=f"{material.kind}@example.org",
                lead_days=lead_days,
            )
        material.supplier = suppliers[material.kind]
        material.save()
    return {material.code: material for material in Material.objects.all()}
