"""First-order bodies in closed form: what tanks and houses of the simulation are held against."""

from __future__ import annotations

from math import exp, inf, log

from planner.physics.thermal import WATER_BTU_PER_GAL_DEGF


def tank_capacity_btu_degf(tank_gal: float) -> float:
    """Give the heat that warms a full tank by one degree [Btu/degF].

    Parameters
    ----------
    tank_gal : float
        Contents [gal].

    Notes
    -----
    8.33·V (definition of the heat capacity).
    """
    return WATER_BTU_PER_GAL_DEGF * tank_gal


def time_constant_h(capacity_btu_degf: float, loss_btu_h_degf: float) -> float:
    """Give the time in which a body comes closer to its surroundings by 63 % [h].

    Parameters
    ----------
    capacity_btu_degf : float
        Heat that warms it by one degree [Btu/degF].
    loss_btu_h_degf : float
        Heat that it loses per degree [Btu/(h·degF)]; without any it takes for ever.

    Notes
    -----
    τ = C / UA (derived: first-order body).
    """
    return capacity_btu_degf / loss_btu_h_degf if loss_btu_h_degf else inf


def equilibrium_degf(ambient_degf: float, heat_btu_h: float, loss_btu_h_degf: float) -> float:
    """Give the temperature at which a body rests under constant heat [degF].

    Parameters
    ----------
    ambient_degf : float
        Of its surroundings [degF].
    heat_btu_h : float
        Into it; negative where it is cooled [Btu/h].
    loss_btu_h_degf : float
        Heat that it loses per degree, positive [Btu/(h·degF)].

    Raises
    ------
    ValueError
        If it loses no heat.

    Notes
    -----
    T∞ = Ta + Q / UA (derived from the balance of heat).
    """
    if loss_btu_h_degf <= 0.0:
        msg = "A body that loses no heat does not come to rest."
        raise ValueError(msg)
    return ambient_degf + heat_btu_h / loss_btu_h_degf


def relaxed_degf(start_degf: float, rest_degf: float, hours: float, constant_h: float) -> float:
    """Give the temperature of a first-order body after a time [degF].

    Parameters
    ----------
    start_degf, rest_degf : float
        At the beginning, and where it would come to rest [degF].
    hours, constant_h : float
        Time that passes, not negative; time constant, positive [h].

    Notes
    -----
    T(t) = T∞ + (T0 − T∞)·exp(−t/τ) (derived: first-order body).
    """
    return rest_degf + (start_degf - rest_degf) * exp(-hours / constant_h)


def hours_until(
    start_degf: float, target_degf: float, rest_degf: float, constant_h: float
) -> float:
    """Give the time until a first-order body reaches a temperature [h]; infinite if it never does.

    Parameters
    ----------
    start_degf, target_degf, rest_degf : float
        At the beginning, to be reached, and where it would come to rest [degF].
    constant_h : float
        Time constant, positive [h].

    Notes
    -----
    t = τ·ln((T0 − T∞) / (T − T∞)) (derived: the inverse of `relaxed_degf`).
    """
    if target_degf == start_degf:
        return 0.0
    if target_degf == rest_degf or (start_degf - rest_degf) * (target_degf - rest_degf) <= 0.0:
        return inf
    ratio = (start_degf - rest_degf) / (target_degf - rest_degf)
    return constant_h * log(ratio) if ratio > 1.0 else inf
