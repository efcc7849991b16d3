"""The plans to choose from in words: what each is called, what is given up, what stands beside."""

from __future__ import annotations

from typing import Literal

from planner.facts.home import Home
from planner.report.smaller_words import listed
from planner.report.words import count, money, number, rating
from planner.study.options import Option, OptionName, Options
from planner.study.reference import ShedsNothing
from planner.study.wishes import Wish

CALLED: dict[OptionName | Literal["nothing waits", "by the code"], str] = {
    "cheaper": "For less", "recommended": "Recommended", "everything": "Everything as usual",
    "air-cooled": "The largest air-cooled size", "nothing waits": "Everything at once",
    "by the code": "Sized by the code calculation",
}


def given_up_sentence(option: Option) -> str:
    """Say what an option asks the family to give up; empty text if nothing."""
    home = option.home
    said = [_given_up(home, wish) for wish in option.given_up]
    return f"Gives up: {listed(said)}." if said else ""


def in_a_sentence(found: Options) -> str:
    """Say what is recommended, and what it saves against the size without any shedding."""
    option = next((one for one in found.choices if one.name == "recommended"), found.choices[0])
    plan, currency = option.plan, option.plan.menu.book.currency
    modules = plan.choice.modules
    tail = f" with {count(modules, 'module')}" if modules else ""
    said = f"{plan.supply.generator.label}{tail}: {money(plan.cost_usd, currency)}."
    held = found.sheds_nothing
    if held is None or held.cost_usd <= plan.cost_usd:
        return said
    against = ("with which nothing waits" if held.nothing_waits
               else "that the code calculation asks for without modules")
    return (f"{said} It saves {money(held.cost_usd - plan.cost_usd, currency)} against the "
            f"generator {against}.")


def reference_sentence(found: ShedsNothing) -> str:
    """Say what the size without any shedding is, and whether it works."""
    sums = (f"It carries the whole calculated load of {number(found.calculated_kva)} kVA and every "
            "single start")
    if found.nothing_waits:
        return f"{sums}: nothing waits."
    return f"{sums}, but not everything at once: {found.refusal}."


def in_plain_words(found: ShedsNothing) -> str:
    """Say the same to the family."""
    return ("Nothing waits." if found.nothing_waits else
            "The size by the rules of the trade when nothing takes turns; even it could not do "
            "everything at once.")


def air_cooled_sentence(option: Option) -> str:
    """Say what the largest air-cooled size costs with the fewest modules that reach the goal."""
    plan = option.plan
    modules = plan.choice.modules
    return (f"The largest air-cooled size, {rating(plan.supply.derated_kw)} kW here, with "
            f"{count(modules, 'module')}: {money(plan.cost_usd, plan.menu.book.currency)}.")


def _given_up(home: Home, wish: Wish) -> str:
    label = next((one.label for one in home.comforts if one.id == wish.comfort), "") or ", ".join(
        home.load(one).label for one in wish.load_ids)
    return f"the promise of {label}" if wish.kind == "promise" else f"{label} as a must-have"
