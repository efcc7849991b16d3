"""What kills beside a portable generator, and what is done in which order, for the family."""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOT_H
from planner.report.words import span
from planner.study.portable.option import ByHand
from planner.study.portable.periods import GAP_SLOTS

DANGERS: tuple[str, ...] = (
    "Carbon monoxide: run it outdoors only, 20 ft from the house at least, the exhaust away from "
    "it, with carbon monoxide alarms with batteries of their own on every level (the distance: "
    "Consumer Product Safety Commission, from memory). A garage, a porch or an open window kills.",
    "If an alarm sounds, by day or at night, or somebody is dizzy, sick or has a headache: "
    "everybody leaves the house at once and calls for help (911) from outside. Nobody goes back "
    "in, not to switch anything off either, before the fire department says so (common practice, "
    "no source).",
    "Wet: keep engine, cord and receptacles dry under an open canopy away from the house, never "
    "under its roof; never touch them with wet hands or standing in water (common practice, no "
    "source).",
    "Backfeed: only through transfer equipment and an inlet, never by a cord into a receptacle. It "
    "kills who repairs the line.",
    "Refuel with the engine off and cooled; keep gasoline out of the house and the garage of the "
    "house; by night with a battery lamp, no flame. Local fire code limits how much may be kept.",
)
KEEPING = ("Gasoline keeps badly: three to six months, a year with a stabilizer (common practice, "
           "no source).")
OF_PORTABLES: tuple[str, ...] = (*DANGERS, KEEPING)

SOURCE_OF_STEPS = ("Common practice, no source; where the maker's manual or the electrician says "
                   "otherwise, that holds.")
OUTSIDE = ("Engine outside, 20 ft from the house at least, on level ground, the exhaust away from "
           "the house; never in a garage or under a porch. Check its oil and fuel.")
BACK = "See that the utility is back: a neighbour's lights, or the display of the meter."
MOST_MOTORS = 3  # named, the largest first


def keeper_sentence(option: ByHand) -> str:
    """Say who fits what keeps the generator off the utility's wires, and that it stays."""
    return (f"Only the electrician fits {_keeper(option)} and the inlet, and nobody takes it off "
            "or works round it: it alone keeps the generator off the utility's wires, where it "
            "would kill a line worker.")


def starting_steps(option: ByHand) -> tuple[str, ...]:
    """Say what is done when the utility has failed, in its order."""
    cord = "Cord into the engine's receptacle and into the inlet, both locked."
    start = "Start the engine; let it run some minutes until it runs evenly."
    each = f"one by one, {_motors(option)}some seconds between them; the lists say which."
    if option.transfer.kind == "switch":
        return (OUTSIDE, "Transfer switch: every position OFF. The main breaker stays as it is.",
                cord, start, f"Turn the positions of this hour to GENERATOR, {each}")
    return (OUTSIDE, "Main breaker OFF. Set the interlock: it lets the inlet breaker close only "
            "while the main breaker is OFF.", "All branch breakers OFF.", cord, start,
            "Inlet breaker ON.", f"Breakers of this hour ON, {each}")


def refuelling_steps(option: ByHand) -> tuple[str, ...]:
    """Say how the tank is filled, in its order."""
    off = ("Every position of the transfer switch OFF." if option.transfer.kind == "switch"
           else "All branch breakers OFF, then the inlet breaker OFF.")
    return (off, "Engine OFF. Wait until it has cooled: gasoline on a hot engine burns.",
            "Fill the tank outdoors, no flame near, not to the brim; wipe up what is spilled, and "
            "take the can away.",
            "Start the engine and go on as when the utility failed. Reckoned here: "
            f"{span(GAP_SLOTS * SLOT_H)} in all.")


def returning_steps(option: ByHand) -> tuple[str, ...]:
    """Say what is done when the utility is back, in its order."""
    away = ("Engine OFF, after some minutes without load; let it cool before it is filled, moved "
            "or covered. Cord out.")
    if option.transfer.kind == "switch":
        return (BACK, "Every position of the transfer switch OFF, one by one.", away,
                "Turn the positions to UTILITY, one by one.")
    return (BACK, "All branch breakers OFF.", "Inlet breaker OFF.", away,
            "Interlock back, main breaker ON.", "Branch breakers ON, one by one.")


def numbered(steps: tuple[str, ...]) -> list[str]:
    """Write steps with their numbers."""
    return [f"{place}. {step}" for place, step in enumerate(steps, start=1)]


def sections_of_steps(option: ByHand) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Headings with their steps: the utility fails, a refuelling, the utility is back."""
    return (("When the utility fails", starting_steps(option)),
            ("To refuel", refuelling_steps(option)),
            ("When the utility is back", returning_steps(option)))


def _keeper(option: ByHand) -> str:
    return "the transfer switch" if option.transfer.kind == "switch" else "the interlock"


def _motors(option: ByHand) -> str:
    """Name the motors that are ever on, the largest start first; empty without any."""
    house = option.house
    used = np.flatnonzero(option.closed.any(axis=(0, 1)) & (house.starting_kva > 0.0))
    ranked = sorted(map(int, used), key=lambda i: (-float(house.starting_kva[i]), i))
    if not ranked:
        return ""
    names = "; then ".join(house.home.loads[i].label for i in ranked[:MOST_MOTORS])
    return f"the largest motor first ({names}), "
