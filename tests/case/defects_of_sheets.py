"""What can be wrong with a calculated load by code, with the findings' own words.

Findings that ask to look into the adopted book, or to ask the authority having jurisdiction, are
not here: nothing in the file takes them away.
"""

from __future__ import annotations

from tests.case.defects import Edits, error, one, warning


def measured(days: int = 365, interval_min: int = 15, generation: str = "false") -> Edits:
    """Turn the home's method into the measured one."""
    return one('method = "optional"\n',
               f'method = "measured"\n[code.measured]\npeak = "9 kVA"\ndays = {days}\n'
               f'interval = "{interval_min} min"\nwith_generation = {generation}\n')


OF_SHEETS = (
    warning((('service = "200 A"', 'service = "95 A"'),
             ('[[loads]]\nid = "oven"\nkind = "range"\n', "")), "code.method",
            "The optional method applies to a service or feeder of 100 A or more",
            'Use method = "standard".', one('method = "optional"', 'method = "standard"')),
    error(measured(days=20), "code.measured.days", "Measured over 20 days",
          "Measure longer, or use another method.", one("days = 20", "days = 365")),
    error(measured(days=20), "code.measured.days", "Measured over 20 days",
          "Measure longer, or use another method.",
          one('method = "measured"', 'method = "standard"')),
    warning(measured(days=60), "code.measured.days", "Measured over 60 days",
            "Confirm both, or measure a year.", one("days = 60", "days = 365")),
    warning(measured(generation="true"), "code.measured.with_generation",
            "hides demand from the meter", "Use another method, or data of the load itself.",
            one("with_generation = true", "with_generation = false")),
    warning(measured(interval_min=60), "code.measured.interval",
            "Averages over 60 min understate", "Get 15-min data.", one('"60 min"', '"15 min"')),
    warning((('kind = "range"', 'kind = "range"'),
             ("", "".join(f'[[loads]]\nid = "car-{n}"\nkind = "vehicle charger"\nsize = "48 A"\n'
                          for n in range(8)))), "home.service",
            "is more than the service of 200 A carries", "Check floor area, nameplates and the "
            "service", one('service = "200 A"', 'service = "400 A"')),
    warning((('kind = "range"', 'kind = "range"\nsize = "18.6 kW"'),
             ("", "".join(f'[[loads]]\nid = "spa-{n}"\nkind = "spa"\nsize = "1.6 kW"\nleg = "L1"\n'
                          for n in range(3)))), "loads", "The 120 V loads are uneven: L1 carries",
            "Move 120 V loads from L1 to L2, or take ",
            one('id = "spa-1"\nkind = "spa"\nsize = "1.6 kW"\nleg = "L1"',
                'id = "spa-1"\nkind = "spa"\nsize = "1.6 kW"\nleg = "L2"')),
)
