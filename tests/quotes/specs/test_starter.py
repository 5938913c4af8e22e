import datetime as dt

import pytest

from quotes.specs import adapter, frozen, reports
from quotes.specs.engine.presets import five_builds
from quotes.specs.models import BuildSpec, Hanging
from quotes.specs.starter import install_starter
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.catalogue.models import Material, Operation

pytestmark = pytest.mark.django_db
AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)
BOTH = pytest.mark.parametrize("units", list(UnitSystem))


@BOTH
def test_the_five_builds_come_out_of_the_table_as_they_went_in(owner, units):
    install_starter(at=AT, by=owner, units=units)
    codes = {str(m.pk): m.code for m in Material.objects.all()}
    codes |= {str(o.pk): o.code for o in Operation.objects.all()}
    wanted = {build.key: build for build in five_builds(units)}
    for spec in BuildSpec.objects.with_parts():
        text = repr(frozen.to_json(adapter.build_of(spec)))
        for key, code in (*codes.items(), (str(spec.pk), spec.preset)):
            text = text.replace(key, code)
        again = repr(frozen.to_json(wanted[spec.preset]))
        assert text.lower() == again.lower()


@BOTH
def test_each_of_the_five_can_be_built_at_its_usual_size(owner, units):
    install_starter(at=AT, by=owner, units=units)
    with using(Conventions(unit_system=units)):
        for spec in BuildSpec.objects.with_parts():
            worked = reports.work_out(spec, reports.usual_size())
            assert worked.takeoff is not None, (spec.name, worked.problems)
            assert worked.takeoff.mass.panel_kg > 2
            again = frozen.takeoff_from_json(frozen.to_json(worked.takeoff))
            assert again == worked.takeoff


def test_a_second_time_adds_nothing_and_keeps_what_the_shop_changed(owner):
    made = install_starter(at=AT, by=owner)
    assert len(made) == 5
    Material.objects.update(pack_price=1)
    counts = Material.objects.count(), Operation.objects.count()
    assert install_starter(at=AT, by=owner) == []
    assert (Material.objects.count(), Operation.objects.count()) == counts
    assert set(Material.objects.values_list("pack_price", flat=True)) == {1}


def test_a_build_that_the_shop_renamed_is_not_made_again(owner):
    install_starter(at=AT, by=owner)
    spec = BuildSpec.objects.get(preset="screen")
    spec.name = "Our screen"
    spec.save()
    install_starter(at=AT, by=owner)
    assert BuildSpec.objects.count() == 5


def test_nothing_is_said_to_be_rated_or_tested_for_fire(owner):
    install_starter(at=AT, by=owner)
    for material in Material.objects.all():
        assert material.rated_load_n is None
        assert material.fire_class == ""
        assert material.flow_resistivity is None


def test_what_carries_a_hung_panel_is_marked(owner):
    install_starter(at=AT, by=owner)
    spec = BuildSpec.objects.with_parts().get(hanging=Hanging.CHAIN)
    carrying = {i.material.code for i in spec.items.all() if i.in_load_path}
    assert carrying == {"eye-bolt", "quick-link", "chain", "ceiling-eye"}
