"""How loud a generator is at a distance, over open ground."""

from __future__ import annotations

from math import log10

REFERENCE_FT = 23.0
"""Distance at which makers state the sound level, 7 m (common practice, no source) [ft]."""


def level_db(stated_db: float, distance_ft: float) -> float:
    """Give the sound level at a distance [dB].

    Parameters
    ----------
    stated_db : float
        Level at `REFERENCE_FT` [dB].
    distance_ft : float
        From the generator, positive [ft].

    Raises
    ------
    ValueError
        If the distance is not positive.

    Notes
    -----
    L = L₂₃ − 20·log₁₀(d / 23 ft): a point in the open, 6.02 dB less for each doubling (derived:
    power spread over a sphere). Walls behind the generator throw sound back; 3 dB more for one wall
    (derived: half of the space).
    """
    if distance_ft <= 0.0:
        msg = f"A distance is positive, not {distance_ft:g} ft."
        raise ValueError(msg)
    return stated_db - 20.0 * log10(distance_ft / REFERENCE_FT)


def distance_for_db_ft(stated_db: float, allowed_db: float) -> float:
    """Give the distance from which on a sound level is kept [ft]: `level_db` turned round.

    Parameters
    ----------
    stated_db : float
        Level at `REFERENCE_FT` [dB].
    allowed_db : float
        Level that is allowed [dB].

    Notes
    -----
    d = 23 ft·10^((L₂₃ − L) / 20) (derived).
    """
    distance: float = REFERENCE_FT * 10.0 ** ((stated_db - allowed_db) / 20.0)
    return distance
