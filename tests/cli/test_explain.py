"""What `planner explain` answers: words that a homeowner can follow, data that a program can."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from planner.report.cautions import CAUTIONS
from planner.study.wish_cost import wish_costs
from tests.homes import base, cheapest, events, home, load, motor, task
from tests.report.plans import book, generator

JARGON = ("infeasible", "binding", "constraint", "relax", "slack", "objective", "solver", "None",
          "nan", "inf ")


@pytest.fixture
def small(monkeypatch):
    """Let the command read a home of four loads and a price book of four sizes."""
    house = home(base(0.5), motor("pump", 1.0, 4.0, label="Pump", must_run=True,
                                  use=events((18.0, 0.5))),
                 load("range", 5.0, label="Range", importance=4, use=events((18.0, 1.0))),
                 task("dryer", 4.5, (18.0, 1.0), label="Dryer", importance=2, wait_h=2.0))
    offered = book(generator(4.0, 2000.0), generator(5.0, 3000.0), generator(8.0, 4000.0),
                   generator(24.0, 9000.0))
    monkeypatch.setattr("planner.cli.explain.read_priced", lambda *_: (house, offered, ()))
    return SimpleNamespace(home=house, book=offered)


GOLDEN = """\
test home: recommended is the 8 kW generator, 8.0 kW on this site, with whole-house switch.
Installed cost 5,500 USD; 100 % of what the family wants is kept, by importance.
Less than usual, each on its hardest day: nothing, everything as usual.

Why not smaller
Size            kW here  Keeps at most    97.0 % for  What stands in the way       Works if
────────────────────────────────────────────────────────────────────────────────────────────────────
5 kW generator      5.0         33.3 %  out of reach  6.04 kW of running power     range is given up
                                                      where 5.00 kW can be given;
                                                      and more
4 kW generator      4.0          0.0 %  out of reach  5.1 kW of running power
                                                      where 4.0 kW can be given;
                                                      and more

5 kW generator, 5.0 kW here
- The most it keeps is 33.3 %, for 4,500 USD; 97.0 % is out of its reach. Then on the hardest days:
  range: without power.
- It cannot do these together, at any price: Pump must run and range. With them less than 97.0 %
  would be kept.
- It would work with more of nearly everything at the same time: among it 6.04 kW of running power
  where 5.00 kW can be given, 25.14 A on a leg where 20.83 A can be given, and 6.03 kW of other load
  beside the hardest start where 4.99 kW can be given.
- range would be kept 0.0 %: Range is refused most on day, between 18:00 and 19:00, where up to 5.0
  kW of running power are missing beside Dryer.
- It works if range is given up: then 100 % for 4,430 USD, 1,070 USD less than the recommended plan.

4 kW generator, 4.0 kW here
- The most it keeps is 0.0 %, for 3,910 USD; 97.0 % is out of its reach. Then on the hardest days:
  range: without power; dryer: not done.
- One wish alone is too much for it, at any price: range.
- It would work with all of this at the same time: 5.1 kW of running power where 4.0 kW can be given
  and 21.23 A on a leg where 16.66 A can be given.
- range would be kept 0.0 %: Range is refused most on day, between 18:00 and 19:00, where up to 2.5
  kW of running power are missing beside Pump.
- dryer would be kept 0.0 %: Dryer is refused most on day, between 18:00 and 20:15, where up to 2.0
  kW of running power are missing beside Pump.
- No single change of the wishes that was tried was found to let it keep 97.0 %.

Why this order
- Range goes ahead of Dryer. The other way round: range: without power instead of as always on day;
  33.3 % instead of 100 % would be kept.
- Dryer comes last: it takes the room that the others leave, done up to 1 h later; dryer: all done.
- With priorities strictly in order of importance the same equipment would keep as much; a plan that
  keeps 97.0 % would then cost the same.

What each wish costs
If                          Price  Generator        Then
─────────────────────────────────────────────────────────────────
Dryer must run     4,400 USD more  24 kW generator  all done
range is given up  1,070 USD less  5 kW generator   without power
dryer is given up     70 USD less  the same         not done
With every change everything else is kept as well as 97.0 % asks for today, and all that is promised
of it. What is given up counts as missing nothing.
Prices from test book: Invented prices.

