"""Filling a load: the nameplate wins, the library fills in the rest and says so."""

from __future__ import annotations

import pytest

from planner.case.library import kinds
from planner.case.read import read_home
from planner.errors import CaseError, Severity
from planner.facts.assumption import Assumption
from tests.case.files import HEAD, load_text, read_load, read_text


def assumed(load, key) -> Assumption | None:
    """Find the assumption of a load under a key, if there is one."""
    return next((item for item in load.assumed if item.key == key), None)


ENDS = [
    (kind.name, option.unit, size)
    for kind in kinds().values() for option in kind.sizes for size in (option.low, option.high)
]


@pytest.mark.parametrize(("kind", "unit", "size"), ENDS)
def test_every_kind_fills_a_valid_load_at_the_ends_of_its_range(tmp_path, kind, unit, size):
    """Power, power factor, start, wishes and code entry make sense, and each has a source."""
    load = read_load(tmp_path, kind, f'size = "{size!r} {unit}"')
    assert 0.0 < load.running_kw <= load.running_kva + 1e-9
    assert load.starting_kva == 0.0 or load.starting_kva > load.running_kva
    assert 0.0 < load.starting_pf <= 1.0
    assert load.is_motor == bool(load.surge)
    assert load.is_motor <= (load.motor_hp > 0.0)
    assert load.leg in {"L1", "L2", "both"}
    assert 0 <= load.importance <= 5
    assert load.wait_h >= 0.0
    assert load.allowed
    assert ("module" in load.allowed) == bool(load.module_actions)
    assert load.code.va > 0.0
    assert set(load.use) <= {"every", "summer", "winter", "mild"}
    assert {"running", "power_factor", "nameplate", "use"} <= {a.key for a in load.assumed}
    assert all(item.source and item.text and 0.0 <= item.spread <= 0.5 for item in load.assumed)
    assert load.running_a < 200.0


@pytest.mark.parametrize("kind", [k.name for k in kinds().values()
                                  if any(o.default is not None for o in k.sizes)])
def test_a_kind_with_a_usual_size_needs_no_size(tmp_path, kind):
    """The size is filled in, and marked."""
    assert assumed(read_load(tmp_path, kind), "size") is not None


def test_running_amperes_win(tmp_path):
    """17.2 A at 240 V is 4.128 kVA; what the library still adds is marked, running is not."""
    load = read_load(tmp_path, "central air conditioner", 'running = "17.2 A"',
                     'power_factor = "0.92"')
    assert load.running_kva == pytest.approx(17.2 * 240 / 1000)
    assert load.running_kw == pytest.approx(17.2 * 240 / 1000 * 0.92)
    assert load.running_a == pytest.approx(17.2)
    assert assumed(load, "running") is None
    assert assumed(load, "power_factor") is None
    assert assumed(load, "locked_rotor") is not None


@pytest.mark.parametrize(("running", "kw", "kva"), [
    ("4 kW", 4.0, 5.0), ("4000 W", 4.0, 5.0), ("5 kVA", 4.0, 5.0), ("20.833333 A", 4.0, 5.0),
])
def test_running_is_taken_as_power_apparent_power_or_current(tmp_path, running, kw, kva):
    """The power factor stands between the two kinds of power, in either direction."""
    load = read_load(tmp_path, "well pump", f'running = "{running}"', 'power_factor = "0.8"')
    assert load.running_kw == pytest.approx(kw)
    assert load.running_kva == pytest.approx(kva)


def test_locked_rotor_amperes_win(tmp_path):
    """82 A at 240 V is 19.68 kVA, whatever the tonnage says."""
    load = read_load(tmp_path, "central air conditioner", 'size = "3 ton"',
                     'locked_rotor = "82 A"', 'start_power_factor = "0.6"')
    assert load.starting_kva == pytest.approx(19.68)
    assert load.surge[0].kw == pytest.approx(19.68 * 0.6)
    assert assumed(load, "locked_rotor") is None
    assert assumed(load, "start_power_factor") is None


def test_code_letter_takes_the_upper_end_of_its_range(tmp_path):
    """Letter G is 5.6 to 6.29 kVA/hp (NEC Table 430.7(B)): 1.5 hp starts with 9.435 kVA."""
    load = read_load(tmp_path, "well pump", 'size = "1 hp"', 'motor = "1.5 hp"',
                     'code_letter = "G"')
    assert load.starting_kva == pytest.approx(6.29 * 1.5)
    assert load.motor_hp == 1.5


