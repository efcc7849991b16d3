"""What `check` and `demand` answer about a sound home."""

from __future__ import annotations

import pytest

from planner.case.read import read_home
from planner.physics.demand import calculated_load
from planner.report.cautions import CAUTIONS


def test_check_lists_every_load_and_marks_what_was_assumed(planner, home_file):
    """A value that the file gives has no mark, one that the library filled in has."""
    outcome = planner("check", home_file(('"4.5 kW"', '"4.5 kW"\nrunning = "4.5 kW"')))
    assert outcome.code == 0
    rows = {line.split()[0]: line for line in outcome.out.splitlines() if line.strip()}
    assert " L1 " in rows["Blower"]
    assert "4.50 " in rows["Heater"]
    assert "Hot water*" in rows["Heater"]
    assert "--assumed" in outcome.out


def test_check_shows_what_the_family_would_miss(planner, home_file):
    """Each comfort with what serves it, what it matters, its promise and where to stay."""
    path = home_file(('id = "lights"', 'id = "lights"\nimportance = 2'))
    outcome = planner("check", path)
    rows = {line.split()[0]: " ".join(line.split()) for line in reversed(outcome.out.splitlines())
            if line.strip()}
    assert "Comforts" in outcome.out
    assert rows["Hot"] == "Hot water Heater 4*"
    assert rows["Light"] == "Light and outlets Lights 2"
    assert "House Air 5* 82 degF* summer*" in " ".join(outcome.out.split())
    data = planner("check", path, "--json").data
    room = data["comforts"]["blower"]
    assert (room["kind"], room["loads"], room["importance"]) == ("room", ["air"], 5)
    assert (room["promise"], room["refuge"]) == ("82 degF", ["summer"])
    assert {one["key"] for one in room["assumed"]} == {
        "importance", "promise", "refuge", "time_constant"}
    assert data["loads"]["heater"]["comfort"] == "hot-water"
    assert data["loads"]["heater"]["nature"] == "tank"
    assert data["spell_days"] == 3


def test_what_is_assumed_of_a_comfort_is_listed(planner, home_file):
    """With its source, between the house and the loads."""
    shown = " ".join(planner("check", home_file(), "--assumed").out.split())
    assert "time constant" in shown
    assert "a wish; common practice, no source" in shown


def test_assumptions_are_listed_with_their_source(planner, home_file):
    """Every assumption of the home stands in the list."""
    home, _ = read_home(home_file())
    outcome = planner("check", home_file(), "--assumed", "--json")
    listed = {load_id: [one["key"] for one in load["assumed"]]
              for load_id, load in outcome.data["loads"].items()}
    assert listed == {load.id: [one.key for one in load.assumed] for load in home.loads}
    assert all(one["source"] for load in outcome.data["loads"].values() for one in load["assumed"])


def test_warnings_go_to_standard_error_and_into_the_json(planner, home_file):
    """A load that never calls is a warning beside the answer, not a failure."""
    path = home_file(('id = "heater"\n', 'id = "heater"\nuse.every = {kind = "never"}\n'))
    outcome = planner("check", path)
    assert outcome.code == 0
    assert "warning: house.toml: load heater: use:" in outcome.err
    assert "warning" not in outcome.out
    findings = planner("check", path, "--json").data["findings"]
    assert "warning" in [one["severity"] for one in findings]


def test_contradictions_of_the_wiring_are_errors_of_the_file(planner, home_file):
    """The file and the load are named, as for any other fault of the file."""
    outcome = planner("check", home_file(
        ('size = "0.5 hp"', 'size = "0.5 hp"\nrequires = ["air"]')))
    assert outcome.code == 2
    assert outcome.out == ""
    assert ("error: house.toml: load air: requires: requires goes in a circle: air requires "
            "blower, blower requires air.") in outcome.err


def test_demand_shows_each_line_and_a_total_that_is_their_sum(planner, home_file):
    """The demand lines add up to the calculated load, and it is that of the physics."""
    home, _ = read_home(home_file())
    data = planner("demand", home_file(), "--json").data
    assert data["total_va"] == pytest.approx(calculated_load(home).total_va)
    assert data["total_va"] == pytest.approx(
        sum(line["va"] for line in data["lines"] if line["role"] == "demand"))
    shown = planner("demand", home_file()).out
    assert f"{data['total_va']:,.0f}" in shown
    assert all(line["clause"] in shown for line in data["lines"])


def test_edition_and_method_on_the_command_line_win(planner, home_file):
    """The sheet is calculated as asked, not as the file says."""
    data = planner("demand", home_file(), "--edition", "2017", "--method", "standard",
                   "--json").data
    assert (data["edition"], data["method"]) == ("2017", "standard")
    assert data["total_va"] != planner("demand", home_file(), "--json").data["total_va"]


def test_a_part_of_the_loads_is_less_than_all(planner, home_file):
    """Counting one load only gives the smaller figure."""
    part = planner("demand", home_file(), "--load", "blower", "--json").data["total_va"]
    assert part < planner("demand", home_file(), "--json").data["total_va"]


def test_the_cautions_end_the_answer(planner, home_file):
    """Whoever reads the calculated load reads the cautions, as text and as data."""
    shown = " ".join(planner("demand", home_file()).out.split())
    assert all(caution in shown for caution in CAUTIONS)
    assert planner("demand", home_file(), "--json").data["cautions"] == list(CAUTIONS)


