"""A saved plan is read from any JSON: a plan that replays, or findings with their places."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.errors import CaseError, Severity
from planner.facts.price_book import Controller
from planner.plan.plan import CONNECTIONS, Plan
from planner.plan.saved import plan_data, saved_plan
from planner.plan.schema import SCHEMA
from planner.report.data import plan_data as written
from planner.search.frontier import frontier
from tests.homes import ALL, base, book, events, generator, home, load, motor

HOUSE = home(base(0.5), load("dryer", 4.0, allowed=ALL, use=events((18.0, 1.0))),
             motor("air", 3.0, 12.0, use=events((17.0, 3.0))))
OFFERED = book(generator(6.5, 3000.0), generator(24.0, 9000.0))
PLAN = frontier(HOUSE, OFFERED).points[0]
SAVED = {"case": "test", "plan": {
    "generator": PLAN.supply.generator.id, "transfer": PLAN.price.transfer.id,
    "loads": {part.id: {"connection": part.connection, "priority": part.priority,
                        "soft_starter": part.soft_starter} for part in PLAN.loads}}}
WORDS = st.sampled_from(["case", "plan", "generator", "transfer", "loads", "base", "air", "dryer",
                         "connection", "priority", "soft_starter", "direct", "module", "off",
                         "test", "set-24", "whole", "soft", "\ud800", "\x1b[31m"])
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | WORDS | st.text(max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=4),
    max_leaves=12)


def paths(value, path=()):
    """Every path into a nested value."""
    yield path
    for key, inner in value.items() if isinstance(value, dict) else ():
        yield from paths(inner, (*path, key))


def spoiled(path, junk):
    """The saved plan with something else at a path."""
    if not path:
        return junk
    data = json.loads(json.dumps(SAVED))
    here = data
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = junk
    return data


def read(data):
    """Read a plan, or give its refusal."""
    try:
        return saved_plan(data, HOUSE, OFFERED, "plan.json")
    except CaseError as refusal:
        return refusal


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(JSON, st.sampled_from(list(paths(SAVED))))
def test_any_json_is_a_plan_or_refused_with_places(junk, path):
    """Alone, or anywhere in a plan that is whole."""
    for data in (junk, spoiled(path, junk)):
        found = read(data)
        if isinstance(found, Plan):
            assert set(PLAN.menu.house.ids) == {part.id for part in found.loads}
            continue
        assert found.findings
        assert found.exit_code == 2
        for one in found.findings:
            assert one.severity is Severity.ERROR
            assert one.where.startswith("plan.json")
            assert len(one.sentence) < 400
        assert len(str(found)) < 3000


def test_the_plan_itself_is_read_back():
    """What is spoiled above is whole: the same connections, order and price."""
    found = read(SAVED)
    assert isinstance(found, Plan)
    assert (found.choice, found.cost_usd) == (PLAN.choice, PLAN.cost_usd)
    assert {part.connection for part in found.loads} <= set(CONNECTIONS.values())


@pytest.mark.parametrize(("path", "junk", "where", "words"), [
    (("plan", "generator"), ["set-24"], "generator", "no generator a list"),
    (("plan", "transfer"), ["whole"], "transfer", "no transfer equipment a list"),
    (("plan", "loads", "air", "connection"), ["direct"], "load air: connection", "a list is not"),
    (("plan", "loads", "air", "soft_starter"), ["soft"], "load air: soft_starter",
     "no soft starter a list"),
    (("plan", "loads", "air"), [], "load air: connection", "nothing is not direct"),
    (("plan", "loads", "air", "connection"), {"direct": 1}, "load air: connection", "a table is"),
    (("plan", "loads"), 5, "loads", "5 stands where"), (("plan",), [], "", "holds no plan"),
    (("schema",), 4, "schema", "4 is no version"), (("schema",), "2", "schema", "is no version"),
    (("case",), "x" * 400, "case", '"xxxxxxxx'), (("plan", "generator"), "s" * 500, "generator",
                                                  '"ssss'),
])
def test_what_is_of_the_wrong_kind_is_named_with_its_place(path, junk, where, words):
    """A list where a name belongs is no mistake of the planner."""
    refusal = read(spoiled(path, junk))
    assert isinstance(refusal, CaseError)
    finding = next(one for one in refusal.findings if words in one.sentence)
    assert finding.where == (f"plan.json: {where}" if where else "plan.json")
    assert len(finding.sentence) < 200


STOVE = home(base(0.5), load("stove", 9.0, allowed=frozenset({"off"})),
             load("kiln", 9.0, allowed=frozenset({"off"})))
DEAR = replace(book(generator(6.5, 3000.0)), relocation=400.0, controllers=(
    Controller("one", "controller for one", 1, 50.0, 0.0),))


def test_a_module_that_stays_open_is_read_back_from_what_is_written():
    """One of two loads that are off is moved, as the controller drives one module: so it is again.

    Without its module the same plan is one in which both are moved.
    """
    (plan,) = frontier(STOVE, DEAR).points
    assert [part.id for part in plan.loads if part.stays_open] == ["stove"]
    data = json.loads(json.dumps({"schema": SCHEMA, "case": "test", "plan": written(plan)}))
    again = saved_plan(data, STOVE, DEAR, "plan.json")
    assert (again.choice, again.cost_usd) == (plan.choice, plan.cost_usd)
    data["plan"]["loads"]["stove"]["module"] = None
    moved = saved_plan(data, STOVE, DEAR, "plan.json")
    assert moved.choice.kept_open == frozenset()
    assert moved.cost_usd == pytest.approx(plan.cost_usd + 400.0 - 250.0 - 50.0)


@pytest.mark.parametrize(("junk", "words"), [
    ("lever", 'no shedding module "lever"'), (["relay"], "no shedding module a list"),
    ({}, "no shedding module a table")])
def test_a_module_that_stays_open_is_one_of_the_book(junk, words):
    """Any other is named with its load."""
    (plan,) = frontier(STOVE, DEAR).points
    data = {"schema": SCHEMA, "case": "test", "plan": written(plan)}
    data["plan"]["loads"]["stove"]["module"] = junk
    with pytest.raises(CaseError) as refusal:
        saved_plan(data, STOVE, DEAR, "plan.json")
    (finding,) = refusal.value.findings
    assert finding.where == "plan.json: load stove: module"
    assert words in finding.sentence


def test_a_module_stays_open_only_where_it_may():
    """A second one is more than the controller drives; without a controller none may."""
    (plan,) = frontier(STOVE, DEAR).points
    data = {"schema": SCHEMA, "case": "test", "plan": written(plan)}
    data["plan"]["loads"]["kiln"]["module"] = "relay"
    with pytest.raises(CaseError, match="no controller or transfer equipment is large enough"):
        saved_plan(data, STOVE, DEAR, "plan.json")
    bare = replace(DEAR, controllers=())
    with pytest.raises(CaseError, match="cannot be off by a module that stays open: stove"):
        saved_plan(data, STOVE, bare, "plan.json")


@pytest.mark.parametrize("text", [
    "[" * 100_000, "{\"a\":" * 100_000, "NaN", "[Infinity]", "-Infinity", "9" * 5000, "{", "",
    '{"case": nan}', "\x00", '"\ud800"'.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    + "]"])
def test_text_that_is_no_json_is_refused(text):
    """Depth, numbers that are none, and thousands of digits too."""
    with pytest.raises(CaseError, match=r"plan\.json cannot be replayed") as refusal:
        plan_data(text, "plan.json")
    assert len(refusal.value.findings) == 1
    assert len(str(refusal.value)) < 200


@given(st.text(max_size=40))
def test_any_text_is_json_or_refused(text):
    """Nothing else ever comes of it."""
    try:
        plan_data(text, "plan.json")
    except CaseError as refusal:
        found = refusal.findings
    else:
        found = (None,)
    assert len(found) == 1
