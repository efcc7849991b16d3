"""Volt-amperes of a schedule are a nameplate: they tell a size, and the size what is drawn."""

import pytest

from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.editing.any_list import read_any
from planner.editing.items import with_items
from planner.editing.new_home import EMPTY_HOME, new_home_text
from planner.errors import Severity
from planner.report.panel_schedule import schedule_text

BASE = EMPTY_HOME.partition("[[loads]]")[0]
SIZED = [(kind.name, f"{size:g} {option.unit}") for kind in kinds().values()
         for option in kind.sizes[:1] for size in (option.low, option.default, option.high)
         if size is not None and not kind.covers_floor
         and (kind.name, size) != ("air handler", 1.5)]  # the nameplate of 2 ton is the same
HEADER = "circuit,description,breaker,poles,VA"


def home_of(**load):
    """A new home with one load."""
    return read_home_text(with_items(BASE, "loads", [load]), "one.toml")[0]


def again(text):
    """The home that is made of a schedule, without files."""
    return read_home_text(new_home_text(read_any(text, "panel.csv"), "Again"), "again.toml")[0]


def drawn(load):
    """What a plan is made with: draws of the days, starts, and what the code counts."""
    return [load.running_kw, load.running_kva, load.starting_kva, load.code.va / 1000.0,
            *(kw for _, pair in sorted(load.by_day.items()) for kw in pair)]


@pytest.mark.parametrize(("kind", "size"), SIZED, ids=[f"{a}-{b}" for a, b in SIZED])
def test_a_size_survives_the_schedule_as_its_nameplate(kind, size):
    """Written as volt-amperes and read again, a load of any size draws on each day as before.

    Where the usual size has the same nameplate the usual one is meant: a schedule says no more.
    """
    was = home_of(kind=kind, size=size)
    load, = (one for one in again(schedule_text(was)).loads if one.kind == kind)
    if any(one.default for one in kinds()[kind].sizes):
        usual = home_of(kind=kind)
        if usual.loads[-1].code.va == pytest.approx(was.loads[-1].code.va, abs=0.5):
            was = usual
    assert drawn(load) == pytest.approx(drawn(was.loads[-1]), rel=2e-3, abs=2e-3)


def test_a_nameplate_is_not_what_is_drawn():
    """5,559 VA are an air conditioner of 3 ton, which draws less; the code counts them."""
    home = again(f"{HEADER}\n1,A/C,40,2,6370\n5,Dryer,30,2,5600\n9,Range,50,2,12000\n")
    of = {load.kind: load for load in home.loads}
    assert of["central air conditioner"].code.va == 6370.0
    assert of["central air conditioner"].running_kva < 0.8 * 6.37
    assert of["range"].running_kw == home_of(kind="range").loads[-1].running_kw
    assert "loads.a-c.size" in [one.key for one in home.assumed]


def test_what_no_size_has_is_drawn_and_said():
    """60 VA are the nameplate of no air conditioner: taken as its draw, with a warning."""
    listed = read_any(f"{HEADER}\n1,A/C,15,2,60\n", "panel.csv")
    assert any("are the nameplate of no size" in one.sentence for one in listed.findings
               if one.severity is Severity.WARNING)
    assert listed.rows[0]["nameplate"] == "60 VA"


def test_what_the_code_counts_for_a_circuit_is_no_nameplate():
    """1,500 VA of a laundry circuit say nothing of the washer (NEC 220.52(B))."""
    listed = read_any(f"{HEADER}\n1,Laundry,20,1,1500\n", "panel.csv")
    assert "nameplate" not in listed.rows[0]
    assert any("220.52" in one.sentence for one in listed.findings)


@pytest.mark.parametrize("said", [{"mca": "28 A"}, {"size": "4 ton"}])
def test_an_mca_or_a_size_that_is_known_stands_in_the_notes(said):
    """Volt-amperes do not tell them apart, so the schedule does; the draw is the same again."""
    was = home_of(kind="heat pump", **said)
    text = schedule_text(was)
    assert ("MCA 28 A" if "mca" in said else "4 ton") in text
    load, = (one for one in again(text).loads if one.kind == "heat pump")
    assert drawn(load) == pytest.approx(drawn(was.loads[-1]), rel=2e-3, abs=2e-3)


def test_stages_stay_stages():
    """Two stages of a heater come back as two stages, each with its share of the use."""
    loads = [{"kind": "heat pump back-up heat", "size": "5 kW", "label": f"Strips, stage {one}",
              "stage": f"{one} of 2"} for one in (1, 2)]
    was, _ = read_home_text(with_items(BASE, "loads", loads), "one.toml")
    now = again(schedule_text(was))
    assert [load.use for load in now.loads if "stage" in load.label] == [
        load.use for load in was.loads]
