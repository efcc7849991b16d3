"""What can be wrong with portable generators, in a price book and in a home."""

from __future__ import annotations

from tests.case.defects import error, one, warning

GASOLINE = ('propane = "2.50 USD/gal"\n', 'propane = "2.50 USD/gal"\ngasoline = "3.50 USD/gal"\n')
PORTABLE = """
[[portables]]
id = "small"
label = "Portable, 5 kW"
voltage = "240 V"
power = "5 kW"
apparent = "5.5 kVA"
receptacle = "30 A"
tank = "6 gal"
no_load = "0.3 gal/h"
half_load = "0.5 gal/h"
full_load = "0.8 gal/h"
derating = { altitude = "3.5 % per 1000 ft", altitude_from = "0 ft", temperature = \
"1 % per 10 degF", temperature_from = "77 degF" }
neutral_bonded = true
price = "800 USD"
"""
MANUAL = """
[[manual_transfers]]
id = "inlet"
label = "Interlock with inlet"
kind = "interlock"
voltage = "240 V"
inlet = "30 A"
price = "150 USD"
installation = "400 USD"
cord = "90 USD"
"""
SOUND = (GASOLINE, ("", PORTABLE + MANUAL))


def spoiled(old, new):
    """Add a portable generator and its transfer equipment with one thing changed."""
    text = PORTABLE + MANUAL
    assert text.count(old) == 1, old
    return (GASOLINE, ("", text.replace(old, new)))


OF_PORTABLES = (
    error((("", PORTABLE + MANUAL),), "book: gasoline", "the book has no price of it",
          'Add gasoline = "3.50 USD/gal".', (GASOLINE,)),
    error(spoiled('voltage = "240 V"\npower', 'voltage = "230 V"\npower'),
          "portable small: voltage", '"230 V" is no voltage of a portable generator',
          'Write "240 V" for one that gives 120 and 240 V', one('"230 V"', '"240 V"')),
    error(spoiled('receptacle = "30 A"', 'receptacle = "33 A"'), "portable small: receptacle",
          '"33 A" is no rating of a receptacle', "Ratings: 15, 20, 30, 50 A.",
          one('"33 A"', '"30 A"')),
    warning(spoiled('inlet = "30 A"', 'inlet = "20 A"'), "portable small",
            "no manual transfer equipment of the book takes its 30 A, 240 V receptacle",
            "Add one with [[manual_transfers]].", one('inlet = "20 A"', 'inlet = "30 A"')),
    error(spoiled('power = "5 kW"\napparent = "5.5 kVA"', 'power = "5.5 kW"\napparent = "5 kVA"'),
          "portable small: apparent", "5 kVA is below 5.5 kW", "Are the two swapped?",
          one('power = "5.5 kW"\napparent = "5 kVA"', 'power = "5 kW"\napparent = "5.5 kVA"')),
    error(spoiled('half_load = "0.5 gal/h"', 'half_load = "0.9 gal/h"'),
          "portable small: full_load", "fuel does not rise with load: 0.3, 0.9, 0.8 gal/h",
          "Check the order of the three.", one('"0.9 gal/h"', '"0.5 gal/h"')),
    warning(spoiled('full_load = "0.8 gal/h"', 'full_load = "8 gal/h"'),
            "portable small: full_load", "2% efficiency at full load is outside the likely",
            "Check the fuel data.", one('"8 gal/h"', '"0.8 gal/h"')),
    error(spoiled('kind = "interlock"', 'kind = "switch"'), "manual transfer inlet: positions",
          "a switch needs positions, an interlock has none", "Write how many poles",
          one('kind = "switch"\n', 'kind = "switch"\npositions = 6\n')),
)


def attended(text):
    """Add when somebody is there to a home."""
    return one("", f"[portable]\n{text}\n")


OF_ATTENDANCE = (
    error(attended('attended = ["22:00", "6:00"]'), "portable: attended",
          'from "22:00" to "6:00" goes over midnight, which is not possible',
          'Write the first hour and the last in 24-hour clock: attended = ["6:00", "22:00"]. With '
          'somebody up day and night: attended = ["0:00", "24:00"].',
          one('["22:00", "6:00"]', '["6:00", "22:00"]')),
    error(attended('attended = ["6am", "10pm"]'), "portable: attended",
          '"6am" is no hour of the 24-hour clock', "Write the first hour and the last in 24-hour",
          one('["6am", "10pm"]', '["6:00", "22:00"]')),
    error(attended('attended = ["6:00", "24:30"]'), "portable: attended",
          '"24:30" is no hour of the 24-hour clock', "Write the first hour and the last",
          one('"24:30"', '"24:00"')),
    error(attended('attended = ["6:10", "22:00"]'), "portable: attended",
          '"6:10" is no quarter of an hour', "Quarters are 6:00, 6:15", one('"6:10"', '"6:15"')),
    error(attended('attended = ["6:00", "6:00"]'), "portable: attended",
          'from "6:00" to "6:00" is no time at all',
          "Write the first hour and the last in 24-hour clock",
          one('["6:00", "6:00"]', '["0:00", "24:00"]')),
    error(attended('attended = ["6:00"]'), "portable: attended",
          "two hours of a day are expected, not 1 of them", "Write the first hour and the last",
          one('["6:00"]', '["6:00", "22:00"]')),
    error(attended('attended = "6:00"'), "portable: attended",
          'two hours of a day are expected, not "6:00"', "Write the first hour",
          one('"6:00"', '["6:00", "22:00"]')),
    error(attended('every = "20 min"'), "portable: every",
          '"20 min" is no whole number of quarters of an hour', 'Write for example "2 h"',
          one('"20 min"', '"30 min"')),
    error(attended('evry = "2 h"'), "portable: evry", "there is no such key",
          'Did you mean "every"?', one("evry", "every")),
)
