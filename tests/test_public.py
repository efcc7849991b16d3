"""The planner from Python: what the README shows works, quickly, in short words."""

from __future__ import annotations

import doctest
import re
import subprocess
import sys
from pathlib import Path

import pytest

import planner
from planner import public

ROOT = Path(__file__).parents[1]
HOME = ROOT / "cases" / "gas_heated_small.toml"


@pytest.fixture(scope="module")
def home():
    """A small home of cases/, with its price book."""
    return planner.read_home(HOME)


@pytest.mark.parametrize("module", [planner, public])
def test_examples_of_the_docstrings_are_true(module, monkeypatch):
    """Every example runs from the checkout and gives what it says; there is at least one."""
    monkeypatch.chdir(ROOT)
    failed, tried = doctest.testmod(module)
    assert (failed, tried > 0) == (0, True)


def test_the_lines_of_the_readme_print_a_frontier():
    """The Python block of the README, run as it stands in a process of its own."""
    text = (ROOT / "README.md").read_text("utf-8")
    block = text.partition("```python\n")[2].partition("```")[0]
    assert 3 <= len(block.strip().splitlines()) <= 6
    ran = subprocess.run([sys.executable, "-c", block], cwd=ROOT, capture_output=True, text=True,
                         check=False, env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"})
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "cost_usd" in ran.stdout


def test_importing_the_planner_imports_nothing_heavy():
    """`import planner` alone leaves numpy, pandas, numba, pint and pulp where they are."""
    code = ("import sys, planner; print(*sorted({'numpy', 'pandas', 'numba', 'pint', 'pulp', "
            "'pydantic', 'streamlit'} & set(sys.modules)))")
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True,
                         check=True)
    assert ran.stdout.strip() == ""


def test_everything_that_is_offered_is_there():
    """Each name of the public face, and no other."""
    for name in planner.__all__:
        assert getattr(planner, name) is not None
        assert name in dir(planner)
    with pytest.raises(AttributeError, match="no attribute 'frontiers'"):
        _ = planner.frontiers
    assert (ROOT / "planner" / "py.typed").exists()


def test_answers_are_those_of_the_command_line(home):
    """Same frontier, same recommendation, whichever way they are asked for."""
    points = planner.frontier(home).points
    assert planner.recommend(home, 0.9, confidence=0.0).choice in [one.choice for one in points]
    plan = planner.recommend(home, 0.9)
    assert planner.recommend(home, budget_usd=points[0].cost_usd).cost_usd == points[0].cost_usd
    assert plan.supply.generator.id in planner.compare(home, coverage=0.9).plans
    assert planner.explain(home, 0.9).plan.choice == plan.choice


def test_frames_hold_what_the_plans_say(home):
    """A row for each plan or load, units in the names of the columns."""
    found = planner.frontier(home)
    frame = found.frame()
    assert list(frame["cost_usd"]) == [plan.cost_usd for plan in found.points]
    assert list(frame["generator"]) == [plan.supply.generator.id for plan in found.points]
    plan = found.points[-1]
    loads = plan.frame()
    assert list(loads.index) == [load.id for load in home.loads]
    assert list(loads["service"]) == [part.service for part in plan.loads]
    compared = planner.compare(home).frame()
    assert "no load shedding" in compared.index
    played = planner.simulate(plan, seeds=2, hours=1.0)
    assert list(played.frame().index) == list(loads.index)
    assert played.seeds == 2


def test_everything_says_in_a_line_what_it_is(home):
    """Short words for an interactive session: no dump of arrays."""
    found = planner.frontier(home)
    plan = found.points[0]
    for one in (home, planner.read_book(home.price_book), found, plan,
                planner.simulate(plan, seeds=1, hours=0.5), planner.explain(home)):
        assert len(repr(one)) < 200
        assert repr(one).startswith("<")


def test_a_home_of_a_few_lines_is_planned(home):
    """A list in everyday words and a price book are enough."""
    new = planner.new_home(["central air, 3 ton", "fridge", "must run sump pump 1/2 hp"],
                           label="On the phone")
    assert new.label == "On the phone"
    assert [load.kind for load in new.loads][1:] == [
        "central air conditioner", "refrigerator", "sump pump"]
    assert planner.frontier(new, planner.read_book(home.price_book)).points
    as_text = planner.new_home("central air, 3 ton\nfridge\nmust run sump pump 1/2 hp",
                               label="On the phone")
    assert as_text == new


def test_what_cannot_be_done_is_said_in_the_planners_own_errors(tmp_path):
    """No traceback of a library: a home without a book, an unknown appliance, a missing file."""
    new = planner.new_home(["fridge"])
    with pytest.raises(planner.CaseError, match=r"names no price book\. Add price_book"):
        planner.frontier(new)
    with pytest.raises(planner.CaseError) as caught:
        planner.new_home(["fridge", "foo bar 3000"])
    assert ["line 2" in one.where for one in caught.value.findings] == [True]
    with pytest.raises(planner.CaseError, match="no such file"):
        planner.read_home(tmp_path / "nowhere.toml")
    assert issubclass(planner.CaseError, planner.PlannerError)


@pytest.mark.parametrize(("asked", "kind", "said"), [
    (lambda home: planner.frontier("cases/suburban.toml"), TypeError, "planner.read_home"),
    (lambda home: planner.recommend(home, book="book.toml"), TypeError, "planner.read_book"),
    (planner.simulate, TypeError, "planner.recommend"),
    (lambda home: planner.recommend(home, coverage=90), ValueError, "from 0 to 1, not 90"),
    (lambda home: planner.explain(home, coverage=float("nan")), ValueError, "from 0 to 1"),
    (lambda home: planner.compare(home, coverage=2), ValueError, "from 0 to 1, not 2"),
    (lambda home: planner.recommend(home, coverage="90 %"), TypeError, "coverage is a number"),
    (lambda home: planner.recommend(home, budget_usd=-5.0), ValueError, "0 or more, not -5"),
    (lambda home: planner.simulate(planner.recommend(home), hours=1e9), ValueError, "to 720"),
    (lambda home: planner.simulate(planner.recommend(home), seeds=0), ValueError, "is from 1 to"),
    (lambda home: planner.frontier(home, seconds=-1), ValueError, "from 0.1 to 86400, not -1"),
    (lambda home: planner.recommend(home, gap=120), ValueError, "gap is from 0 to 1, not 120"),
    (lambda home: planner.compare(home, seconds="soon"), TypeError, "seconds is a number"),
    (lambda home: planner.compare(home, [1]), planner.NoPlanError, "has no generator 1")])
def test_what_is_handed_over_wrongly_is_said(home, asked, kind, said):
    """What is expected stands in the message, before anything is looked for."""
    with pytest.raises(kind, match=re.escape(said)):
        asked(home)


def test_limits_of_ones_own(home):
    """With time enough the answer is the usual one; a gap is kept, and nothing ended the search."""
    usual = planner.frontier(home)
    timed, wide = planner.frontier(home, seconds=86_400.0), planner.frontier(home, gap=0.05)
    assert [plan.cost_usd for plan in timed.points] == [plan.cost_usd for plan in usual.points]
    assert (timed.ended, wide.ended) == ("", "")
    assert wide.widest_gap <= 0.05
    plan = planner.recommend(home, seconds=86_400.0, gap=0.0)
    assert plan.cost_usd == pytest.approx(planner.recommend(home).cost_usd)
    assert planner.compare(home, gap=0.05).not_found == ()
    assert issubclass(planner.NotFoundError, planner.NoPlanError)
