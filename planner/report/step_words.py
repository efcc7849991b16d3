"""From one plan to the next in a sentence: what it costs, what it does for the comforts."""

from __future__ import annotations

from planner.plan.plan import Plan
from planner.report.comforts.comfort_changes import change_sentences_of
from planner.report.words import money
from planner.study.comfort_changes import comfort_changes
from planner.tolerances import same_dollar

MOST_CHANGES = 4  # said of one step, those that weigh most


def step_sentence(smaller: Plan, larger: Plan, names: tuple[str, str] | None = None) -> str:
    """Say a step: ``From the 13 kW to the 17 kW, for 575 USD more: Clean clothes: all done ...``.

    Parameters
    ----------
    smaller, larger : Plan
        Of one home.
    names : tuple of str, optional
        What they are called; the labels of their generators if not given.
    """
    before, after = names or (smaller.supply.generator.label, larger.supply.generator.label)
    changes = change_sentences_of(comfort_changes(smaller, larger), smaller.menu.house,
                                  MOST_CHANGES)
    more_usd = larger.cost_usd - smaller.cost_usd
    price = ("at the same price" if same_dollar(more_usd) else
             f"for {money(abs(more_usd), smaller.menu.book.currency)} "
             f"{'more' if more_usd > 0.0 else 'less'}")
    return (f"From the {before} to the {after}, {price}: "
            f"{'; '.join(changes) or 'nothing that a family would notice'}.")
