"""Questions of the pages to the engine; an answer belongs to one visitor and one question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from planner.facts.home import DesignDay, Home
from planner.facts.price_book import PriceBook
from planner.jobs.content import Goal, PlanKey
from planner.plan.plan import Plan
from planner.progress import part_of
from planner.search.beside import Side, beside
from planner.search.frontier import Frontier, frontier
from planner.search.limits import EXACT_LIMITS
from planner.simulation.outage import Outage, simulate
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.study.compare import plan_of_size
from planner.study.confidence import TO_QUOTE, confidence_of, houses_like
from planner.study.options import Option, Options, options
from planner.study.order_reasons import OrderReasons, order_reasons
from planner.study.owning import owning_frontier, unbeaten_by
from planner.study.portable.options import ByHandAnswer, by_hand
from planner.study.recommend import Recommendation, recommend
from planner.study.reference import everything_direct
from planner.study.verify import Doubt, to_verify
from planner.study.why_smaller import SmallerSize, why_not_smaller
from planner.study.wish_cost import WishCost, wish_costs
from ui.session import Session
from ui.work import Answer, Work

AT_ONCE_S = 1.5  # how long a page waits for a quick answer before it shows progress
SEEDS = 10  # outages on each design day
MOST_ANEW = 12  # assumed values for which the home is planned anew


@dataclass(frozen=True)
class Case:
    """A home and a price book that can be planned, of one visitor."""

    session: Session
    home: Home
    book: PriceBook

    @property
    def key(self) -> tuple[str, str]:
        """All that a plan depends on besides the goal."""
        return self.session.home_text, self.session.book_text

    def known_curve(self) -> Frontier | None:
        """Give the plans of `curve` by installed cost if they are known; the exact ones first."""
        desk = self.session.desk
        exact = desk.known("exact curve", self.key) if self.session.patience == "exact" else None
        found = exact or desk.known("curve", (self.key, None))
        return found if isinstance(found, Frontier) else None

    @property
    def known_by(self) -> str:
        """How the plans of `known_curve` were looked for; empty if they are not known."""
        known = self.known_curve()
        return "" if known is None else (
            "exact" if known is self.session.desk.known("exact curve", self.key) else "quick")


def recommended(case: Case) -> Answer[Recommendation]:
    """Ask for the plan that is recommended for the goal, or that the budget buys.

    First, provisionally, the cheapest in the house as it is assumed to be; then the one that holds
    in enough of the houses that fit the file, as every command recommends it, unless the cheapest
    is asked for.
    """
    goal, known = case.session.goal, case.known_curve()

    def holding(share: float) -> Callable[[Work], Recommendation]:
        return lambda work: recommend(
            case.home, case.book, goal.coverage,
            budget_usd=goal.budget_usd if goal.by == "budget" else None,
            none_starved=goal.none_starved, known=known, quickly=True, share=share,
            on_progress=work.tick)

    desk = case.session.desk
    first = desk.ask("recommended", (case.key, replace(goal, sturdy=False), case.known_by),
                     holding(0.0), AT_ONCE_S)
    if share_of(goal) <= 0.0 or first.value is None:
        return first
    if first.stale:  # the last that was shown was the surer one, if it was there
        return replace(first, value=desk.last("recommended for sure") or first.value)
    sure = desk.ask("recommended for sure", (case.key, goal, case.known_by == "exact"),
                    holding(share_of(goal)), 0.3)
    if sure.work is None:
        return sure if sure.value is not None else first
    return Answer(first.value, work=sure.work, provisional=True)


def recommended_before(case: Case) -> Recommendation | None:
    """Give the recommended plan if it was found already; nothing is begun for it."""
    desk, goal = case.session.desk, case.session.goal
    found = (desk.known("recommended for sure", (case.key, goal, case.known_by == "exact"))
             if share_of(goal) > 0.0 else
             desk.known("recommended", (case.key, replace(goal, sturdy=False), case.known_by)))
    return found if isinstance(found, Recommendation) else None


def share_of(goal: Goal) -> float:
    """Share of the houses that fit the file in which a plan has to hold; 0: it is not asked."""
    return TO_QUOTE if goal.sturdy and goal.by == "coverage" else 0.0


def confidence(case: Case, found: Recommendation) -> Answer[Recommendation]:
    """Ask in how many of the houses that fit the file the recommended plan holds."""
    def find(work: Work) -> Recommendation:
        return found if found.confidence else replace(
            found, confidence=confidence_of(found.plan, on_progress=work.tick))

    return case.session.desk.ask("confidence", (case.key, case.session.goal, found.plan.choice),
                                 find, 0.1)


def curve(case: Case) -> Answer[Frontier]:
    """Ask for every plan that no other beats on installed (or owning) cost and coverage.

    Where the visitor wants them exactly the quick answer stands until that one is there.
    """
    home, book, basis = case.home, case.book, case.session.basis

    def find(work: Work) -> Frontier:
        if basis is not None:
            return Frontier(owning_frontier(home, book, basis, on_progress=work.tick))
        return frontier(home, book, on_point=work.find, on_progress=work.tick)

    desk = case.session.desk
    quick = desk.ask("curve", (case.key, basis), find, AT_ONCE_S)
    if case.session.patience == "quick" or basis is not None or not quick.settled:
        return quick
    exact = desk.ask("exact curve", case.key, lambda work: frontier(
        home, book, limits=EXACT_LIMITS, on_progress=work.tick), 0.3)
    return exact if exact.settled else replace(quick, work=exact.work)


def curve_shown(case: Case) -> tuple[Plan, ...]:
    """The plans of `curve` as far as they are known already, by the cost that is looked at."""
    by_owning = case.session.desk.known("curve", (case.key, case.session.basis))
    found = by_owning if case.session.basis is not None else case.known_curve()
    return found.points if isinstance(found, Frontier) else ()


def curve_so_far(work: Work) -> tuple[Plan, ...]:
    """The plans found before the work is done, without those that another of them beats."""
    return unbeaten_by(tuple(work.found), lambda plan: plan.cost_usd)


def of_size(
    case: Case, points: tuple[PlanKey, ...], name: str = "pins"
) -> Answer[tuple[Plan | None, ...]]:
    """Ask again for plans that were picked: of each size the cheapest that covers as much.

    A size that no longer covers as much gives what it covers at most; None if it has no plan.
    """
    home, book = case.home, case.book
    known = {key_of(plan): plan for plan in (case.known_curve() or Frontier(())).points}
    found = recommended(case).value if case.session.goal.sturdy else None
    if found is not None:  # it may stand beside the curve
        known[key_of(found.plan)] = found.plan
    ways = case.session.desk.known("options", _key_of_choices(case))
    if isinstance(ways, Options):  # so may these, and one gives up what the home asks for
        known = {key_of(one.plan): one.plan for one in ways.cards} | known

    def find(work: Work) -> tuple[Plan | None, ...]:
        plans: list[Plan | None] = []
        for place, point in enumerate(points):
            mine = part_of(work.tick, place / len(points), (place + 1) / len(points))
            mine(0.0)
            plans.append(known.get(point) or plan_of_size(
                home, book, point.generator, point.coverage, on_progress=mine))
        return tuple(plans)

    key = (case.key, points, tuple(point in known for point in points))
    return case.session.desk.ask(name, key, find, AT_ONCE_S)


def reference(case: Case) -> Answer[Plan | None]:
    """Ask for the cheapest plan that sheds nothing."""
    return case.session.desk.ask("reference", case.key,
                                  lambda work: everything_direct(case.home, case.book, work.tick),
                                  AT_ONCE_S)


def choices(case: Case) -> Answer[Options]:
    """Ask for the plans to choose from, with the references that they are held against."""
    goal, known, asked = case.session.goal, case.known_curve(), recommended(case)
    key = _key_of_choices(case)

    def find(work: Work) -> Options:
        return options(case.home, case.book, key[-1], known=known,
                       none_starved=goal.none_starved, share=share_of(goal),
                       best=asked.value if asked.settled else None, on_progress=work.tick,
                       on_option=work.find)

    return case.session.desk.ask("options", key, find, 0.3)


def options_so_far(answer: Answer[Options]) -> tuple[Option, ...]:
    """The options that are known before the work is done; of each name the last."""
    found = answer.work.found if answer.work is not None else ()
    return tuple({one.name: one for one in tuple(found)}.values())


def _key_of_choices(case: Case) -> tuple[tuple[str, str], Goal, float]:
    """All that the options depend on; the coverage that they are made for stands last."""
    goal, asked = case.session.goal, recommended(case)
    bought = goal.by == "budget" and asked.settled and asked.value is not None
    return case.key, goal, asked.value.coverage if bought and asked.value else goal.coverage


def prices_of_wishes(case: Case, found: Recommendation) -> Answer[tuple[WishCost, ...]]:
    """Ask what each wish costs, for the same coverage."""
    plan, coverage = found.cheapest, found.coverage
    return case.session.desk.ask(
        "wishes", (case.key, coverage, plan.cost_usd),
        lambda work: wish_costs(case.home, case.book, plan, coverage, on_progress=work.tick), 0.1)


def reasons(case: Case, found: Recommendation) -> Answer[OrderReasons]:
    """Ask why the loads take turns in this order."""
    plan, coverage = found.plan, found.coverage
    return case.session.desk.ask(
        "reasons", (case.key, coverage, plan.choice),
        lambda work: order_reasons(case.home, case.book, plan, coverage, on_progress=work.tick),
        0.3)


def smaller(case: Case, found: Recommendation) -> Answer[tuple[SmallerSize, ...]]:
    """Ask why none of the smaller sizes is recommended."""
    plan, coverage = found.plan, found.coverage
    return case.session.desk.ask(
        "smaller", (case.key, coverage, plan.choice),
        lambda work: why_not_smaller(case.home, case.book, plan, coverage,
                                     houses=houses_like(case.home) if found.asked else None,
                                     on_progress=work.tick),
        0.3)


def doubts(case: Case, found: Recommendation) -> Answer[tuple[Doubt, ...]]:
    """Ask which assumed values matter most."""
    plan, coverage = found.plan, found.coverage
    return case.session.desk.ask(
        "doubts", (case.key, coverage, plan.choice),
        lambda work: tuple(to_verify(case.home, case.book, plan, coverage, work.tick,
                                     most_anew=MOST_ANEW)), 0.3)


def worked_by_hand(case: Case) -> Answer[ByHandAnswer]:
    """Ask what a portable generator keeps whose loads the family chooses by hand."""
    return case.session.desk.ask("by hand", case.key,
                                 lambda work: by_hand(case.home, case.book, work.tick), AT_ONCE_S)


def one_outage(case: Case, plan: Plan, day: DesignDay) -> Answer[Outage]:
    """Ask for one outage, played second by second."""
    wish = case.session.outage

    def play(_: Side) -> Outage:
        return simulate(plan, day, wish.seed, hours=wish.hours, start_h=wish.start_h)

    return case.session.desk.ask(
        "outage", (case.key, key_of(plan), plan.choice, day, replace(wish, day="")),
        lambda work: beside([play], work.tick)[0], AT_ONCE_S)


def many_outages(case: Case, plan: Plan) -> Answer[Results]:
    """Ask for several outages on every design day."""
    wish = case.session.outage

    def find(work: Work) -> Results:
        played = outages(plan, seeds=SEEDS, hours=wish.hours, start_h=wish.start_h, tick=work.tick)
        return Results(plan, wish.hours, tuple(played))

    return case.session.desk.ask(
        "outages", (case.key, key_of(plan), plan.choice, wish.hours, wish.start_h), find, 0.3)


def key_of(plan: Plan) -> PlanKey:
    """Tell a plan so that it can be found again."""
    return PlanKey(plan.supply.generator.id, round(plan.coverage, 9))