def test_a_motor_of_known_horsepower_starts_at_six_times_full_load(tmp_path):
    """5 hp at 230 V: 28 A full load, 168 A locked rotor (NEC Tables 430.248 and 430.251(A))."""
    load = read_load(tmp_path, "pool pump", 'motor = "3 hp"')
    assert load.running_a == pytest.approx(17.0)
    load = read_load(tmp_path, "irrigation pump", 'size = "5 hp"')
    assert load.running_a == pytest.approx(28.0)
    assert 1000.0 * load.starting_kva / 240 == pytest.approx(168.0)


def test_a_one_leg_motor_draws_the_one_leg_current(tmp_path):
    """1/2 hp at 115 V: 9.8 A full load, 58.8 A locked rotor (Tables 430.248 and 430.251(A))."""
    load = read_load(tmp_path, "booster pump", 'size = "0.5 hp"', 'leg = "L2"')
    assert load.volts == 120
    assert load.running_a == pytest.approx(9.8)
    assert 1000.0 * load.starting_kva / 120 == pytest.approx(58.8)
    assert load.poles == 1


def test_mca_gives_the_running_current(tmp_path):
    """MCA 24 A: 24 / 1.25 = 19.2 A of a fan's motor; the code counts the MCA."""
    load = read_load(tmp_path, "evaporative cooler", 'mca = "24 A"', 'mop = "40 A"', 'leg = "both"')
    assert load.running_a == pytest.approx(19.2)
    assert load.code.va == pytest.approx(24 * 240)
    assert "440.33" in assumed(load, "running").source


def test_the_mca_of_a_condenser_is_more_than_it_draws(tmp_path):
    """24 A: 19.2 A by NEC 440.33 (from memory), 30 to 45 % above the draw at 95 degF (from memory).

    Derived: 19.2 / 1.375 = 13.96 A. What switches it carries the 19.2 A. With a size the capacity
    decides, and never passes the nameplate.
    """
    load = read_load(tmp_path, "central air conditioner", 'mca = "24 A"')
    assert load.running_a == pytest.approx(13.96, abs=0.01)
    assert load.plate_a == pytest.approx(19.2)
    assert load.code.va == pytest.approx(24 * 240)
    sized = read_load(tmp_path, "central air conditioner", 'mca = "24 A"', 'size = "3 ton"')
    assert sized.running_kw == read_load(tmp_path, "central air conditioner",
                                         'size = "3 ton"').running_kw
    small = read_load(tmp_path, "central air conditioner", 'mca = "15 A"', 'size = "3 ton"')
    assert small.running_a == pytest.approx(12.0)


def test_the_code_counts_the_nameplate_and_the_plan_the_draw(tmp_path):
    """A 12 kW range counts 12 000 VA, and draws 8 kW (NEC Table 220.55, column C)."""
    load = read_load(tmp_path, "range", 'size = "12 kW"')
    assert load.code.va == pytest.approx(12_000.0)
    assert load.running_kw == pytest.approx(8.0)
    assert load.code.category == "cooking"
    named = read_load(tmp_path, "range", 'size = "12 kW"', 'nameplate = "14 kW"')
    assert named.code.va == pytest.approx(14_000.0)


def test_an_inverter_does_not_start_hard_unless_its_nameplate_says_so(tmp_path):
    """A variable-speed compressor has no surge; a stated locked-rotor current still counts."""
    soft = read_load(tmp_path, "inverter heat pump", 'size = "3 ton"')
    assert not soft.is_motor
    assert soft.surge == ()
    assert not soft.soft_start_fits
    hard = read_load(tmp_path, "inverter heat pump", 'size = "3 ton"', 'locked_rotor = "60 A"')
    assert hard.starting_kva == pytest.approx(14.4)


