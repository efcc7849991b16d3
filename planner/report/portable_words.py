"""Sentences about a portable generator that is worked by hand."""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOT_H, CodeEdition
from planner.plan.plan import Plan
from planner.report.smaller_words import listed
from planner.report.words import count, hour, money, number, share, span
from planner.service.kept import Unkept
from planner.study.portable.cooling import CoolingStart
from planner.study.portable.option import ByHand, kept_of_everything
from planner.study.portable.options import ByHandAnswer
from planner.study.portable.periods import GAP_SLOTS
from planner.study.portable.playing import TANK_SHARE
from planner.tolerances import ceiled, floored

CLAUSE: dict[CodeEdition, str] = {
    "2017": "NEC 702.4(B)(1)", "2020": "NEC 702.4(B)(1)", "2023": "NEC 702.4(A)(1)",
    "2026": "NEC (2023) 702.4(A)(1)"}
"""Capacity behind manual transfer equipment; the numbers of the clauses from memory."""
CAN_GAL = 5.0
"""What a can holds (common practice, no source) [gal]."""

OF_PORTABLES: tuple[str, ...] = (
    "Carbon monoxide: run it outdoors only, 20 ft from the house at least, the exhaust away from "
    "it, with carbon monoxide alarms on every level (the distance: Consumer Product Safety "
    "Commission, from memory). A garage, a porch or an open window kills.",
    "Backfeed: only through transfer equipment and an inlet, never by a cord into a receptacle.",
    "Refuel with the engine off and cooled; keep gasoline out of the house and the garage of the "
    "house. Local fire code limits how much may be kept.",
    "Gasoline keeps badly: three to six months, a year with a stabilizer (common practice, no "
    "source).",
)


def not_planned_sentence() -> str:
    """Say that a book has nothing to offer."""
    return ("The price book offers no portable generator that its manual transfer equipment takes; "
            "see [[portables]] and [[manual_transfers]] in the README.")


def verdict_sentence(found: ByHandAnswer) -> str:
    """Say for whom it is, or why it is not recommended."""
    if not found.unattended:
        return ("Only for a family that is at home, awake and able to work it: nothing of it "
                "starts, switches or refuels by itself.")
    why = "; ".join(f"{one.what}: {one.why}" for one in found.unattended)
    return f"Not recommended for this home. {why}."


def option_sentence(option: ByHand) -> str:
    """Say which machine it is, what it carries and what it costs."""
    supply = option.machine.supply
    return (f"{option.portable.label}, {option.transfer.label}: "
            f"{money(option.usd, option.book.currency)} with gasoline for "
            f"{count(option.house.spell, 'day')}. It carries "
            f"{number(floored(supply.capacity_kw, 0.1))} kW of its {option.portable.kw:g} kW here.")


def beside_sentence(option: ByHand, plan: Plan) -> str:
    """Hold it against a plan that works by itself."""
    currency = option.book.currency
    kept = kept_of_everything(plan.menu.house, plan.comforts)
    work_h = float(option.attention_h.max())
    return (f"{money(option.usd, currency)} instead of {money(plan.cost_usd, currency)}: it keeps "
            f"{share(option.kept)} of all comforts instead of {share(kept)}, with up to "
            f"{span(work_h)} of work a day and {number(float(option.gal.max()))} gal of gasoline; "
            "the plan starts, switches and runs with nobody there.")


def basis_sentence(option: ByHand) -> str:
    """Say what is assumed of those who work it."""
    said = option.house.home.attendance
    how = "By the file" if said.stated else "Assumed (portable.attended, portable.every)"
    return (f"{how}: somebody is there and awake from {hour(said.begin_h)} to {hour(said.end_h)} "
            f"and switches every {span(said.every_h)} at most; a refuelling stops the engine for "
            f"{span(GAP_SLOTS * SLOT_H)}; {100.0 * TANK_SHARE:.0f} % of a tank counts.")


def cooling_sentences(option: ByHand) -> tuple[str, ...]:
    """Say of everything that cools whether the machine starts it."""
    return tuple(_cooling(option, one) for one in option.starts)


def _cooling(option: ByHand, one: CoolingStart) -> str:
    volts = option.portable.volts
    label = one.load.label
    if one.load.volts > volts:
        return f"{label}: no, it needs 240 V and the machine gives {volts} V."
    figures = (f"its start takes {number(ceiled(one.start_kva, 0.1))} kVA of "
               f"{number(floored(one.startable_kva, 0.1))}, and "
               f"it runs with {number(ceiled(one.kw, 0.1))} kW of "
               f"{number(floored(one.capacity_kw, 0.1))}")
    if one.start_kva <= one.startable_kva and one.kw <= one.capacity_kw and one.starts != "yes":
        figures += ", but its start slows the engine too far or its amperes are too many"
    if one.starts == "yes":
        return f"{label}: it starts; {figures}."
    if one.starter is None:
        return f"{label}: it does not start; {figures}."
    place = option.book.soft_starters.index(one.starter) + 1
    fitted = option.machine.soft_start[option.house.index(one.load.id)] == place
    has = "is in this price" if fitted else "is not in this price"
    return f"{label}: it starts only with a soft starter, which {has}; {figures} without one."


def fuel_sentence(option: ByHand) -> str:
    """Say how much gasoline a spell takes."""
    stored = option.stored_gal
    cans = count(int(ceiled(stored / CAN_GAL, 1.0)), "can")
    return (f"Gasoline for {count(option.house.spell, 'day')}: {stored:.0f} gal, that is {cans} "
            f"of {CAN_GAL:g} gal, to be stored outside the house or fetched where stations have "
            "power.")


