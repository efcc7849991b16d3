"""The plans to choose from in words: what each is called, what is given up, what stands beside."""

from __future__ import annotations

from typing import Literal

from planner.facts.home import Home
from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.report.comforts.comfort_changes import change_phrase
from planner.report.comforts.family_comforts import (
    differs_sentences,
    given_up,
    in_short,
    is_as_usual,
)
from planner.report.comforts.missed_words import told
from planner.report.comforts.promise_words import promise_words
from planner.report.comforts.waits import waiting
from planner.report.smaller_words import comfort_label, listed
from planner.report.words import count, money, number, rating
from planner.study.comfort_changes import comfort_changes
from planner.study.options import Option, OptionName, Options
from planner.study.reference import ShedsNothing
from planner.study.wishes import Wish
from planner.tolerances import same_dollar

CALLED: dict[OptionName | Literal["by the code"], str] = {
    "cheaper": "For less", "recommended": "Recommended", "everything": "Everything as usual",
    "air-cooled": "Largest air-cooled", "nothing waits": "Everything at once",
    "by the code": "Sized by the code calculation",
}
MOST_TOLD = 3  # on a card, of what is less than usual
NOTHING_NOTICED = "Nothing more that a family would notice."


def in_a_sentence(found: Options) -> str:
    """Say what is recommended, and what it saves against the size without any shedding."""
    last = found.nothing_waits
    return saving_sentence(found.recommended.plan, last.plan if last else None,
                           found.sheds_nothing)


def spend_sentence(plan: Plan, can_spend_usd: float) -> str:
    """Hold a plan against what the family said that it can spend [USD]."""
    currency = plan.menu.book.currency
    over_usd = plan.cost_usd - can_spend_usd
    if same_dollar(over_usd):
        return f"That is what the family can spend, {money(can_spend_usd, currency)}."
    word = "more" if over_usd > 0.0 else "less"
    return (f"{money(abs(over_usd), currency)} {word} than the family's budget of "
            f"{money(can_spend_usd, currency)}.")


def saving_sentence(
    plan: Plan, nothing_waits: Plan | None, by_the_code: ShedsNothing | None = None
) -> str:
    """Say what a plan is and costs, and what it saves: the strongest argument.

    It is held against the plan with which nothing waits; where there is none, against the size that
    the code calculation asks for without modules. Where it saves nothing nothing is said of it.
    """
    currency = plan.menu.book.currency
    said = f"{sized(plan)}: {money(plan.cost_usd, currency)}."
    if nothing_waits is not None:
        usd, against = nothing_waits.cost_usd, "with which nothing waits"
    elif by_the_code is not None:
        usd = by_the_code.cost_usd
        against = "that the code calculation asks for without modules"
    else:
        return said
    if usd <= plan.cost_usd or same_dollar(usd - plan.cost_usd):
        return said
    return (f"{said} It saves {money(usd - plan.cost_usd, currency)} against the generator "
            f"{against}.")


def size_of(plan: Plan) -> str:
    """Say the size of a generator as it is sold, its largest rating of all fuels: ``17 kW``."""
    return f"{max(one.kw for one in plan.supply.generator.ratings.values()):g} kW"


def sized(plan: Plan) -> str:
    """Say the size and how many modules stand beside it: ``17 kW with 4 modules``."""
    modules = plan.choice.modules
    return f"{size_of(plan)} with {count(modules, 'module')}" if modules else size_of(plan)


def against_recommended(option: Option, recommended: Option) -> str:
    """Say what an option costs more or less than the recommended one; empty for that itself."""
    more_usd = option.plan.cost_usd - recommended.plan.cost_usd
    if option.name == "recommended" or same_dollar(more_usd):
        return ""
    return (f"{money(abs(more_usd), option.plan.menu.book.currency)} "
            f"{'more' if more_usd > 0.0 else 'less'}")


def card_sentences(option: Option, recommended: Option) -> tuple[str, ...]:
    """Say in the family's words what waits or is missed, and what more money buys."""
    if option.name in ("everything", "nothing waits"):
        waits = "Nothing waits." if option.name == "nothing waits" else in_short(option.plan)
        return (waits, bought_words(recommended.plan, option.plan))
    if not option.given_up:
        return (in_short(option.plan), *differs_sentences(option.plan)[:MOST_TOLD])
    dropped = {wish.comfort for wish in option.given_up}
    others = [one.comfort.label for one in option.plan.comforts
              if one.comfort.id not in dropped and not is_as_usual(one, option.plan)]
    late = len(waiting(option.plan))
    said = [f"also less than usual: {listed(others)}" if others else "",
            count(late, "thing waits", "things wait") if late else ""]
    line = "; ".join(one for one in said if one)
    return (f"{line[0].upper()}{line[1:]}.",) if line else ()


