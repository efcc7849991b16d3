"""What may stand in a file: the one home of every bound, each with the rule that it follows.

The bounds keep out slips of the pen and what would overflow behind the fence; whether a value is
likely is another question, which warnings answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A
from planner.units import DIMENSIONS, Quantity, magnitude, parse

LARGEST_SERVICE_A = 1200.0
"""Service of the largest home that the planner is for: chosen, six times the usual 200 A."""
LARGEST_RATING_A = float(STANDARD_RATINGS_A[-1])
"""NEC 240.6(A) ends here; the value from memory."""
STARTS_OVER_RUNNING = 6.0
"""Locked-rotor over running current, the trade's rule (common practice, no source)."""
KW_PER_HP = 0.7457
"""1 hp = 550 ft·lbf/s = 745.7 W, by definition."""

SERVICE_KVA = LARGEST_SERVICE_A * LINE_VOLTS / 1000.0
RATING_KVA = LARGEST_RATING_A * LINE_VOLTS / 1000.0

_BY_SERVICE = f"what a {LARGEST_SERVICE_A:g} A service carries"
_BY_START = f"{STARTS_OVER_RUNNING:g} times {_BY_SERVICE}"
_BY_RATING = "the largest standard rating, NEC 240.6(A)"


@dataclass(frozen=True)
class Bound:
    """From the least to the most that a quantity may be, both allowed.

    Attributes
    ----------
    dimension : str
        A key of `planner.units.DIMENSIONS`.
    least, most : str
        As a file would write them.
    why : str
        The rule behind the upper end, if there is one that a reader knows.
    """

    dimension: str
    least: str
    most: str
    why: str = ""

    @cached_property
    def ends(self) -> tuple[Quantity, Quantity]:
        """Both ends as quantities."""
        return parse(self.least, self.dimension), parse(self.most, self.dimension)

    def holds(self, value: float) -> bool:
        """Whether a value in the dimension's own unit lies within; no infinity and no nan does."""
        unit = DIMENSIONS[self.dimension].unit
        least, most = (magnitude(end, unit) for end in self.ends)
        return least <= value <= most


# Loads: what one of them draws when it runs, and when it starts.
DRAW_KW = Bound("power", "0.1 W", f"{SERVICE_KVA:g} kW", _BY_SERVICE)
DRAW_KVA = Bound("apparent power", "0.1 VA", f"{SERVICE_KVA:g} kVA", _BY_SERVICE)
DRAW_A = Bound("current", "0.001 A", f"{LARGEST_SERVICE_A:g} A", _BY_SERVICE)
SHAFT = Bound("shaft power", "0.001 hp", f"{SERVICE_KVA / KW_PER_HP:.0f} hp", _BY_SERVICE)
START_A = Bound("current", "0.001 A", f"{STARTS_OVER_RUNNING * LARGEST_SERVICE_A:g} A", _BY_START)
SURGE_KW = Bound("power", "0 kW", f"{STARTS_OVER_RUNNING * SERVICE_KVA:g} kW", _BY_START)
SURGE_KVA = Bound("apparent power", "0.1 VA", f"{STARTS_OVER_RUNNING * SERVICE_KVA:g} kVA",
                  _BY_START)
SURGE_TIME = Bound("time", "0.001 s", "60 s")  # chosen: a motor that takes longer is stalled
YEAR = (1950, 2100)  # of make: chosen
EER = (4.0, 40.0)  # Btu/h per watt: chosen, half the worst and twice the best
POWER_FACTOR = (0.05, 1.0)  # chosen: an unloaded motor has 0.1 to 0.2 (from memory)

# The house.
FAULT = Bound("fault current", "100 A", "200000 A")  # chosen: beyond the largest ratings
SERVICE = Bound("current", "30 A", f"{LARGEST_SERVICE_A:g} A")
RATING = Bound("current", "1 A", f"{LARGEST_RATING_A:g} A", _BY_RATING)
AREA = Bound("area", "0 ft^2", "100000 ft^2")  # chosen
ALTITUDE = Bound("length", "-300 ft", "15000 ft")  # chosen: below and above where people live
TEMPERATURE = Bound("temperature", "-80 degF", "140 degF")  # chosen: records in North America
SET_POINT = Bound("temperature", "40 degF", "95 degF")  # chosen: what a thermostat can be set to
MEASURED_KVA = Bound("apparent power", "0.1 VA", f"{SERVICE_KVA:g} kVA", _BY_SERVICE)
INTERVAL = Bound("time", "1 s", "1 day")
MEASURED_DAYS = (0.01, 3660.0)  # a quarter of an hour to ten years
WEIGHT = (0.001, 1000.0)  # of a design day beside the others: chosen; days of a year fit

# Wishes and limits.
WAIT = Bound("time", "0 h", "168 h", "a week")
PAUSE = Bound("time", "0 h", "24 h", "a day")
SPELL = Bound("time", "1 day", "14 day", "two weeks")  # chosen: longer ones repeat themselves
PROMISED = Bound("temperature", "20 degF", "120 degF")  # of a room: chosen, a barn and a loft
BEHIND = Bound("temperature", "0 degF", "30 degF")  # chosen: then back-up heat never helps
TIME_CONSTANT = Bound("time", "0.5 h", "500 h")  # chosen: a tent, and a house of stone underground
OFFSET = Bound("time", "0 h", "24 h")
DUTY = Bound("share", "0.1 %", "100 %")
ALLOWED_DIP = Bound("share", "0.1 %", "50 %")
LARGEST_SHARE = Bound("share", "1 %", "100 %")

