"""Sentences about a portable generator that is worked by hand."""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOT_H, SLOTS_PER_DAY, CodeEdition
from planner.facts.site import UNKNOWN_PLACE
from planner.physics.noise import REFERENCE_FT, level_db
from planner.plan.plan import Plan
from planner.report.portable.breaks import asleep_words, broken_in_short
from planner.report.smaller_words import listed
from planner.report.words import count, hour, money, number, share, span
from planner.study.basis import Basis
from planner.study.owning import owning_cost
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
SLOW_START = "its start slows the engine too far, or its amperes are too many"
HOURS_PER_DAY = SLOTS_PER_DAY * SLOT_H
HOME_ALL_DAY = "somebody is at home all day, able to work it, and up at night when it stops"


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
    if_only = listed([HOME_ALL_DAY, *dict.fromkeys(one.only_if for one in found.unattended)])
    head = f"Not recommended for this home. {why}."
    shown = found.shown
    pits = {one.id for one in found.house.home.comforts if one.kind == "pit"}
    if shown is not None and any(one.comfort not in pits for one in shown.broken):
        return (f"{head} It would not be all right with somebody at home day and night either: "
                f"it breaks {broken_in_short(shown)}.")
    return f"{head} It would be all right only if {if_only}."


def option_sentence(option: ByHand) -> str:
    """Say which machine it is, what it carries and what it costs."""
    supply = option.machine.supply
    return (f"{option.portable.label}, {option.transfer.label}: "
            f"{money(option.usd, option.book.currency)} with gasoline for "
            f"{count(option.house.spell, 'day')}. It carries "
            f"{number(floored(supply.capacity_kw, 0.1))} kW of its {option.portable.kw:g} kW here.")


def beside_sentence(option: ByHand, plan: Plan) -> str:
    """Hold it against a plan that works by itself: what breaks, then prices and what is kept."""
    currency, days = option.book.currency, count(option.house.spell, "day")
    kept = kept_of_everything(plan.menu.house, plan.comforts)
    work_h = float(option.attention_h.max())
    burnt = owning_cost(plan, Basis(1.0, 24.0 * option.house.spell))
    return (f"By hand it breaks: {broken_in_short(option)}. {money(option.usd, currency)}, of it "
            f"{money(option.lines[-1].usd, currency)} gasoline for {days}, instead of "
            f"{money(plan.cost_usd, currency)} without fuel ({days} like the average of the design "
            f"days burn {plan.menu.house.home.fuel} for {money(burnt.fuel_usd, currency)}). It "
            f"keeps {share(option.kept)} instead of {share(kept)}, counted over all comforts, also "
            f"those that a plan never loses (the plan's own figure is {share(plan.coverage)}), "
            f"with up to {span(work_h)} of work a day and {number(float(option.gal.max()))} gal of "
            "gasoline; the plan starts, switches and runs with nobody there.")


def basis_sentence(option: ByHand) -> str:
    """Say what is assumed of those who work it."""
    said = option.house.home.attendance
    how = "By the file" if said.stated else "Assumed (portable.attended, portable.every)"
    return (f"{how}: somebody is there and awake {_awake(option)} "
            f"and switches every {span(said.every_h)} at most; a refuelling stops the engine for "
            f"{span(GAP_SLOTS * SLOT_H)}; {100.0 * TANK_SHARE:.0f} % of a tank counts.")


def _awake(option: ByHand) -> str:
    said = option.house.home.attendance
    if not option.periods.has_night:
        return "day and night"
    end = hour(said.end_h) if said.end_h < HOURS_PER_DAY else f"{HOURS_PER_DAY:.0f}:00"
    return f"from {hour(said.begin_h)} to {end}"


def cooling_sentences(option: ByHand) -> tuple[str, ...]:
    """Say of everything that cools whether the machine starts it."""
    return tuple(_cooling(option, one) for one in option.starts)


def _cooling(option: ByHand, one: CoolingStart) -> str:
    volts = option.portable.volts
    label = one.load.label
    if one.load.volts > volts:
        return f"{label}: no, it needs 240 V and the machine gives {volts} V."
    start = (f"{number(ceiled(one.start_kva, 0.1))} kVA of "
             f"{number(floored(one.startable_kva, 0.1))}")
    runs = f"{number(ceiled(one.kw, 0.1))} kW of {number(floored(one.capacity_kw, 0.1))}"
    if one.starts == "yes":
        return f"{label}: it starts; its start takes {start}, and it runs with {runs}."
    fails = start if one.start_kva > one.startable_kva else SLOW_START
    if one.starter is None:
        if one.kw > one.capacity_kw:
            fails += f", and it would run with {runs}"
        return f"{label}: it does not start ({fails})."
    place = option.book.soft_starters.index(one.starter) + 1
    fitted = option.machine.soft_start[option.house.index(one.load.id)] == place
    starter = ("with the soft starter in this price" if fitted
               else "with a soft starter, which is not in this price,")
    return f"{label}: {starter} it starts; without one it does not ({fails})."


def fuel_sentence(option: ByHand) -> str:
    """Say how much gasoline a spell takes."""
    stored = option.stored_gal
    cans = count(int(ceiled(stored / CAN_GAL, 1.0)), "can")
    return (f"Gasoline for {count(option.house.spell, 'day')}: {stored:.0f} gal, that is {cans} "
            f"of {CAN_GAL:g} gal, to be stored outside the house or fetched where stations have "
            "power.")


def alone_sentences(option: ByHand) -> tuple[str, ...]:
    """Say what happens while nobody is there or awake."""
    if not option.periods.has_night:
        hours = option.tank_h(float(option.most_gal_h)) if option.most_gal_h > 0.0 else 0.0
        return ("Somebody is up day and night here, and has to be: whenever nobody is, nothing "
                f"starts, and it stops when its tank is empty, {span(floored(hours, SLOT_H))} "
                "after it was filled in the hours that burn most.",)
    found = []
    hungry = int(np.argmax(option.night_gal_h))
    if option.night_gal_h[hungry] > 0.0:
        hours = option.tank_h(float(option.night_gal_h[hungry]))
        found.append(f"A full tank lasts {span(floored(hours, SLOT_H))} with what is on at night; "
                     "then everything stops until somebody is there.")
    else:
        found.append("At night the engine stands, and nothing has power.")
    begins = option.house.home.attendance.begin_h
    found.append("If the utility leaves while nobody is up, nothing has power until "
                 f"{hour(begins)}{asleep_words(option)}. The same holds whenever nobody is at "
                 "home.")
    return tuple(found)


def noise_sentence(option: ByHand) -> str:
    """Say how loud it is at the neighbour's, or that nobody says where that is."""
    stated, site = option.portable.noise_db, option.house.home.site
    place = UNKNOWN_PLACE if site is None else site.place
    if stated is None:
        return "Noise: its maker does not state it."
    heard = f"{stated:.0f} dB at {REFERENCE_FT:g} ft"
    if place.neighbour_ft is None:
        return (f"Noise: {heard}, all day and, where it runs, all night; how much at the "
                "neighbour's cannot be said without site.place.neighbour.")
    there = number(ceiled(level_db(stated, place.neighbour_ft), 0.1))
    limit = ("" if place.neighbour_limit_db is None
             else f"; the limit there is {place.neighbour_limit_db:g} dB")
    night = ("the same at night" if option.runs_at_night else "at night it stands")
    return (f"Noise at the neighbour's, {place.neighbour_ft:g} ft away: {there} dB by day, {night} "
            f"({heard}, 6 dB less for each doubling of the distance; a wall behind it adds up to "
            f"3 dB){limit}.")


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