def test_surge_steps_are_kept(tmp_path):
    """A measured profile is taken as it is, its hardest step is the start."""
    load = read_load(
        tmp_path, "well pump", 'size = "1 hp"',
        'surge = [{for = "0.1 s", kw = "3 kW", kva = "9 kVA"}, '
        '{for = "0.4 s", kw = "2 kW", kva = "4 kVA"}]')
    assert [(s.seconds, s.kw, s.kva) for s in load.surge] == [(0.1, 3.0, 9.0), (0.4, 2.0, 4.0)]
    assert load.starting_kva == 9.0
    assert load.starting_pf == pytest.approx(1 / 3)


def test_open_legs_are_balanced_and_marked(tmp_path):
    """The largest one-leg load goes first, each to the leg that carries less."""
    text = HEAD + "".join([
        load_text("small", "freezer"), load_text("large", "microwave"),
        load_text("fixed", "dishwasher", 'leg = "L1"'), load_text("middle", "television"),
    ])
    home = read_text(tmp_path, text)
    assert home.load("large").leg == "L2"  # the dishwasher already stands on L1
    assert home.load("fixed").leg == "L1"
    assert assumed(home.load("fixed"), "leg") is None
    assert assumed(home.load("large"), "leg").text == "L2"


def test_a_two_leg_appliance_is_not_put_on_one(tmp_path):
    """A central air conditioner on L1 is an error, not a 120 V air conditioner."""
    with pytest.raises(CaseError, match="does not stand on L1"):
        read_load(tmp_path, "central air conditioner", 'size = "3 ton"', 'leg = "L1"')


def test_medical_equipment_must_run(tmp_path):
    """It is must-run without being asked, and never off."""
    load = read_load(tmp_path, "medical equipment")
    assert load.must_run
    assert load.allowed == {"direct"}


def test_selected_circuits_make_off_free(tmp_path):
    """With selected-circuits transfer a circuit may simply not be connected, must-runs excepted."""
    text = HEAD.replace("whole-house", "selected-circuits")
    text += load_text("fridge", "refrigerator") + load_text("oxygen", "medical equipment")
    home = read_text(tmp_path, text)
    assert home.load("fridge").allowed == {"direct", "off"}
    assert home.load("oxygen").allowed == {"direct"}


def test_modules_of_the_file_open_and_close_the_choice(tmp_path):
    """No module action, no turns; a named action adds the choice."""
    none = read_load(tmp_path, "electric dryer", "modules = []")
    assert none.allowed == {"direct"}
    some = read_load(tmp_path, "microwave", 'modules = ["contactor"]')
    assert "module" in some.allowed


def test_use_of_the_file_wins_and_every_leaves_nothing_to_the_library(tmp_path):
    """A season of the file replaces that season; "every" replaces them all."""
    one = read_load(tmp_path, "heat pump", 'size = "3 ton"', "[loads.use.summer]",
                    'kind = "never"')
    assert one.use["summer"].kind == "never"
    assert one.use["winter"].kind == "heating"
    assert assumed(one, "use").text == "winter: heating"
    every = read_load(tmp_path, "heat pump", 'size = "3 ton"', "[loads.use.every]",
                      'kind = "always"')
    assert set(every.use) == {"every"}
    assert assumed(every, "use") is None


def test_design_temperatures_of_the_home_drive_the_use(tmp_path):
    """Cooling reaches its full duty at the home's summer design, heating at its winter design."""
    load = read_load(tmp_path, "heat pump", 'size = "3 ton"')
    assert load.use["summer"].design_degf == 93.0
    assert load.use["winter"].design_degf == 5.0


def test_a_climate_that_needs_no_cooling_asks_for_none(tmp_path):
    """Where the summer design is below the balance point the library's cooling never calls."""
    text = HEAD.replace('summer_design = "93 degF"', 'summer_design = "68 degF"')
    home = read_text(tmp_path, text + load_text("air", "central air conditioner",
                                                'size = "3 ton"'))
    assert home.load("air").use["summer"].kind == "never"


def test_a_measured_running_current_does_not_soften_the_start(tmp_path):
    """A 5 hp pump that runs at 20 A still starts with 168 A (NEC Table 430.251(A))."""
    load = read_load(tmp_path, "well pump", 'size = "5 hp"', 'running = "20 A"')
    assert load.running_a == pytest.approx(20.0)
    assert 1000.0 * load.starting_kva / 240 == pytest.approx(168.0)


@pytest.mark.parametrize("name", [name for name, kind in kinds().items()
                                  if kind.start_seconds is not None])