def bought_words(plan: Plan, dearer: Plan) -> str:
    """Name the comforts that are better for more money, and those that are less good."""
    changes = [one for one in comfort_changes(plan, dearer)
               if change_phrase(one, plan.menu.house)]
    better = [one.comfort.label for one in changes if one.is_gain]
    worse = [one.comfort.label for one in changes if not one.is_gain]
    lines = [f"Better: {listed(_distinct(better))}." if better else "",
             f"Less good: {listed(_distinct(worse))}." if worse else ""]
    return " ".join(one for one in lines if one) or NOTHING_NOTICED


def dropped_phrases(option: Option, home: Home) -> tuple[str, ...]:
    """Name every must-have and promise that an option drops, and what it is like instead.

    Parameters
    ----------
    option : Option
    home : Home
        The family's, in which the wishes stand that are given up.
    """
    return tuple(_dropped(option, home, wish) for wish in option.given_up)


def would_not_run(option: Option) -> str:
    """Name what matters and gets no power; empty if nothing."""
    names = [part.label for part in starved(option.plan)]
    return f"Would not run: {listed(names)}." if names else ""


def why_missing(found: Options) -> dict[OptionName, str]:
    """Say of each card that is missing why."""
    said: dict[OptionName, str] = {}
    cards = {one.name for one in found.cards}
    if "cheaper" not in cards:
        said["cheaper"] = ("No plan was found that costs a tenth less, whichever promise or "
                           "must-have is given up.")
    if "everything" not in cards:
        said["everything"] = (
            "No plan was found with which nothing at all is missed." if found.recommended.missing
            else "The recommended plan leaves nothing to be missed"
            f"{' but what was given up' if given_up(found.recommended.plan) else ''}.")
    if "nothing waits" not in cards:
        same = next((CALLED[one.name] for one in found.choices
                     if found.nothing_waits and one.is_same(found.nothing_waits)), "")
        said["nothing waits"] = (
            f"With “{same}” nothing waits either: they are one plan." if same else
            "No generator of the price book does everything at once.")
    return said


def beside_sentences(found: Options) -> tuple[str, ...]:
    """Say what stands beside the cards: the largest air-cooled size, the next step up."""
    lines = [air_cooled_sentence(found.air_cooled)] if found.air_cooled else []
    if found.next_up is not None:
        plan, next_up = found.recommended.plan, found.next_up.plan
        more = money(next_up.cost_usd - plan.cost_usd, plan.menu.book.currency)
        lines.append(f"The next step up, {sized(next_up)}, costs {more} more. "
                     f"{bought_words(plan, next_up)}")
    return tuple(lines)


def reference_sentence(found: ShedsNothing, currency: str) -> str:
    """Say what the code calculation asks for without any shedding, and whether it works."""
    sums = (f"{CALLED['by the code']}, without modules: the {found.generator.label}, "
            f"{money(found.cost_usd, currency)}. It carries the whole calculated load of "
            f"{number(found.calculated_kva)} kVA and every single start")
    if found.nothing_waits:
        return f"{sums}: nothing waits."
    return f"{sums}, but not everything at once: {found.refusal}."


def air_cooled_sentence(option: Option) -> str:
    """Say what the largest air-cooled size costs with the fewest modules that reach the goal."""
    plan = option.plan
    modules = plan.choice.modules
    beside = f"with {count(modules, 'module')}" if modules else "without a module"
    return (f"The largest air-cooled size, {rating(plan.supply.derated_kw)} kW here, {beside}: "
            f"{money(plan.cost_usd, plan.menu.book.currency)}.")


def _distinct(names: list[str]) -> list[str]:
    return list(dict.fromkeys(names))


def _dropped(option: Option, home: Home, wish: Wish) -> str:
    label = comfort_label(home, wish)
    comfort = next((one for one in home.comforts if one.id == wish.comfort), None)
    what = (f"{label} as a must-have" if wish.kind == "must-run" or comfort is None else
            f"{label} ({promise_words(comfort)})")
    kept = next((one for one in option.plan.comforts if one.comfort.id == wish.comfort), None)
    return what if kept is None else f"{what}: {told(kept, option.plan)}"
