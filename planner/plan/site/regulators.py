"""What arrives at the generator, and regulators where a pipe has more than appliances take."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Fuel, Home
from planner.facts.price_book import PriceBook
from planner.facts.site import GasService
from planner.physics.pipe_tables import GRAVITY, IN_WC_PER_PSI, MOST_IN_WC
from planner.plan.site.fuel import ft3_h
from planner.plan.site.parts import SiteLine
from planner.tolerances import meets


@dataclass(frozen=True, slots=True)
class Regulators:
    """The line of the generator's regulator, and those of the other outlets of the pipe.

    `others` goes with the lines: what hangs on each outlet, in words.
    """

    generator: SiteLine
    others: tuple[tuple[str, SiteLine], ...]

    @property
    def lines(self) -> tuple[SiteLine, ...]:
        """All of them, that of the generator first."""
        return (self.generator, *(line for _, line in self.others))


def is_regulated(gas: GasService) -> bool:
    """Whether the pipe is known to have more pressure than an appliance takes."""
    return gas.pressure_psi is not None and not meets(
        gas.pressure_psi * IN_WC_PER_PSI, MOST_IN_WC)


def arriving_in_wc(gas: GasService) -> float | None:
    """Give the pressure at the generator at full load [in w.c.].

    Returns
    -------
    float or None
        None where nobody knows that at the start of the pipe, or a regulator sets it.
    """
    if gas.pressure_psi is None or is_regulated(gas):
        return None
    return gas.pressure_psi * IN_WC_PER_PSI - gas.drop_in_wc


def regulators_of(
    gas: GasService, home: Home, book: PriceBook, needs_ft3_h: float
) -> Regulators | None:
    """Choose a regulator for each outlet of the pipe.

    Parameters
    ----------
    gas, home, book
        The pipe, whose home it is, and what is offered.
    needs_ft3_h : float
        Flow of the generator at full load [ft³/h].

    Returns
    -------
    Regulators or None
        None where the pressure is low, or not known. The cheapest for each outlet that passes what
        hangs on it and takes the pressure of the pipe; a line without a price where the book has
        none.

    References
    ----------
    NFPA 54 ch. 5 (from memory): a line regulator where a branch or an appliance is made for less
    than the pressure of the pipe.
    """
    if gas.pressure_psi is None or not is_regulated(gas):
        return None
    appliances = {one.id: one for one in gas.appliances}
    others = []
    for run in gas.runs:
        fed = [appliances[name] for name in run.appliances if name in appliances]
        if fed:
            where = " and ".join(one.label for one in fed)
            flow = ft3_h(sum(one.input_btu_h for one in fed), home)
            others.append((where, _line(book, home.fuel, gas.pressure_psi, where, flow)))
    return Regulators(_line(book, home.fuel, gas.pressure_psi, "the generator", needs_ft3_h),
                      tuple(others))


def _line(book: PriceBook, fuel: Fuel, psi: float, where: str, flow_ft3_h: float) -> SiteLine:
    passed = flow_ft3_h * GRAVITY[fuel] ** 0.5 / GRAVITY["natural gas"] ** 0.5
    fitting = [one for one in book.site.regulators if one.ft3_h >= passed
               and one.inlet_psi is not None and meets(psi, one.inlet_psi)]
    if not fitting:
        return SiteLine(f"gas regulator for {psi:.3g} psi at {where}", None)
    one = min(fitting, key=lambda part: (part.installed_usd, part.ft3_h, part.id))
    return SiteLine(f"{one.label}, at {where}, installed", one.installed_usd)