@pytest.mark.parametrize("command", ["check", "demand"])
def test_text_through_a_pipe_stays_within_100_columns(planner, home_file, command):
    """No table is wider than a page, no colour codes get into a file."""
    out = planner(command, home_file()).out
    assert max(len(line) for line in out.splitlines()) <= 100
    assert "\x1b" not in out


def test_fewer_circuits_than_the_code_counts_are_said(planner, home_file):
    """`check` warns, the sheet notes it, with the clause of the edition; the minimum is counted."""
    path = home_file(('method = "optional"\n', 'method = "optional"\n'
                      "small_appliance_circuits = 0\nlaundry_circuits = 0\n"))
    outcome = planner("check", path)
    assert outcome.code == 0
    said = " ".join(outcome.err.split())
    assert ("warning: house.toml: code: small_appliance_circuits: 0 is below the 2 small-appliance "
            "circuits that a dwelling has at least; 2 counted (NEC 220.52(A)).") in said
    assert "code: laundry_circuits: 0 is below the 1 laundry circuit" in said
    data = planner("demand", path, "--json").data
    assert [(one["severity"], one["where"]) for one in data["findings"]] == [
        ("note", "code.small_appliance_circuits"), ("note", "code.laundry_circuits")]
    newer = planner("demand", path, "--edition", "2026", "--json").data["findings"]
    assert any("0 given, 2 counted" in one["sentence"] and "(120.52(A))" in one["sentence"]
               for one in newer)
    assert data["total_va"] == planner("demand", home_file(), "--json").data["total_va"]


def test_enough_circuits_are_passed_in_silence(planner, home_file):
    """The code's own number gives no finding."""
    assert planner("demand", home_file(), "--json").data["findings"] == []


def test_a_load_above_every_standard_rating_has_a_sheet(planner, home_file):
    """Many loads, each within bounds: the sheet says that no rating of 240.6(A) carries them."""
    loads = "".join(f'[[loads]]\nid = "kiln-{n}"\nkind = "kiln"\nleg = "both"\n'
                    f'running = "280 kW"\nuse.every = {{kind = "never"}}\n' for n in range(20))
    path = home_file(('service = "200 A"', 'service = "1200 A"'),
                     ('feeder = "200 A"', 'feeder = "6000 A"'),
                     ('kind = "lighting and receptacles"\nsize = "1500 ft^2"\n',
                      'kind = "lighting and receptacles"\nsize = "1500 ft^2"\n' + loads))
    assert planner("check", path).code == 0
    outcome = planner("demand", path)
    assert outcome.code == 0
    assert "no standard rating carries that, the largest is 6000 A" in " ".join(outcome.out.split())
    assert planner("demand", path, "--json").data["minimum_service_a"] is None


def measured(days, interval_min, generation):
    """Turn the home's method into the measured one, with a peak of 7 kVA."""
    return ('method = "optional"\n',
            f'method = "measured"\n[code.measured]\npeak = "7 kVA"\ndays = {days}\n'
            f'interval = "{interval_min} min"\nwith_generation = {generation}\n')


@pytest.mark.parametrize(("days", "generation", "interval"), [
    (20, "false", 15), (60, "true", 15), (60, "false", 60)])
def test_a_measurement_against_the_code_is_an_error(
    planner, home_file, days, generation, interval,
):
    """The sheet is shown with the error, and the command leaves with the code of a bad file."""
    path = home_file(measured(days, interval, generation))
    outcome = planner("demand", path)
    assert outcome.code == 2
    assert "error: code.measured" in outcome.err
    assert "does not count until the errors above are mended" in outcome.err
    assert "Measured maximum demand at 125 %" in outcome.out
    as_data = planner("demand", path, "--json")
    assert as_data.code == 2
    assert "error" in [one["severity"] for one in as_data.data["findings"]]
    assert planner("demand", path, "--method", "optional").code == 0


def test_a_good_measurement_is_no_error(planner, home_file):
    """A year of 15-minute data passes, with generation as a warning only."""
    path = home_file(measured(365, 15, "true"))
    outcome = planner("demand", path)
    assert outcome.code == 0
    assert "warning: code.measured.with_generation" in outcome.err


def test_amperes_of_each_line_are_shown(planner, home_file):
    """As text and as data each line has its amperes; their mean is the load at 240 V."""
    data = planner("demand", home_file(), "--json").data
    lines = data["line_amperes"]
    assert (lines["L1"] + lines["L2"]) / 2.0 == pytest.approx(data["amperes"])
    shown = " ".join(planner("demand", home_file()).out.split())
    assert f"L1 carries {lines['L1']:.1f} A and L2 {lines['L2']:.1f} A" in shown


@pytest.mark.parametrize(("edition", "clauses"), [
    ("2023", "Part V of Article 220 (220.102, 220.103"),
    ("2026", "Part V of Article 120 (120.102, 120.103")])
def test_a_sheet_says_that_a_farm_has_a_part_of_its_own(planner, home_file, edition, clauses):
    """NEC 220.102 and 220.103 (from memory) count farm buildings; the sheet counts a dwelling."""
    said = " ".join(planner("demand", home_file(), "--edition", edition).out.split())
    assert clauses in said
