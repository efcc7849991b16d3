"""`python -m tests.benchmarks.engine [--samples N]`: what an engine stands, against its simulation.

Draws generators and loads, finds on the simulated engine the true limit by halving, and says how
often the functions of `planner.physics.engine` are on the safe side and how much of it they use.
"""

from __future__ import annotations

import argparse

import numpy as np

from planner.physics.engine import ALLOWED_FALL, pick_up_kw, start_room_kw
from planner.simulation.generator import Engine
from planner.simulation.loops.engine import one_step, start_draw_kw, steady_frequency

FLOOR = 1.0 - ALLOWED_FALL
SLOW = 0.95
STANDS = 0.5  # frequency per unit at which the engine stands
TOLERANCE = 0.005  # of the rating: how closely a limit is found


def drawn(dice):
    """Draw an engine: size, inertia, governor and reactance over what the price book allows for."""
    kw = dice.uniform(6.0, 24.0)
    kva = kw * dice.uniform(1.0, 1.25)
    return Engine(kw, kva, 4.0 * kw, dice.uniform(0.12, 0.25), dice.uniform(0.3, 1.0), 0.03,
                  dice.uniform(0.1, 0.4), 0.95, STANDS, 0.9, 5.0, 0.75, 5.0, 300.0, kw,
                  1.0, 1.0, 1.0)


def mix_of(dice):
    """Shares of elements, motors, electronics; one time in three electronics alone, the worst."""
    return (0.0, 0.0, 1.0) if dice.random() < 1.0 / 3.0 else dice.dirichlet([1.0, 1.0, 1.0])


def steady(engine, kw):
    """Frequency and torque under a steady load."""
    frequency = steady_frequency(kw, engine)
    return frequency, kw / (engine.derated_kw * frequency)


def lowest_at_start(engine, others_kw, mix, start_kw, start_s):
    """Lowest frequency per unit while a motor starts beside others."""
    frequency, torque = steady(engine, others_kw)
    parts = [others_kw * share for share in mix]
    lowest = frequency
    for step in range(round(100 * start_s) + 60):
        extra = start_kw if step < round(100 * start_s) else 0.0
        frequency, torque = one_step(frequency, torque, parts[0] + extra, parts[1], parts[2],
                                     engine)
        lowest = min(lowest, frequency)
        if lowest < STANDS:
            break
    return lowest


def stands_pick_up(engine, others_kw, load_kw, mix, shed_s):
    """Whether the engine still turns when all modules open, `shed_s` after it fell below 48 Hz.

    Meanwhile the first level opens a load of a tenth of the rating after each half second below
    57 Hz, four at most.
    """
    frequency, torque = steady(engine, others_kw)
    opened, slow, left_kw = None, 0, load_kw
    for step in range(1500):
        parts = [left_kw * share for share in mix]
        frequency, torque = one_step(frequency, torque, *parts, engine)
        if frequency < STANDS:
            return False
        slow = slow + 1 if frequency < SLOW else 0
        if slow == 50 and left_kw > load_kw - 0.35 * engine.derated_kw:
            slow, left_kw = 0, left_kw - 0.1 * engine.derated_kw
        if frequency < FLOOR and opened is None:
            opened = step + round(100 * shed_s)
        if opened is not None and step >= opened:
            break
    return True


def largest(holds, low, high, tolerance):
    """Largest value for which something holds, by halving; `low` where nothing does."""
    if holds(high):
        return high
    while high - low > tolerance:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def start_rooms(samples, seed=1):
    """Start rooms by the function and on the simulated engine, over the rating: shape (n, 2)."""
    dice = np.random.default_rng(seed)
    found = []
    while len(found) < samples:
        engine, mix = drawn(dice), mix_of(dice)
        kva = dice.uniform(0.2, 1.5) * engine.kva
        start_kw = start_draw_kw(kva, kva * dice.uniform(0.3, 0.75), engine)
        start_s = dice.uniform(0.1, 1.0)
        said = start_room_kw(start_kw, start_s, engine.derated_kw, engine.kva,
                             inertia_s=engine.inertia_s, governor_s=engine.governor_s)

        def holds(kw, engine=engine, mix=mix, start=(start_kw, start_s)):
            return lowest_at_start(engine, kw, mix, *start) >= FLOOR

        top = 0.9 * engine.derated_kw
        true = largest(holds, 0.0, top, TOLERANCE * engine.derated_kw) if holds(0.0) else -1.0
        found.append((min(said, top) / engine.derated_kw, true / engine.derated_kw))
    return np.array(found)


def pick_ups(samples, seed=2):
    """Pick-up limits by the function and on the simulated engine, over the rating: shape (n, 2)."""
    dice = np.random.default_rng(seed)
    found = []
    for _ in range(samples):
        engine, mix, shed_s = drawn(dice), mix_of(dice), dice.uniform(0.3, 0.8)
        before_kw = dice.uniform(0.2, 0.9) * engine.derated_kw
        said = pick_up_kw(engine.derated_kw, engine.kva, inertia_s=engine.inertia_s, shed_s=shed_s,
                          electronic_share=float(mix[2]))

        def holds(kw, engine=engine, mix=mix, before=before_kw, shed_s=shed_s):
            return stands_pick_up(engine, before, kw, mix, shed_s)

        true = largest(holds, before_kw, 1.5 * engine.derated_kw, TOLERANCE * engine.derated_kw)
        found.append((said / engine.derated_kw, true / engine.derated_kw))
    return np.array(found)


def safe_and_used(found):
    """Share of the samples on the safe side, and share of the true limits that is used."""
    said, true = found.T
    safe = (said <= true + TOLERANCE) | (said < 0.0)
    used = np.clip(said, 0.0, None).sum() / np.clip(true, 0.0, None).sum()
    return float(safe.mean()), float(used)


def main():
    """Print both."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.engine")
    asked.add_argument("--samples", type=int, default=500)
    given = asked.parse_args()
    for what, sample in (("start room", start_rooms), ("pick-up limit", pick_ups)):
        found = sample(given.samples)
        safe, used = safe_and_used(found)
        print(f"{what}: {given.samples} samples, {100 * safe:.1f} % on the safe side, "
              f"{100 * used:.0f} % of the true limit used; refused though it can be started "
              f"{100 * float(((found[:, 0] < 0) & (found[:, 1] > 0)).mean()):.1f} %")


if __name__ == "__main__":
    main()
