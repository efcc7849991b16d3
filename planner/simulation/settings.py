"""What the estimator may set about the equipment of a simulated outage."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Settings:
    """Times and habits of transfer equipment, engine, breaker and controller.

    Every default was chosen, no source, unless a source is named: none was read off equipment that
    can be bought. The frequency at which loads are shed and the time that a compressor is locked
    out stand until simulations of the controller settle them.

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
    overload_s : float
        How long the measured load may stand above the rating before a load is shed [s].
    slight_share, slight_s : float
        Amperes above the rating of a leg, as a share of it, that breaker and windings stand for
        longer, and for how long [s].
    shed_frequency : float
        Frequency per unit below which a load is shed each second; chosen at the droop that
        ISO 8528-5 allows in class G2, 5 % (from memory).
    short_cycle_s : float
        How long a compressor that has stopped is locked out [s], until its pressures are equal
        again; chosen.
    minimum_run_s : float
        How long a compressor that has started is not asked to make room [s].
    retry_s : float
        How long any other load that was shed stays off [s].
    sees_calls : bool
        Whether modules report that their load calls and draws. Without it the controller closes
        whatever would fit if it ran, and learns of a call from the overload.
    governor_s : float
        Time constant of the governor and the intake [s].
    knee : float
        Frequency per unit below which the voltage regulator lets the voltage fall with the
        frequency (from memory).
    stall_frequency, stall_s : float
        Frequency per unit, and seconds below it, at which the engine stops.
    short_time_s : float
        How long the engine holds its short-time power before it is tripped [s].
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
    overload_s: float = 5.0
    slight_share: float = 0.05
    slight_s: float = 60.0
    shed_frequency: float = 0.95
    short_cycle_s: float = 240.0
    minimum_run_s: float = 300.0
    retry_s: float = 60.0
    sees_calls: bool = True
    governor_s: float = 0.2
    knee: float = 0.97
    stall_frequency: float = 0.85
    stall_s: float = 5.0
    short_time_s: float = 60.0
    breaker_s: float = 300.0
