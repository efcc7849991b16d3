"""Loss of engine output with altitude and temperature."""

from __future__ import annotations

from planner.facts.price_book import Derating


def derate_factor(altitude_ft: float, temperature_degf: float, derating: Derating) -> float:
    """Give the share of its rated output that a generator keeps at a site [0–1].

    Parameters
    ----------
    altitude_ft : float
        Of the site above sea level [ft].
    temperature_degf : float
        Of the air that the engine breathes [degF].
    derating : Derating
        Slopes and datums of the price book.

    Notes
    -----
    factor = 1 − altitude loss − temperature loss, each at least 0, the result at least 0. Slopes
    from published data: 3 % per 1000 ft above 500 ft and 1 % per 10 degF above 85 degF for a
    naturally aspirated spark-ignition engine (university textbook of agricultural engineering).
    The textbook treats one loss at a time; here they add up, which never leaves more than their
    product would.
    """
    high_ft = max(0.0, altitude_ft - derating.altitude_datum_ft)
    hot_degf = max(0.0, temperature_degf - derating.temperature_datum_degf)
    lost = (derating.altitude_per_1000_ft * high_ft / 1000.0
            + derating.temperature_per_10_degf * hot_degf / 10.0)
    return min(1.0, max(0.0, 1.0 - lost))


def derated_kw(
    kw: float, altitude_ft: float, temperature_degf: float, derating: Derating
) -> float:
    """Give the real power that a generator keeps at a site [kW]; parameters as `derate_factor`."""
    return kw * derate_factor(altitude_ft, temperature_degf, derating)
