"""Portable generators that are worked by hand, as plain data."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from planner.report.comforts.comfort_words import comfort_phrase
from planner.report.portable.breaks import broken_sentences
from planner.report.portable.groups import changes_of
from planner.report.portable.steps import (
    OF_PORTABLES,
    SOURCE_OF_STEPS,
    keeper_sentence,
    refuelling_steps,
    returning_steps,
    starting_steps,
)
from planner.report.portable.words import (
    alone_sentences,
    code_sentences,
    cooling_sentences,
    machine_sentence,
    noise_sentence,
    verdict_sentence,
)
from planner.study.portable.option import ByHand
from planner.study.portable.options import ByHandAnswer


def by_hand_data(found: ByHandAnswer) -> dict[str, object]:
    """Give an answer with all its options; the one shown in full by its place, None without any."""
    shown = found.shown
    return {
        "recommended": False if found.unattended else None, "verdict": verdict_sentence(found),
        "unattended": [{"what": one.what, "why": one.why, "only_if": one.only_if}
                       for one in found.unattended],
        "shown": None if shown is None else found.options.index(shown),
        "options": [_option(one) for one in found.options],
        "cautions_of_portables": list(OF_PORTABLES),
    }


def _option(option: ByHand) -> dict[str, object]:
    home = option.house.home
    return {
        "portable": option.portable.id, "transfer": option.transfer.id,
        "cost": round(option.usd, 2), "kept": round(option.kept, 6),
        "capacity_kw": round(option.machine.supply.capacity_kw, 4),
        "soft_starters": [home.loads[i].id for i, one in enumerate(option.machine.soft_start)
                          if one],
        "lines": [{"text": line.text, "quantity": line.quantity, "cost": round(line.usd, 2)}
                  for line in option.lines],
        "circuits": [load.id for load in option.circuits],
        "cooling": [{"load": one.load.id, "starts": one.starts, "said": said}
                    for one, said in zip(option.starts, cooling_sentences(option), strict=True)],
        "comforts": [{"id": one.comfort.id, "kept": round(one.kept, 6),
                      "hardest": comfort_phrase(one, option.house)} for one in option.comforts],
        "broken": [str(one) for one in option.broken],
        "broken_said": list(broken_sentences(option)),
        "overflows": [{"id": one.comfort.id, "day": home.days[one.day].id,
                       "hours": list(one.hours), "cause": one.cause} for one in option.overflows],
        "broken_asleep": [str(one) for one in option.broken_asleep],
        "missed": [load.id for load in option.missed],
        "gal_of_spell": round(option.stored_gal, 2), "alone": list(alone_sentences(option)),
        "code": list(code_sentences(option)),
        "machine": machine_sentence(option), "noise": noise_sentence(option),
        "steps": {"utility_fails": list(starting_steps(option)),
                  "to_refuel": list(refuelling_steps(option)),
                  "utility_is_back": list(returning_steps(option)),
                  "keeper": keeper_sentence(option), "source": SOURCE_OF_STEPS},
        "days": [_day(option, day) for day in range(len(home.days))],
    }


def _day(option: ByHand, day: int) -> dict[str, object]:
    home, periods = option.house.home, option.periods
    turned = {one.period: one for one in changes_of(option, day)}
    return {
        "day": home.days[day].id, "gal": round(float(option.gal[day]), 3),
        "switchings": option.switchings[day],
        "attention_h": round(float(option.attention_h[day]), 3),
        "refuelled_at_h": [periods.hour(p) for p in option.refuellings[day]],
        "always_on": _ids(option, np.flatnonzero(option.closed[day].all(axis=0))),
        "always_off": _ids(option, np.flatnonzero(~option.closed[day].any(axis=0))),
        "groups": [{
            "from_h": periods.hour(p), "on": _ids(option, np.flatnonzero(option.closed[day, p])),
            "turn_off": _ids(option, turned[p].turned_off if p in turned else ()),
            "turn_on": _ids(option, turned[p].turned_on if p in turned else ()),
        } for p in range(periods.count)],
    }


def _ids(option: ByHand, places: Iterable[int]) -> list[str]:
    return [option.house.home.loads[i].id for i in places]