Nothing would be saved by giving up any one of these: pump.
Nothing more would be paid for any one of these: Range (must run) and dryer (all done).

Safety margin
- All starts together may grow 100 % and more before the plan is refused; with 10 % more it keeps
  100 %.
- All running draws together may grow 23 % before the plan keeps less than 97.0 %: at 23.2 % it
  keeps 33.3 %, and Range loses most (it draws 5.0 kW, 20.8 A on a leg, beside what runs and starts;
  8.0 kW, 33.3 A may be used). It is not refused up to 100 %.

"""


def test_the_explanation_reads_as_agreed(planner, small):
    """The whole text of a small home; read it before a change of it is kept."""
    outcome = planner("explain", "HOME")
    assert (outcome.code, outcome.err) == (0, "")
    body, _, tail = outcome.out.partition("Cautions\n")
    assert [line.rstrip() for line in body.splitlines()] == GOLDEN.splitlines()
    assert tail.count("- ") >= len(CAUTIONS)


def test_no_word_of_the_trade_of_solvers_is_used(planner, small):
    """Numbers carry units, and nobody has to know how the answer was found."""
    said = planner("explain", "HOME").out
    for word in JARGON:
        assert word not in said, word


def test_the_data_has_the_agreed_shape(planner, small):
    """Plan, smaller sizes, wishes and order stand where they were promised."""
    data = planner("explain", "HOME", "--json").data
    assert {"case", "engine", "solver", "currency", "plan", "goal", "smaller", "wishes", "order",
            "notice", "cautions"} <= data.keys()
    assert data["goal"] == 0.97
    assert [one["generator"] for one in data["smaller"]] == ["set-5", "set-4"]
    for one in data["smaller"]:
        assert {"generator", "derated_kw", "proven", "enough", "most", "conflict", "limits",
                "limits_together", "patience_helps", "promises", "waiting", "remedies",
                "sentences"} == one.keys()
    assert {"kind", "loads", "comfort", "direction", "change", "price_change", "size_change_kw",
            "proven", "cost", "coverage", "generator", "then",
            "comforts"} == data["wishes"][0].keys()
    assert {"swaps", "other_rule", "sentences"} == data["order"].keys()


def test_the_plan_explained_is_the_one_recommended(planner, small):
    """`explain` and `plan` speak of the same plan, and the prices of wishes are the study's."""
    plan = cheapest(small.home, small.book, 0.95)
    data = planner("explain", "HOME", "--coverage", "95 %", "--json").data
    assert data["plan"]["cost"] == pytest.approx(plan.cost_usd)
    found = wish_costs(small.home, small.book, plan, 0.95)
    assert [one["cost"] for one in data["wishes"]] == [
        one.plan and round(one.plan.cost_usd, 2) for one in found]


def test_a_goal_out_of_reach_is_refused_as_elsewhere(planner, small, monkeypatch):
    """A coverage that nothing reaches ends with code 1 and says the most that can be had."""
    only = book(generator(5.0, 3000.0))
    monkeypatch.setattr("planner.cli.explain.read_priced", lambda *_: (small.home, only, ()))
    outcome = planner("explain", "HOME")
    assert (outcome.code, outcome.out) == (1, "")
    assert "The most is 33.3 %" in outcome.err


def test_an_interruption_leaves_the_plan(planner, small, monkeypatch):
    """Ctrl-C while wishes are priced: the plan that was found, said to be all, and code 130."""

    def interrupted(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr("planner.study.explain.wish_costs", interrupted)
    outcome = planner("explain", "HOME")
    assert outcome.code == 130
    assert "recommended is the 8 kW generator" in outcome.out
    assert "The search was interrupted." in outcome.out
    assert "Nothing was asked about it yet" in outcome.out
    assert "What each wish costs" not in outcome.out
    outcome = planner("explain", "HOME", "--json")
    assert (outcome.code, outcome.data["complete"]) == (130, False)
    assert outcome.data["plan"]["generator"] == "set-8"


def test_the_smallest_generator_has_nothing_below_it(planner, small, monkeypatch):
    """Then the section says so instead of showing an empty table."""
    only = book(generator(24.0, 9000.0))
    monkeypatch.setattr("planner.cli.explain.read_priced", lambda *_: (small.home, only, ()))
    said = planner("explain", "HOME").out
    assert "It is the smallest generator of the price book." in said
