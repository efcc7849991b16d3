"""Portable generators that are worked by hand, as plain data."""

from __future__ import annotations

import numpy as np

from planner.report.comforts.comfort_words import comfort_phrase
from planner.report.portable_words import (
    OF_PORTABLES,
    alone_sentences,
    code_sentences,
    cooling_sentences,
    machine_sentence,
    verdict_sentence,
)
from planner.study.portable.option import ByHand
from planner.study.portable.options import ByHandAnswer


def by_hand_data(found: ByHandAnswer) -> dict[str, object]:
    """Give an answer with all its options; the one shown in full by its place, None without any."""
    shown = found.shown
    return {
        "recommended": False if found.unattended else None, "verdict": verdict_sentence(found),
        "unattended": [{"what": one.what, "why": one.why} for one in found.unattended],
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
        "broken_asleep": [str(one) for one in option.broken_asleep],
        "missed": [load.id for load in option.missed],
        "gal_of_spell": round(option.stored_gal, 2), "alone": list(alone_sentences(option)),
        "code": list(code_sentences(option)),
        "machine": machine_sentence(option),
        "days": [_day(option, day) for day in range(len(home.days))],
    }


def _day(option: ByHand, day: int) -> dict[str, object]:
    home, periods = option.house.home, option.periods
    return {
        "day": home.days[day].id, "gal": round(float(option.gal[day]), 3),
        "switchings": option.switchings[day],
        "attention_h": round(float(option.attention_h[day]), 3),
        "refuelled_at_h": [periods.hour(p) for p in option.refuellings[day]],
        "groups": [{"from_h": periods.hour(p), "closed": [
            home.loads[i].id for i in np.flatnonzero(option.schedule.groups[day, p])]}
            for p in range(periods.count)],
    }
