"""The one place that talks to a solver, and the one place that believes it.

HiGHS in process first, CBC where it is missing. "Optimal" is trusted only when the solver's own
model status proves it; values after any other status are read only if the solver says that it has
a feasible point. PuLP 3.3 says "Optimal" on a time limit, negates maximisations and drops the
objective's constant; all three are undone here.
"""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import pulp

from planner.arrays import Bools
from planner.errors import SolverError

if TYPE_CHECKING:
    import highspy

SolverName = Literal["HiGHS", "CBC"]
SEED = 7
CLOSED = 2e-6  # HiGHS calls a mixed problem optimal once point and bound are 1e-6 apart


@dataclass(frozen=True, slots=True)
class Solution:
    """What a solve is known to have found.

    proven
        The point is optimal, not merely within the gap, or the infeasibility is proven.
    has_point
        Variables hold a feasible point.
    objective, bound
        Value of the point and what no point can beat, both in the sense of the problem.
    """

    proven: bool
    has_point: bool
    infeasible: bool
    objective: float | None
    bound: float | None
    status: str
    solver: SolverName


def solver_name() -> SolverName:
    """The solver that will be used on this machine."""
    return "HiGHS" if find_spec("highspy") else "CBC"


def solve(
    problem: pulp.LpProblem,
    *,
    seconds: float | None = None,
    gap: float = 0.0,
    relaxed: bool = False,
    nodes: int | None = None,
    prefer: SolverName | None = None,
    ended: Bools | None = None,
) -> Solution:
    """Solve a problem on one thread with a fixed seed.

    Parameters
    ----------
    problem : pulp.LpProblem
        Its variables get values if the answer has a point.
    seconds : float, optional
        Time limit [s]; none in tests, so that the same file gives the same plan.
    gap : float
        Relative gap at which the solver may stop. CBC's bound does not come through PuLP, so CBC
        goes on to the end: a point within a gap would be worth nothing without its bound.
    relaxed : bool
        Ignore integrality.
    nodes : int, optional
        Of the tree, after which the solver stops with what it has, the same on every machine.
    prefer : {"HiGHS", "CBC"}, optional
        Solver to use instead of the first one found.
    ended : ndarray of bool, shape (1,), optional
        Set from another thread, it lets HiGHS stop soon; CBC goes on.

    Raises
    ------
    SolverError
        If the solver did not run.
    """
    if (prefer or solver_name()) == "HiGHS":
        return _highs(problem, seconds, gap, relaxed, nodes, ended)
    return _cbc(problem, seconds, relaxed, nodes)


def _highs(
    problem: pulp.LpProblem, seconds: float | None, gap: float, relaxed: bool, nodes: int | None,
    ended: Bools | None,
) -> Solution:
    import highspy  # noqa: PLC0415  (heavy, and absent where CBC serves)

    names = highspy.HighsModelStatus
    most = {} if nodes is None else {"mip_max_nodes": nodes}
    solver = pulp.HiGHS(msg=False, mip=not relaxed, threads=1, timeLimit=seconds, gapRel=gap,
                        random_seed=SEED, **most, **_hearing(ended))
    try:
        problem.solve(solver)
    except KeyError as unknown:  # 3.3.2 knows no limit of nodes, but has read the point
        if nodes is None or problem.solverModel.getModelStatus() != names.kSolutionLimit:
            msg = f"HiGHS stopped with a status that cannot be read ({unknown}); solve again."
            raise SolverError(msg) from unknown
    engine = problem.solverModel
    status = engine.getModelStatus()
    if status == names.kNotset:
        msg = "HiGHS did not run; another solve in this process used other threads."
        raise SolverError(msg)
    info = engine.getInfo()
    sign = -1.0 if problem.sense == pulp.LpMaximize else 1.0
    constant = problem.objective.constant if problem.objective is not None else 0.0
    optimal = status == names.kOptimal
    has_point = optimal or (
        math.isfinite(info.objective_function_value) and info.primal_solution_status == 2
    )
    mixed = not relaxed and problem.isMIP()
    raw_bound = info.mip_dual_bound if mixed else info.objective_function_value
    bound = sign * raw_bound + constant if (mixed or optimal) and math.isfinite(raw_bound) else None
    objective = sign * info.objective_function_value + constant if has_point else None
    if status == names.kUnboundedOrInfeasible:
        status = _without_objective(engine)
    infeasible = status == names.kInfeasible
    return Solution(
        proven=infeasible or (optimal and _meet(objective, bound)),
        has_point=has_point,
        infeasible=infeasible,
        objective=objective,
        bound=None if infeasible else bound,
        status=status.name[1:],
        solver="HiGHS",
    )


def _hearing(ended: Bools | None) -> dict[str, Any]:
    """Options that let HiGHS look at a mark between its steps and stop once it is set."""
    import highspy  # noqa: PLC0415

    if ended is None:
        return {}

    def look(_kind: object, _message: str, _out: object, into: Any, _user: object) -> None:  # noqa: ANN401
        into.user_interrupt = bool(ended[0])

    kinds = highspy.cb.HighsCallbackType
    return {"callbackTuple": (look, None),
            "callbacksToActivate": [kinds.kCallbackMipInterrupt, kinds.kCallbackSimplexInterrupt]}


def _without_objective(engine: highspy.Highs) -> highspy.HighsModelStatus:
    """Tell unbounded from infeasible, which presolve may leave open: nothing to gain, no bound."""
    import highspy  # noqa: PLC0415

    columns = np.arange(engine.getNumCol(), dtype=np.int32)
    engine.changeColsCost(len(columns), columns, np.zeros(len(columns)))
    engine.run()
    status = engine.getModelStatus()
    names = highspy.HighsModelStatus
    return names.kUnbounded if status == names.kOptimal else status


def _meet(objective: float | None, bound: float | None) -> bool:
    if objective is None or bound is None:
        return False
    return abs(bound - objective) <= CLOSED * max(1.0, abs(objective))


def _cbc(
    problem: pulp.LpProblem, seconds: float | None, relaxed: bool, nodes: int | None
) -> Solution:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # PuLP 3.3 already retires the name
        solver = pulp.PULP_CBC_CMD(msg=False, mip=not relaxed, timeLimit=seconds, gapRel=0.0,
                                   maxNodes=nodes, threads=1, options=[f"randomSeed {SEED}"])
        try:
            problem.solve(solver)
        except pulp.PulpSolverError as failed:
            msg = f"CBC did not run: {failed}"
            raise SolverError(msg) from failed
    optimal = problem.sol_status == pulp.LpSolutionOptimal
    infeasible = problem.status == pulp.LpStatusInfeasible  # "Integer infeasible" too
    has_point = optimal or problem.sol_status == pulp.LpSolutionIntegerFeasible
    value = float(pulp.value(problem.objective)) if has_point else None
    return Solution(
        proven=optimal or infeasible,
        has_point=has_point,
        infeasible=infeasible,
        objective=value,
        bound=value if optimal else None,
        status="Infeasible" if infeasible else pulp.LpSolution[problem.sol_status],
        solver="CBC",
    )
