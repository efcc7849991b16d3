"""Each check finds the defect it is for, names it, and says nothing about a sound home."""

from __future__ import annotations

from planner.errors import Severity
from planner.facts.home import Panel, Use
from planner.wiring import check_wiring
from tests.homes import base, home, load

LARGE = (Panel("main", 100.0),)
ONLY_OFF = frozenset({"off"})
ONLY_DIRECT = frozenset({"direct"})


def found(*loads, **changes):
    """Check a home and return its findings as (severity, where, sentence)."""
    findings = check_wiring(home(*loads, **{"panels": LARGE, **changes}))
    return [(finding.severity, finding.where, finding.sentence) for finding in findings]


def test_a_sound_home_has_no_findings():
    """A requirement, an exclusion, an order and a subpanel that agree are passed in silence."""
    panels = (*LARGE, Panel("upstairs", 60.0, fed_from="main"))
    assert found(base(1.0), load("air", 3.0, requires=("blower",), panel="upstairs"),
                 load("blower", 0.5), load("heat", 5.0, not_with=("air",)), panels=panels,
                 never_before=(("heat", "air"),)) == []


def test_a_circle_in_requires_is_named_step_by_step():
    """The sentence follows the circle around and starts where the file does."""
    assert found(load("a", 1.0, requires=("b",)), load("b", 1.0, requires=("c",)),
                 load("c", 1.0, requires=("a",))) == [
        (Severity.ERROR, "load a: requires",
         "requires goes in a circle: a requires b, b requires c, c requires a.")]


def test_a_load_that_requires_itself_is_a_circle():
    """The shortest circle has one load."""
    assert found(load("a", 1.0, requires=("a",))) == [
        (Severity.ERROR, "load a: requires", "requires goes in a circle: a requires a.")]


def test_a_circle_in_never_before_is_named():
    """Two pairs that contradict each other leave no order."""
    assert found(load("a", 1.0), load("b", 1.0), never_before=(("a", "b"), ("b", "a"))) == [
        (Severity.ERROR, "wishes: never_before",
         "no order is possible: a stands before b, b stands before a.")]


def test_two_separate_circles_are_both_found():
    """One circle does not hide another."""
    sentences = found(load("a", 1.0), load("b", 1.0), load("c", 1.0), load("d", 1.0),
                      never_before=(("a", "b"), ("b", "a"), ("c", "d"), ("d", "c")))
    assert [sentence for _, _, sentence in sentences] == [
        "no order is possible: a stands before b, b stands before a.",
        "no order is possible: c stands before d, d stands before c."]


def test_order_by_importance_contradicts_a_pair():
    """A pair that puts the lesser load first is an error under importance, fine when free."""
    loads = (load("spa", 5.0, importance=1), load("air", 3.0, importance=5))
    pair = (("air", "spa"),)
    assert found(*loads, never_before=pair) == []
    assert found(*loads, never_before=pair, order_rule="importance") == [
        (Severity.ERROR, "wishes: never_before",
         "no order is possible: spa stands before air by this pair, air (importance 5) stands "
         "before spa (importance 1) by importance.")]


def test_must_run_ranks_above_every_importance():
    """A must-run load of importance 0 may not be put behind one of importance 5."""
    loads = (load("pump", 1.0, importance=0, must_run=True), load("air", 3.0, importance=5))
    severities = [one[0] for one in found(*loads, never_before=(("pump", "air"),),
                                          order_rule="importance")]
    assert severities == [Severity.ERROR]


def test_a_pair_with_a_load_that_never_takes_turns_is_only_noted():
    """The order is about loads that take turns; a pair with another is harmless."""
    loads = (load("range", 8.0, allowed=ONLY_DIRECT, importance=1), load("air", 3.0, importance=5))
    assert found(*loads, never_before=(("air", "range"),), order_rule="importance") == [
        (Severity.NOTE, "wishes: never_before",
         "air after range has no effect: range never takes turns.")]


def test_what_is_always_connected_keeps_what_must_stand_ahead_of_it_from_turns():
    """A direct load is ahead of all that take turns, so the other cannot be behind a module."""
    loads = (load("range", 8.0, allowed=ONLY_DIRECT), load("air", 3.0))
    assert found(*loads, never_before=(("range", "air"),)) == [
        (Severity.NOTE, "wishes: never_before",
         "air cannot take turns: range, which must stand after it, is always connected and so "
         "ahead of all that do.")]
    loads = (load("range", 8.0, allowed=ONLY_OFF), load("air", 3.0))
    assert found(*loads, never_before=(("range", "air"),)) == [
        (Severity.NOTE, "wishes: never_before",
         "range after air has no effect: range never takes turns.")]