def alone_sentences(option: ByHand) -> tuple[str, ...]:
    """Say what happens while nobody is there or awake."""
    found = []
    hungry = int(np.argmax(option.night_gal_h))
    if option.night_gal_h[hungry] > 0.0:
        hours = option.tank_h(float(option.night_gal_h[hungry]))
        found.append(f"A full tank lasts {span(floored(hours, SLOT_H))} with what is on at night; "
                     "then everything stops until somebody is there.")
    else:
        found.append("At night the engine stands, and nothing has power.")
    begins = option.house.home.attendance.begin_h
    if option.periods.has_night:
        worse = (f" and besides what is said above: {told_broken(option.broken_asleep)}"
                 if option.broken_asleep else "")
        found.append("If the utility leaves while nobody is up, nothing has power until "
                     f"{hour(begins)}{worse}. The same holds whenever nobody is at home.")
    return tuple(found)


def told_broken(broken: tuple[Unkept, ...]) -> str:
    """Say which promises are broken."""
    return "; ".join(str(one) for one in broken)


def broken_sentence(option: ByHand) -> str:
    """Say which promises of the family it breaks, if any."""
    if not option.broken:
        return "It keeps every promise of the family while somebody works it."
    return f"Promises that it breaks even so: {told_broken(option.broken)}."


def missed_sentence(option: ByHand) -> str:
    """Say which loads that must run have no power somewhere; empty if none."""
    if not option.missed:
        return ""
    return (f"Must run, and without power at times: "
            f"{listed([load.label for load in option.missed])}.")


def code_sentences(option: ByHand) -> tuple[str, ...]:
    """Say what the code asks of it, and what stands out."""
    clause = CLAUSE[option.house.home.code.edition]
    found = ["Manual transfer: it must carry all that is intended to be on at one time, and the "
             f"user may select the loads ({clause}). Every group here fits as a whole."]
    if option.transfer.kind == "switch":
        found.append(f"On its {option.transfer.positions} positions: "
                     f"{listed([load.label for load in option.circuits])}.")
    found.append(neutral_sentence(option))
    if option.portable.volts == 120:
        found.append("With 120 V on both legs no circuit may share its neutral with another: that "
                     "neutral would carry both (NEC 210.4, 300.13, from memory).")
    if option.portable.propane_kw is not None:
        found.append(f"It also runs on propane, with {option.portable.propane_kw:g} kW; planned "
                     "here on gasoline.")
    return tuple(found)


def machine_sentence(option: ByHand) -> str:
    """Say what the machine is like besides its power, and what its maker does not state."""
    portable = option.portable
    parts = ["starts by a battery" if portable.electric_start else "starts by a cord",
             "stops by itself at carbon monoxide" if portable.co_shutoff
             else "does not stop by itself at carbon monoxide (prefer one that does)",
             f"has a tank of {portable.tank_gal:g} gal"]
    if portable.noise_db is not None:
        parts.append(f"is heard with {portable.noise_db:.0f} dB at 23 ft")
    said = f"It {listed(parts)}."
    if portable.unstated:
        unsaid = listed([key.replace("_", " ") for key in portable.unstated])
        said += f" Its maker does not state: {unsaid}; what is usual stands for it."
    return said


def neutral_sentence(option: ByHand) -> str:
    """Say what follows of where the neutral is bonded: a finding, no design."""
    switched, bonded = option.transfer.switches_neutral, option.portable.neutral_bonded
    if switched is None:
        return "Neutral: ask whether the transfer equipment switches it (NEC 250.30, 250.34)."
    if bonded and not switched:
        return ("Neutral: it is bonded to the frame, and the transfer equipment does not switch "
                "it. So it is bonded twice: current flows in the grounding conductors (NEC 250.6), "
                "and ground-fault protection may trip. The electrician has to settle it (250.30, "
                "250.34, from memory).")
    if switched and not bonded:
        return ("Neutral: it is not bonded to the frame, and the transfer equipment switches it. "
                "So it is bonded nowhere, and a fault may not trip a breaker (NEC 250.30, from "
                "memory). The electrician has to settle it.")
    return "Neutral: bonded once, as NEC 250.30 and 250.34 ask (from memory); verify on site."


def hours_of(option: ByHand, day: int) -> str:
    """Say at which hours of a design day the tank is filled."""
    return ", ".join(hour(option.periods.hour(p)) for p in option.refuellings[day]) or "none"


def night_words(option: ByHand, day: int) -> str:
    """Say what the engine does at night."""
    if not option.periods.has_night:
        return "attended"
    ends_h = option.night_ends_h(day)
    return "runs" if ends_h is None else f"stands from {hour(ends_h)}"


def always_sentence(option: ByHand, day: int) -> str:
    """Name what stays closed all day."""
    loads, label = option.house.home.loads, option.house.home.days[day].label
    closed = [loads[i].label for i in np.flatnonzero(option.closed[day].all(axis=0))]
    return f"Closed all day on {label}: {listed(closed)}." if closed else ""


def groups_of(option: ByHand, day: int) -> list[tuple[str, str]]:
    """Say from which hour on what is closed besides what stays closed all day; empty if nothing."""
    loads, closed = option.house.home.loads, option.closed[day]
    besides = closed & ~closed.all(axis=0)
    found: list[tuple[str, str]] = []
    for period, group in enumerate(besides):
        if not besides.any() or (period and (group == besides[period - 1]).all()):
            continue
        said = listed([loads[i].label for i in np.flatnonzero(group)]) or "nothing more"
        found.append((hour(option.periods.hour(period)), said))
    return found
