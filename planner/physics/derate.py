"""Loss of engine output with altitude and temperature."""

from __future__ import annotations

from planner.facts.price_book import Derating


def derate_factor(altitude_ft: float, temperature_degf: float, derating: Derating) -> float:
    """Give the share of its rated output that a generator keeps at a site [0–1].

    Parameters
    ----------
    altitude_ft : float
        Of the site above sea level, any [ft].
    temperature_degf : float
        Of the air that the engine breathes, any [degF].
    derating : Derating
        Slopes and datums of the price book.

    Notes
    -----
    factor = 1 − altitude loss − temperature loss, each at least 0, the result at least 0. Losses
    add up, which never leaves more than their product would.

    References
    ----------
    Usual slopes of a naturally aspirated spark-ignition engine, 3 % per 1000 ft above 500 ft and
    1 % per 10 degF above 85 degF: common practice, no source. They leave up to 5 points more than
    SAE J1349 (June 1990) does at 25 to 40 degC and up to 10,000 ft (derived). 3.5 % per 1000 ft
    above the sea and 1 % per 10 degF above 77 degF (common practice, no source) never leave more
    than either up to 10,000 ft and from 60 to 120 degF (derived); the nameplate wins.
    """
    high_ft = max(0.0, altitude_ft - derating.altitude_datum_ft)
    hot_degf = max(0.0, temperature_degf - derating.temperature_datum_degf)
    lost = (derating.altitude_per_1000_ft * high_ft / 1000.0
            + derating.temperature_per_10_degf * hot_degf / 10.0)
    return min(1.0, max(0.0, 1.0 - lost))


def derated_kw(
    kw: float, altitude_ft: float, temperature_degf: float, derating: Derating
) -> float:
    """Give the real power that a generator keeps at a site [kW].

    Parameters
    ----------
    kw : float
        Rated real power [kW].
    altitude_ft, temperature_degf, derating
        Of the site [ft, degF]; slopes and datums.

    References
    ----------
    As `derate_factor`.
    """
    return kw * derate_factor(altitude_ft, temperature_degf, derating)
