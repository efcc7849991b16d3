"""Every variable of the model, by what it decides; names carry ids, never labels."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pulp

from planner.facts.price_book import Transfer
from planner.model.levels import Level
from planner.model.linear import Pair, Term
from planner.model.tables import Tables
from planner.plan.menu import NEVER
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF
from planner.service.loops.inputs import BY_LEVEL, BY_STRETCH
from planner.service.loops.losing import EMPTY


@dataclass
class Variables:
    """Variables, or constants where there is nothing to decide.

    generator[g], transfer[x], controller[c]
        1 if bought.
    direct[i], module[i], hand[i], off[i]
        Connection of load i.
    sensing[i]
        1 if load i gets the module that senses its call in the place of the cheapest.
    kept_open[i]
        1 if load i is off by a module that stays open, and not by moving its circuit.
    soft[i, s]
        1 if load i gets soft starter s (1 …).
    starters[i]
        Soft starters that fit load i.
    soft_firm[i, s]
        1 if load i has soft starter s and is direct or left to be opened by hand.
    run[i, t]
        1 if load i takes its turn in slot t.
    share[i, t]
        Share of the slot that a store runs; `run` itself where shares of a slot may run.
    awake[k, t], stirred[k, t]
        1 if load k, which others wake, is on in slot t; the share of the slot that counts.
    firm_awake[k, u]
        1 if load k, which others wake, can be on without a module in set u of `Tables.firm_sets`.
    begin[i, t]
        1 if load i begins in slot t a task that it then does in time.
    behind[c, t]
        Deviation of comfort c after slot t, in its unit.
    loss[c, t]
        Loss of comfort c in slot t, before its weight.
    lost[c, t]
        Weighted loss of comfort c in slot t beyond that with unlimited power.
    spoiled[c, d]
        1 if comfort c is lost in the spell of day d after a stretch beyond its limit.
    mean[t]
        kW that slot t counts in the average.
    climate
        VA of the largest of cooling and heating of what is always connected.
    """

    generator: dict[int, Term] = field(default_factory=dict)
    transfer: dict[int, Term] = field(default_factory=dict)
    controller: dict[int, Term] = field(default_factory=dict)
    direct: dict[int, Term] = field(default_factory=dict)
    module: dict[int, Term] = field(default_factory=dict)
    hand: dict[int, Term] = field(default_factory=dict)
    off: dict[int, Term] = field(default_factory=dict)
    sensing: dict[int, Term] = field(default_factory=dict)
    kept_open: dict[int, Term] = field(default_factory=dict)
    soft: dict[tuple[int, int], Term] = field(default_factory=dict)
    soft_firm: dict[tuple[int, int], Term] = field(default_factory=dict)
    starters: dict[int, list[int]] = field(default_factory=dict)
    run: dict[tuple[int, int], Term] = field(default_factory=dict)
    share: dict[tuple[int, int], Term] = field(default_factory=dict)
    awake: dict[tuple[int, int], Term] = field(default_factory=dict)
    stirred: dict[tuple[int, int], Term] = field(default_factory=dict)
    firm_awake: dict[tuple[int, int], Term] = field(default_factory=dict)
    begin: dict[tuple[int, int], Term] = field(default_factory=dict)
    behind: dict[tuple[int, int], Term] = field(default_factory=dict)
    loss: dict[tuple[int, int], Term] = field(default_factory=dict)
    lost: dict[tuple[int, int], Term] = field(default_factory=dict)
    spoiled: dict[tuple[int, int], Term] = field(default_factory=dict)
    mean: dict[int, Term] = field(default_factory=dict)
    climate: Term = 0.0
    whole_slots: bool = True

    def firm(self, i: int) -> list[Pair]:
        """Terms whose sum is 1 when load i is always connected, or until it is opened by hand."""
        return [(self.direct[i], 1.0), (self.hand[i], 1.0)]

    def connected(self, i: int) -> list[Pair]:
        """Terms whose sum is 1 when load i is on standby power."""
        return [*self.firm(i), (self.module[i], 1.0)]


def short(load_id: str) -> str:
    """Id in the letters that an LP file accepts; ids hold no underscore, so nothing collides."""
    return load_id.replace("-", "_")


def declare(problem: pulp.LpProblem, tables: Tables, *, whole_slots: bool) -> Variables:
    """Create the variables of the model.

    Parameters
    ----------
    problem : pulp.LpProblem
        Gets the variables.
    tables : Tables
        The home and what can be bought.
    whole_slots : bool
        Whether `run` and `begin` must be 0 or 1; else a load may be on for a share of a slot, which
        is looser and faster.
    """
    chosen = Variables(whole_slots=whole_slots)
    _declare_equipment(problem, tables, chosen)
    _declare_connections(problem, tables, chosen)
    _declare_turns(problem, tables, chosen, "Binary" if whole_slots else "Continuous")
    _declare_woken(problem, tables, chosen)
    _declare_comforts(problem, tables, chosen)
    chosen.climate = problem.add_variable("climate_va", 0)
    return chosen


def _declare_equipment(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    several = len(tables.menus) > 1
    for g, menu in enumerate(tables.menus):
        name = f"generator_{short(menu.generator.id)}"
        chosen.generator[g] = problem.add_variable(name, 0, 1, "Binary") if several else 1.0
    for x, transfer in enumerate(transfers_of(tables)):
        chosen.transfer[x] = problem.add_variable(f"transfer_{short(transfer.id)}", 0, 1, "Binary")
    for c, controller in enumerate(tables.menus[0].controllers):
        name = f"controller_{short(controller.id)}"
        chosen.controller[c] = problem.add_variable(name, 0, 1, "Binary")


def _declare_connections(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    ways = ((DIRECT, "direct", chosen.direct), (MODULE, "module", chosen.module),
            (BY_HAND, "hand", chosen.hand), (OFF, "off", chosen.off))
    costs = tables.menus[0].soft_cost
    for i, load_id in enumerate(tables.house.ids):
        name = short(load_id)
        for way, word, place in ways:
            if tables.only_direct[i]:
                place[i] = 1.0 if way == DIRECT else 0.0
            elif tables.allowed[i, way]:
                place[i] = problem.add_variable(f"{word}_{name}", 0, 1, "Binary")
            else:
                place[i] = 0.0
        if tables.allowed[i, MODULE] and tables.menus[0].sensing_kind[i] is not None:
            chosen.sensing[i] = problem.add_variable(f"sensing_{name}", 0, 1, "Binary")
        if tables.allowed[i, OFF] and tables.menus[0].keep_cost[i] < NEVER:
            chosen.kept_open[i] = problem.add_variable(f"kept_open_{name}", 0, 1, "Binary")
        for s in range(1, costs.shape[1]):
            if costs[i, s] < float("inf"):
                chosen.starters.setdefault(i, []).append(s)
                chosen.soft[i, s] = problem.add_variable(f"soft_{s}_{name}", 0, 1, "Binary")
                chosen.soft_firm[i, s] = problem.add_variable(f"soft_firm_{s}_{name}", 0, 1)


def _declare_turns(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, category: str
) -> None:
    names = [short(load_id) for load_id in tables.house.ids]
    for i, t in np.argwhere(tables.turns).tolist():
        run = problem.add_variable(f"run_{names[i]}_{t}", 0, 1, category)
        chosen.run[i, t] = chosen.share[i, t] = run
        if chosen.whole_slots and tables.is_store[i]:
            chosen.share[i, t] = problem.add_variable(f"share_{names[i]}_{t}", 0, 1)
    for piece in tables.pieces:
        if piece.known and tables.allowed[piece.load, MODULE]:
            for t in (t for t in piece.starts if (piece.load, t) in chosen.run):
                name = f"begin_{names[piece.load]}_{t}"
                chosen.begin[piece.load, t] = problem.add_variable(name, 0, 1, category)


def _declare_woken(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    names = [short(load_id) for load_id in tables.house.ids]
    for u, one in enumerate(tables.firm_sets):
        for k in sorted(set(one.loads) & set(tables.woken.tolist())):
            chosen.firm_awake[k, u] = problem.add_variable(f"firm_awake_{names[k]}_{u}", 0, 1)
    for k, t in np.argwhere(tables.awake).tolist():
        chosen.awake[k, t] = problem.add_variable(f"awake_{names[k]}_{t}", 0, 1)
    for k, t in np.argwhere(tables.awake & tables.heavy).tolist():
        chosen.stirred[k, t] = problem.add_variable(f"stirred_{names[k]}_{t}", 0, 1)
    for t in np.flatnonzero(tables.heavy).tolist():
        chosen.mean[t] = problem.add_variable(f"mean_kw_{t}", 0)


def _declare_comforts(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    cares, slots = tables.house.cares, tables.slots
    for c, level in tables.levels.items():
        name = short(tables.house.home.comforts[c].id)
        full = float(cares.full[c])
        for t in np.flatnonzero(level.matters).tolist():
            most = min(full, float(level.worst[t]))
            chosen.behind[c, t] = problem.add_variable(f"behind_{name}_{t}", 0, most)
        for t in np.flatnonzero(level.weighed).tolist():
            _declare_loss(problem, tables, chosen, c, t)
        if cares.kind[c] == BY_STRETCH:
            for day in range(slots.days):
                if level.matters[slots.spell_of(day)].any():
                    whole = "Binary" if chosen.whole_slots else "Continuous"
                    chosen.spoiled[c, day] = problem.add_variable(f"spoiled_{name}_{day}", 0, 1,
                                                                  whole)
    for c, t in tables.dark:
        _declare_loss(problem, tables, chosen, c, t)


def _declare_loss(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, c: int, t: int
) -> None:
    name = short(tables.house.home.comforts[c].id)
    whole = "Binary" if chosen.whole_slots and is_step(tables, c, t) else "Continuous"
    chosen.loss[c, t] = problem.add_variable(f"loss_{name}_{t}", 0, 1, whole)
    if tables.slots.judged[t] and tables.house.cares.unlimited[c, tables.slots.of_day[t]] > 0.0:
        chosen.lost[c, t] = problem.add_variable(f"lost_{name}_{t}", 0)


def is_step(tables: Tables, c: int, t: int) -> bool:
    """Whether nothing is lost before all is: dry taps."""
    cares, p = tables.house.cares, tables.slots.of_day[t]
    return bool(cares.kind[c] == BY_LEVEL and cares.high[c, p] - cares.low[c, p] <= EMPTY)


def deviation_before(
    tables: Tables, chosen: Variables, level: Level, c: int, t: int
) -> Term:
    """Give the deviation of comfort c before slot t: a variable, or what a spell begins with."""
    if tables.slots.is_first(t):
        return float(level.start[tables.slots.day[t]])
    return chosen.behind.get((c, t - 1), 0.0)


def transfers_of(tables: Tables) -> list[Transfer]:
    """All transfer equipment that suits some generator, each once, in the order of the book."""
    wanted = {transfer.id for menu in tables.menus for transfer in menu.transfers}
    return [transfer for transfer in tables.menus[0].book.transfers if transfer.id in wanted]
