"""What the estimator may set about the equipment of a simulated outage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Settings:
    """Times and habits of transfer equipment, engine, breaker and controller.

    Every default was chosen, no source, unless a source is named: none was read off equipment that
    can be bought. Those of the controller are settled by simulation (tests/benchmarks/MEASURED.md).

    Attributes
    ----------
    sensing_s : float
        How long the utility must be gone before the engine is called [s]; the estimator's to set,
        by the transfer equipment.
    warm_up_s : float
        From the call for the engine to the transfer [s]; the estimator's to set: a cold engine
        takes longer.
    crank_s, rest_s, tries : float, float, int
        A start that fails: cranking and rest [s], and how many tries before the engine gives up
        (cycle cranking, from memory of NFPA 110).
    retransfer_s : float
        How long the utility must be back before the house returns to it [s].
    cool_down_s : float
        How long the engine then runs unloaded [s] (5 min at least, from memory of NFPA 110).
    reset_s : float
        How long someone takes to walk to a tripped breaker or a stalled engine [s].
    spacing_s : float
        Least time between two closings [s].
    averaging_s : float
        Time constant of the measured load [s]; a falling load is believed slowly, a rising one at
        once.
    overload_share, overload_s : float
        How long the measured load, in kW or on a leg, may stand above this share of the rating
        before the last priority that draws is shed [s]; one more each 2 s.
    slight_share, slight_s : float
        Amperes above that, as a share of it, which breaker and windings stand for longer: up to
        the rating of a leg; and for how long [s].
    slow_frequency, slow_s, slow_next_s : float
        First level of shedding: when the frequency (per unit) has stood below this for `slow_s`,
        the last priority that draws is opened, and more until the measured load stands within
        `overload_share`; again each `slow_next_s` [s]. The droop that ISO 8528-5 allows in class G2
        is 5 % (from memory); the times are chosen by simulation.
    recovering : float
        A frequency that rises by at least this in a second (per unit) comes back by itself, as
        after a start or the step of a range: the first level does not count meanwhile. Chosen by
        simulation.
    fast_frequency, fast_after_s, fast_s : float
        Second level: all modules are opened when the frequency has stood below this, the limit of
        the starts, for `fast_after_s`; they are open `fast_s` after it was crossed [s]. Chosen by
        simulation.
    short_cycle_s : float
        How long a compressor that has stopped is locked out [s], until its pressures are equal
        again; chosen.
    minimum_run_s : float
        How long a compressor that has started is not asked to make room [s].
    equal_s : float
        How long the pressures of a compressor that has stopped take to become equal [s]; until then
        it cannot start (common practice, no source: 3 to 5 min).
    protector_s, protector_off_s : float
        How long a compressor that cannot start stands under current until its own protector opens,
        and how long that takes to cool [s] (common practice, no source).
    retry_s : float
        How long any other load that was shed stays off [s].
    senses : str
        What modules sense: ``as bought`` (the price book's), ``calls`` (all see the call of their
        load) or ``nothing``.
    admitted_share : float
        A load is let in if measured and rated draw are within this share of the rating together,
        or within the plan's, if that is less.
    steady_s : float
        How long the supply must have been steady before a module closes [s].
    spread_s : float
        Largest time by chance on top of the spacing [s], so that no two habits keep step.
    trial_s : float
        After this time a load whose call nobody senses gets room from lower ones, to see whether it
        draws [s].
    idle_s : float
        How long room is kept for such a load after its module has closed [s].
    by_hand_h : float
        How long what the family switches off by hand stays on, until somebody comes home [h]. 12 h
        is the cautious choice: nobody is home when the utility fails. 0 means that somebody opens
        its breaker before the generator takes over.
    knee : float
        Frequency per unit below which the voltage regulator lets the voltage fall with the
        frequency: 57 Hz (common practice, no source).
    stall_frequency : float
        Frequency per unit at which the engine no longer turns by itself (chosen, no source).
    breaker_s : float
        Thermal time constant of the breaker [s].
    """

    sensing_s: float = 5.0
    warm_up_s: float = 25.0
    crank_s: float = 15.0
    rest_s: float = 15.0
    tries: int = 3
    retransfer_s: float = 300.0
    cool_down_s: float = 300.0
    reset_s: float = 900.0
    spacing_s: float = 10.0
    averaging_s: float = 60.0
    overload_share: float = 0.95
    overload_s: float = 5.0
    slight_share: float = 0.05
    slight_s: float = 60.0
    slow_frequency: float = 0.95
    slow_s: float = 0.5
    slow_next_s: float = 0.5
    recovering: float = 1.0 / 60.0
    fast_frequency: float = 0.80
    fast_after_s: float = 0.2
    fast_s: float = 0.5
    short_cycle_s: float = 240.0
    minimum_run_s: float = 300.0
    equal_s: float = 180.0
    protector_s: float = 8.0
    protector_off_s: float = 120.0
    retry_s: float = 60.0
    senses: Literal["as bought", "calls", "nothing"] = "as bought"
    admitted_share: float = 0.90
    steady_s: float = 10.0
    spread_s: float = 5.0
    trial_s: float = 600.0
    idle_s: float = 180.0
    by_hand_h: float = 12.0
    knee: float = 0.95
    stall_frequency: float = 0.5
    breaker_s: float = 300.0
