"""Grounding and bonding conductors: equipment grounding, electrode conductor, bonding jumper."""

from __future__ import annotations

from planner.physics.wire.conductor_tables import CIRCULAR_MILS, SIZES, Material
from planner.tolerances import meets

EQUIPMENT_GROUNDING: tuple[tuple[int, str, str], ...] = (
    (15, "14", "12"), (20, "12", "10"), (60, "10", "8"), (100, "8", "6"), (200, "6", "4"),
    (300, "4", "2"), (400, "3", "1"), (500, "2", "1/0"), (600, "1", "2/0"), (800, "1/0", "3/0"),
)
"""NEC Table 250.122 (2017 to 2023), from memory: overcurrent device not above [A], size in copper,
size in aluminum."""

ELECTRODE: tuple[tuple[str, str, str, str], ...] = (
    ("2", "1/0", "8", "6"), ("1/0", "3/0", "6", "4"), ("3/0", "250", "4", "2"),
    ("350", "500", "2", "1/0"), ("600", "600", "1/0", "3/0"),
)
"""NEC Table 250.66 (2017 to 2023), from memory: ungrounded conductor not above, in copper and in
aluminum; electrode conductor in copper and in aluminum. The last row goes on to 900 kcmil aluminum,
beyond the sizes held here. Table 250.102(C)(1) has the same sizes up to there."""

ROD_SIZE = "6"
"""NEC 250.66(A) (2017 to 2023), from memory: copper to a rod need not be larger."""


def equipment_grounding_size(
    breaker_a: float, material: Material = "copper", *,
    needed_size: str | None = None, laid_size: str | None = None,
) -> str:
    """Find the equipment grounding conductor of a circuit.

    Parameters
    ----------
    breaker_a : float
        Overcurrent device ahead of the circuit, up to 800 [A].
    material : {"copper", "aluminum"}
        Of the grounding conductor.
    needed_size, laid_size : str or None
        Ungrounded conductors that the current needs, and those that are laid: where these are
        larger, against voltage drop, the grounding conductor grows in proportion of the cross
        sections, but need not be larger than they are.

    Raises
    ------
    ValueError
        If the table ends below the device.

    References
    ----------
    NEC Table 250.122, 250.122(A) and (B) (2017 to 2023).
    """
    for most_a, copper, aluminum in EQUIPMENT_GROUNDING:
        if meets(breaker_a, most_a):
            size = copper if material == "copper" else aluminum
            break
    else:
        msg = f"NEC Table 250.122 as held here ends at 800 A, below {breaker_a:g} A."
        raise ValueError(msg)
    if needed_size is None or laid_size is None:
        return size
    share = CIRCULAR_MILS[laid_size] / CIRCULAR_MILS[needed_size]
    if share <= 1.0:
        return size
    wanted = share * CIRCULAR_MILS[size]
    grown = next((one for one in SIZES if CIRCULAR_MILS[one] >= wanted * (1.0 - 1e-9)), laid_size)
    return min(grown, laid_size, key=SIZES.index)


def grounding_electrode_size(
    ungrounded_size: str, ungrounded_material: Material = "copper",
    material: Material = "copper",
) -> str:
    """Find the conductor from a service or a separately derived system to its electrode.

    Parameters
    ----------
    ungrounded_size : str
        Largest ungrounded conductor, "14" to "600".
    ungrounded_material, material : {"copper", "aluminum"}
        Of that conductor, and of the electrode conductor.

    Raises
    ------
    ValueError
        If the size is unknown.

    References
    ----------
    NEC Table 250.66 (2017 to 2023).
    """
    if ungrounded_size not in SIZES:
        msg = f"NEC Table 250.66 as held here has no conductor {ungrounded_size!r}: 14 to 600."
        raise ValueError(msg)
    place = SIZES.index(ungrounded_size)
    for copper, aluminum, of_copper, of_aluminum in ELECTRODE:
        most = copper if ungrounded_material == "copper" else aluminum
        if place <= SIZES.index(most):
            return of_copper if material == "copper" else of_aluminum
    msg = f"NEC Table 250.66 as held here ends below {ungrounded_size!r}."
    raise ValueError(msg)


def supply_side_jumper_size(
    ungrounded_size: str, ungrounded_material: Material = "copper",
    material: Material = "copper",
) -> str:
    """Find the bonding jumper on the supply side of a service or separately derived system.

    Parameters
    ----------
    ungrounded_size, ungrounded_material, material : str
        As in `grounding_electrode_size`; the same sizes hold up to 1100 kcmil copper.

    References
    ----------
    NEC 250.102(C), Table 250.102(C)(1) (2017 to 2023), from memory.
    """
    return grounding_electrode_size(ungrounded_size, ungrounded_material, material)