def test_a_start_lasts_as_long_as_its_kind_says(tmp_path, name):
    """The seconds of a start are the kind's own, marked with their source; doubled, they double."""
    kind = kinds()[name]
    load = read_load(tmp_path, name, "locked_rotor = \"400 A\"")
    assert [step.seconds for step in load.surge] == [kind.start_seconds.value]
    (marked,) = [one for one in load.assumed if one.key == "start_seconds"]
    assert (marked.text, marked.source) == (f"{kind.start_seconds.value:g} s",
                                            kind.start_seconds.source)


def test_kinds_start_for_different_times():
    """A compressor's start is shorter than that of a pump or a blower, where nothing is known."""
    seconds = {kind.start_seconds.value for kind in kinds().values() if kind.start_seconds}
    assert len(seconds) > 1
    assert kinds()["central air conditioner"].start_seconds.value == 0.3
@pytest.mark.parametrize("hp", [0.75, 1.5, 3.0])
def test_a_motor_decides_the_size_of_what_is_sized_by_its_motor(tmp_path, hp):
    """`motor` alone gives the draw and the start that the same `size` gives, with their marks."""
    by_motor = read_load(tmp_path, "pool pump", f'motor = "{hp} hp"')
    by_size = read_load(tmp_path, "pool pump", f'size = "{hp} hp"')
    assert by_motor == by_size
    assert by_motor.motor_hp == pytest.approx(hp)
    assert assumed(by_motor, "size") is None
    assert assumed(by_motor, "running") is not None


def test_a_motor_and_a_size_that_disagree_are_said(tmp_path):
    """The motor of the nameplate counts; a third and 0.33 hp are the same."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("it", "pool pump", 'size = "1 hp"', 'motor = "1.5 hp"'),
                    encoding="utf-8")
    home, findings = read_home(path)
    assert home.load("it") == read_load(tmp_path, "pool pump", 'motor = "1.5 hp"')
    assert [str(one) for one in findings if one.severity is Severity.WARNING] == [
        "warning: house.toml: load it: size: 1 hp is not read: the motor has 1.5 hp. Leave the "
        "one out that is wrong."]
    path.write_text(HEAD + load_text("it", "sump pump", 'size = "0.3333 hp"', 'motor = "0.33 hp"'),
                    encoding="utf-8")
    assert [one for one in read_home(path)[1] if one.severity is Severity.WARNING] == []


def test_a_motor_says_what_a_compressor_draws_where_nothing_else_does(tmp_path):
    """2 hp draw 12 A at 230 V (NEC Table 430.248), at the power factor of the kind."""
    load = read_load(tmp_path, "central air conditioner", 'motor = "2 hp"')
    assert load.running_a == pytest.approx(12.0)
    assert load.motor_hp == pytest.approx(2.0)
    assert "430.248" in assumed(load, "running").source
    assert assumed(load, "size") is None
    sized = read_load(tmp_path, "central air conditioner", 'motor = "2 hp"', 'size = "3 ton"')
    assert sized.running_kw == pytest.approx(
        read_load(tmp_path, "central air conditioner", 'size = "3 ton"').running_kw)


@pytest.mark.parametrize(("kind", "lines", "words"), [
    ("pool pump", ('motor = "15 hp"',), '15 hp is outside the range of kind "pool pump"'),
    ("heat pump", ('motor = "15 hp"',), "15 hp is above the 10 hp at which the table"),
])
def test_a_motor_beyond_the_tables_asks_for_the_nameplate(tmp_path, kind, lines, words):
    """No draw can be told from it, and none is assumed."""
    with pytest.raises(CaseError, match=words):
        read_load(tmp_path, kind, *lines)
    load = read_load(tmp_path, kind, *lines, 'running = "60 A"', 'leg = "both"')
    assert load.running_a == pytest.approx(60.0)
    assert load.motor_hp == pytest.approx(15.0)


def test_a_motor_that_nothing_is_read_from_is_said(tmp_path):
    """A range with a fan in it draws what its size says."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("it", "range", 'motor = "0.1 hp"'), encoding="utf-8")
    home, findings = read_home(path)
    assert home.load("it").running_kw == read_load(tmp_path, "range").running_kw
    assert ["motor: it is not read" in str(one) for one in findings
            if one.severity is Severity.WARNING] == [True]
