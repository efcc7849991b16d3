"""A home with one assumed value changed is what its file would give with that value."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.study.verify.ends import ends_of, reweighted
from tests.case.files import HEAD, load_text, read_text

FACTS = ("running_kw", "running_kva", "starting_kva", "starting_pf", "motor_hp", "soft_start_fits",
         "code", "use")


def house_with(folder, kind, *lines):
    """Read a home with one load of a kind."""
    return read_text(folder, HEAD + load_text("it", kind, *lines))


def facts(load):
    """Everything about a load that the planner reckons with."""
    found = {name: getattr(load, name) for name in FACTS if name != "code"}
    return {**found, "va": load.code.va, "category": load.code.category,
            "surge": [(step.seconds, step.kw, step.kva) for step in load.surge]}


def assert_same(one, other):
    """Two loads reckon alike."""
    mine, theirs = facts(one), facts(other)
    use = mine.pop("use"), theirs.pop("use")
    surge = mine.pop("surge"), theirs.pop("surge")
    assert use[0] == use[1]
    assert [pytest.approx(step) for step in surge[0]] == surge[1]
    for key, value in mine.items():
        other_value = theirs[key]
        assert value == (other_value if isinstance(value, str | bool)
                         else pytest.approx(other_value, rel=1e-6)), key


def upper(house, key):
    """The load at the upper end of one of its assumed values."""
    load = house.load("it")
    assumption = next(one for one in load.assumed if one.key == key)
    end = ends_of(house, load, assumption)[-1]
    return assumption, end.home.load("it")


@pytest.mark.parametrize(("kind", "larger"), [
    ("refrigerator", "0.26 kW"),  # start is a multiple of the draw
    ("garage door", "0.65 hp"),
    ("attic fan", "0.325 hp"),  # draw and start by the motor table
    ("television", "0.195 kW"),
])
def test_an_assumed_size_carries_all_that_is_tabled_by_it(tmp_path, kind, larger):
    """Three tenths more size gives the load of a file that says that size."""
    _, changed = upper(house_with(tmp_path, kind), "size")
    assert_same(changed, house_with(tmp_path, kind, f'size = "{larger}"').load("it"))


@pytest.mark.parametrize("kind", ["refrigerator", "freezer"])
def test_a_larger_draw_carries_start_rating_and_horsepower(tmp_path, kind):
    """Where the start is a multiple of the draw, all follows as if the file gave that size.

    The size of a refrigerator is the draw of its compressor; the heater of its coil stays.
    """
    house = house_with(tmp_path, kind)
    assumption, changed = upper(house, "running")
    kw = house.load("it").mean_kw * (1.0 + assumption.spread)
    assert_same(changed, house_with(tmp_path, kind, f'size = "{kw:.9f} kW"').load("it"))


def test_a_larger_locked_rotor_current_changes_the_start_alone(tmp_path):
    """As if the nameplate gave it."""
    house = house_with(tmp_path, "central air conditioner", 'size = "3 ton"')
    _, changed = upper(house, "locked_rotor")
    given = house_with(tmp_path, "central air conditioner", 'size = "3 ton"',
                       'locked_rotor = "100 A"').load("it")
    assert_same(changed, given)


def test_a_draw_taken_from_mca_leaves_the_rating_by_code(tmp_path):
    """The code counts MCA, which the file gives; the start is on the nameplate too."""
    house = house_with(tmp_path, "central air conditioner", 'mca = "21 A"', 'locked_rotor = "96 A"')
    old = house.load("it")
    _, changed = upper(house, "running")
    assert changed.running_kva == pytest.approx(1.15 * old.running_kva)
    assert changed.running_kw == pytest.approx(1.15 * old.running_kw)
    assert old.motor_hp == changed.motor_hp == 3.0  # its nameplate, 16.8 A: the row of 17 A
    assert (changed.code, changed.starting_kva) == (old.code, old.starting_kva)


def test_a_power_factor_changes_amperes_where_the_library_tells_kilowatts(tmp_path):
    """As if the file gave that power factor; where it tells amperes, the kilowatts change."""
    for kind, held in (("refrigerator", "running_kw"), ("sump pump", "running_kva")):
        size = () if kind == "refrigerator" else ('size = "0.5 hp"',)
        house = house_with(tmp_path, kind, *size)
        assumption, changed = upper(house, "power_factor")
        factor = float(assumption.text) * (1.0 + assumption.spread)
        given = house_with(tmp_path, kind, *size, f"power_factor = {factor:.9f}").load("it")
        assert getattr(changed, held) == pytest.approx(getattr(house.load("it"), held))
        assert_same(changed, given)


def test_a_power_factor_of_a_given_draw_is_tried_with_either_held(tmp_path):
    """Whether the file said amperes or kilowatts is no longer known, so both are looked at."""
    house = house_with(tmp_path, "sump pump", 'size = "0.5 hp"', 'running = "8 A"')
    load = house.load("it")
    ends = ends_of(house, load, next(a for a in load.assumed if a.key == "power_factor"))
    held = {(end.home.load("it").running_kw == load.running_kw,
             end.home.load("it").running_kva == load.running_kva) for end in ends}
    assert (len(ends), held) == (4, {(True, False), (False, True)})


def test_no_power_factor_exceeds_one(tmp_path):
    """The upper end stops where real and apparent power are equal."""
    house = house_with(tmp_path, "central air conditioner", 'size = "3 ton"')
    load = house.load("it")
    for one in load.assumed:
        for end in ends_of(house, load, one):
            changed = end.home.load("it")
            assert changed.running_kw <= changed.running_kva + 1e-9
            assert changed.starting_pf <= 1.0


def test_a_rating_taken_from_the_draw_is_not_doubted_twice(tmp_path):
    """It follows from the draw; the draw is what to measure."""
    house = house_with(tmp_path, "television")
    load = house.load("it")
    rating = next(one for one in load.assumed if one.key == "nameplate")
    assert rating.spread > 0.0
    assert ends_of(house, load, rating) == ()


def test_an_assumed_running_time_changes_the_uses_that_were_assumed(tmp_path):
    """The use of the file stays as it is."""
    house = house_with(tmp_path, "central air conditioner", 'size = "3 ton"')
    load = house.load("it")
    assumption = next(one for one in load.assumed if one.key == "use")
    low, high = (end.home.load("it").use["summer"].full_duty
                 for end in ends_of(house, load, assumption))
    assert (low, high) == (pytest.approx(0.85 * 0.75), 1.0)
    given = house_with(tmp_path, "central air conditioner", 'size = "3 ton"',
                       'use.summer = { kind = "cooling", balance = "70 degF" }')
    assert all(one.key != "use" for one in given.load("it").assumed)


def test_weights_sum_to_one_after_a_change(tmp_path):
    """The other days keep their proportion."""
    house = house_with(tmp_path, "television")
    cold = house.days[1]
    changed = reweighted(house, cold.id, -0.5)
    assert sum(day.weight for day in changed.home.days) == pytest.approx(1.0)
    assert changed.home.days[1].weight == pytest.approx(0.375 / 0.625)
    assert replace(changed.home, days=house.days) == house