def test_a_pair_against_the_stages_of_a_room_is_a_circle():
    """The heat pump stands ahead of its back-up heat; a stage of the other season does not."""
    heats, cools = {"every": Use(kind="heating")}, {"every": Use(kind="cooling")}
    stages = (load("pump", 3.0, nature="room", use=heats, room="house", compressor=True),
              load("strip", 5.0, nature="room", use=heats, room="house"),
              load("air", 3.0, nature="room", use=cools, room="house", compressor=True))
    assert found(*stages, never_before=(("pump", "strip"),)) == [
        (Severity.ERROR, "wishes: never_before",
         "no order is possible: pump stands before strip, strip stands before pump.")]
    assert found(*stages, never_before=(("air", "strip"),)) == []


def test_a_load_may_not_exclude_what_it_requires():
    """Neither directly, nor two of its needs among themselves."""
    assert found(load("a", 1.0, requires=("b",)), load("b", 1.0, not_with=("a",))) == [
        (Severity.ERROR, "load a: requires", "requires b and is not_with it.")]
    assert found(load("a", 1.0, requires=("b", "c")), load("b", 1.0, not_with=("c",)),
                 load("c", 1.0)) == [
        (Severity.ERROR, "load a: requires", "requires b and c, which are not_with each other.")]


def test_a_load_may_not_exclude_itself():
    """A load that is never on with itself is never on."""
    assert found(load("a", 1.0, not_with=("a",))) == [
        (Severity.ERROR, "load a: not_with", "a load is not_with itself.")]


def test_requiring_a_load_that_may_only_be_off():
    """An error if the load has to be connected, a warning if it may stay off too."""
    needs = {"requires": ("blower",)}
    off = load("blower", 0.5, allowed=ONLY_OFF)
    assert [one[0] for one in found(load("air", 3.0, **needs), off)] == [Severity.ERROR]
    assert [one[0] for one in found(load("air", 3.0, allowed=frozenset({"module", "off"}), **needs),
                                    off)] == [Severity.WARNING]
    assert [one[0] for one in found(load("air", 3.0, must_run=True, allowed=frozenset(
        {"module", "off"}), **needs), off)] == [Severity.ERROR]


def test_an_always_connected_load_needs_more_than_a_turn():
    """Always-connected air cannot rest on a blower that takes turns; air in turns can."""
    blower = load("blower", 0.5, allowed=frozenset({"module"}))
    assert found(load("air", 3.0, allowed=ONLY_DIRECT, requires=("blower",)), blower) == [
        (Severity.ERROR, "load air: requires",
         "is always connected and requires blower, which may not be.")]
    assert found(load("air", 3.0, requires=("blower",)), blower) == []


def test_unknown_panels_are_errors_with_a_suggestion():
    """A parent and a load's panel that do not exist are both named."""
    findings = check_wiring(home(load("air", 3.0, panel="upstair"), panels=(
        *LARGE, Panel("upstairs", 60.0, fed_from="mian"))))
    assert [(one.where, one.sentence, one.remedy) for one in findings] == [
        ("panel upstairs: fed_from", 'there is no panel "mian".', 'Did you mean "main"?'),
        ("load air: panel", 'there is no panel "upstair".', 'Did you mean "upstairs"?')]


def test_panels_that_feed_one_another_are_a_circle():
    """The circle is named and nothing else breaks on the way."""
    panels = (Panel("main", 100.0), Panel("east", 60.0, fed_from="west"),
              Panel("west", 60.0, fed_from="east"))
    assert found(load("air", 3.0, panel="east"), panels=panels) == [
        (Severity.ERROR, "panel east: fed_from",
         "panels feed one another in a circle: east feeds west, west feeds east.")]


def test_a_load_larger_than_a_feeder_above_it_is_an_error():
    """12 kW at 240 V is 50 A: too much for a 40 A subpanel, also where the panel above holds it."""
    panels = (*LARGE, Panel("shed", 40.0, fed_from="main"))
    assert found(load("kiln", 12.0, panel="shed"), panels=panels) == [
        (Severity.ERROR, "load kiln", "draws 50.0 A, but panel shed carries 40 A.")]


def test_a_feeder_larger_than_its_source_is_noted():
    """It does no harm, but the reader should know which rating counts."""
    panels = (*LARGE, Panel("shed", 150.0, fed_from="main"))
    assert found(load("air", 3.0), panels=panels) == [
        (Severity.NOTE, "panel shed: feeder",
         "150 A is fed from panel main of 100 A; the smaller of the two limits it.")]


def test_errors_come_before_warnings_and_notes():
    """What stops the work is read first."""
    severities = [one[0] for one in found(
        load("air", 3.0, requires=("fan",), allowed=frozenset({"module", "off"})),
        load("fan", 0.5, allowed=ONLY_OFF), load("b", 1.0, requires=("b",)),
        panels=(Panel("main", 200.0),))]
    assert severities == [Severity.ERROR, Severity.WARNING, Severity.NOTE]