# The price book.
GENERATOR_KW = Bound("power", "0.1 kW", f"{RATING_KVA:g} kW", _BY_RATING)
GENERATOR_KVA = Bound("apparent power", "0.1 kVA", f"{RATING_KVA:g} kVA", _BY_RATING)
HEAT = Bound("heat rate", "1 Btu/h", "50000000 Btu/h")  # the largest generator at 10 %
SHORT_TIME = Bound("share", "100 %", "200 %")
REACTANCE = (0.01, 0.99)  # X'd per unit; likely ones are far within
INERTIA = Bound("time", "0.01 s", "60 s")
DROOP = Bound("share", "0.1 %", "10 %")
GOVERNOR_LAG = Bound("time", "0.01 s", "5 s")
LOW_FREQUENCY = Bound("frequency", "30 Hz", "59 Hz")
LOW_VOLTAGE = Bound("share", "30 %", "99 %")
PROTECTION_TIME = Bound("time", "0.1 s", "10 min")
SOFT_START = Bound("time", "0.05 s", "60 s")
AVERAGE = Bound("share", "30 %", "100 %")  # ISO 8528-1 counts no stretch below 30 %
DATUM = Bound("length", "0 ft", "15000 ft")
MOST_LOSS_PER_1000_FT = 0.10  # chosen, three times the usual loss
MOST_LOSS_PER_10_DEGF = 0.10  # chosen, ten times the usual loss
MODULE_MOTOR = Bound("shaft power", "0 hp", SHAFT.most, _BY_SERVICE)
SOFT_FACTOR = Bound("share", "1 %", "100 %")
PRICE = Bound("money", "0.01 USD", "1000000 USD")  # of one part: chosen
MONEY = Bound("money", "0 USD", "1000000 USD")
GAS_PRICE = Bound("price of gas", "0.001 USD/therm", "1000 USD/therm")
PROPANE_PRICE = Bound("price of propane", "0.001 USD/gal", "1000 USD/gal")

# The site: chosen, beyond what stands at a house.
SITE_LENGTH = Bound("length", "0 ft", "5000 ft")
SITE_HEIGHT = Bound("length", "0 in", "240 in")
GAS_PRESSURE = Bound("pressure", "1 inWC", "20 psi")
GAS_DROP = Bound("pressure", "0.1 inWC", "10 inWC")
GAS_INLET = Bound("pressure", "1 inWC", "2 psi")  # of a generator
REGULATOR_INLET = Bound("pressure", "14 inWC", "250 psi")  # up to that of a propane tank
HEATING_VALUE = Bound("heating value", "800 Btu/ft^3", "1300 Btu/ft^3")
GAS_FLOW = Bound("gas flow", "1 ft^3/h", "100000 ft^3/h")
TANK = Bound("volume", "20 gal", "1000 gal", "where the table of vaporisation ends")
FILL = Bound("share", "5 %", "80 %", "the filling limit, NFPA 58")
BURNS = Bound("share", "0 %", "100 %")
LOUDNESS = Bound("loudness", "20 dB", "140 dB")
TERMINALS = Bound("temperature", "140 degF", "194 degF")
FUEL_DAYS = Bound("time", "1 h", "60 day")
FOOT_PRICE = Bound("price per foot", "0 USD/ft", "10000 USD/ft")
TANK_LENGTH = Bound("length", "6 in", "480 in")
SWITCHING = Bound("time", "15 min", "12 h")  # chosen
FUEL_RATE = Bound("fuel rate", "0.01 gal/h", "100 gal/h")
PORTABLE_TANK = Bound("volume", "0.1 gal", "100 gal")
ENCLOSURE = Bound("length", "6 in", "480 in")

# What is asked for.
COVERAGE = Bound("share", "0 %", "100 %")
BUDGET = Bound("money", "0 USD", "10000000 USD")  # ten parts at the dearest
OUTAGE_H = (0.1, 720.0)  # six minutes to a month
MOST_SEEDS = 100_000  # outages on each design day: chosen
START_H = (0.0, 23.999)  # hour of the day
ENGINE_CALL = Bound("time", "0 s", "1 h")  # sensing, and warm-up until transfer: chosen

# Texts and tables.
LONGEST_NAME = 200
"""Characters of a label, an id, a kind: two lines of a terminal, and a file name of it is one."""
LONGEST_TEXT = 2000
"""Characters of the notice of a price book or of a path: a page of words."""
MOST_PANELS, POLES_OF_A_PANEL = 24, 84
"""Chosen; and the poles of the largest panelboard on offer (common practice, no source)."""
MOST_LOADS = MOST_PANELS * POLES_OF_A_PANEL
"""Each load has a circuit of its own, and a circuit takes a pole at least."""
MOST_DAYS = 366
"""A design day for each date of a year."""
MOST_PARTS = 500
"""Of one kind in a price book: chosen."""
