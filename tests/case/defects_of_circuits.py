"""What can be wrong with a branch breaker or a vehicle charger, with the findings' own words."""

from __future__ import annotations

from tests.case.defects import error, note, one, warning

KEPT = 'current_setting = "24 A"'


def charger(*lines):
    """Let the spa be a vehicle charger with these lines."""
    return one('kind = "spa"\n', "\n".join(['kind = "vehicle charger"', *lines, ""]))


def heater(*lines):
    """Give the spa, a heater of 5.5 kW, these lines."""
    return one('kind = "spa"\n', "\n".join(['kind = "spa"', *lines, ""]))


BLOWER = 'kind = "furnace blower"\npositions = "5,9"\n'

OF_CIRCUITS = (
    error(charger('size = "48 A"', 'breaker = "50 A"'), "load spa: breaker",
          "a 50 A breaker carries a charger of 40 A, not of 48 A", "Set it lower",
          one('breaker = "50 A"', 'breaker = "60 A"')),
    error(charger('size = "32 A"', 'current_setting = "40 A"', 'breaker = "50 A"'),
          "load spa: current_setting", "40 A is above the 32 A that the charger can give",
          "Check its size, its breaker and the setting.",
          (('size = "32 A"', 'size = "40 A"'), ('current_setting = "40 A"\n', ""))),
    note(charger('size = "48 A"', KEPT), "load spa: current_setting",
         "the charger counts at 24 A only where the setting is marked and kept from the user",
         "Verify it on site, or leave the setting out.", one(f"{KEPT}\n", "")),
    warning(heater(KEPT), "load spa: current_setting", 'it is not read for kind "spa"',
            "Leave it out.", one(f"{KEPT}\n", "")),
    error(heater('breaker = "20 A"'), "load spa: breaker",
          "a 20 A breaker does not carry the 23.6 A that the load draws", "Check both.",
          one('breaker = "20 A"', 'breaker = "30 A"')),
    note(one('kind = "furnace blower"\n', 'kind = "furnace blower"\nsize = "0.25 hp"\n'
             'nameplate = "600 VA"\n'), "load blower: nameplate",
         "600 VA are less than the 696 VA of a 0.25 hp motor at 240 V",
         "Leave the size out if this is the marking of a listed appliance.",
         one('nameplate = "600 VA"', 'nameplate = "696 VA"')),
    error(one('kind = "central air conditioner"\n', 'kind = "central air conditioner"\n'
              'mca = "24 A"\nmop = "40 A"\nbreaker = "50 A"\n'), "load air: breaker",
          "a 50 A breaker is above mop (40 A)", "Check the nameplate and the panel.",
          one('breaker = "50 A"', 'breaker = "40 A"')),
    error(heater('positions = "9;11"'), "load spa: positions", "names no positions of a panel",
          "Write each once, with commas", one('"9;11"', '"9,11"')),
    error(heater('positions = "9"'), "load spa: positions",
          "1 named, but its breaker takes 2 spaces.", "Write for example", one('"9"', '"9,11"')),
    warning((*heater('positions = "9,11"'), *one('kind = "furnace blower"\n', BLOWER)),
            "load spa: positions", "stands there as well.", "Check the panel.",
            one('positions = "9,11"', 'positions = "13,15"')),
    warning((*heater('breaker = "50 A"', 'positions = "5,9"'),
             *one('kind = "furnace blower"\n', f'{BLOWER}breaker = "15 A"\n')),
            "load spa: positions", "it is on one circuit with", "One circuit has one breaker.",
            one('breaker = "50 A"\npositions = "5,9"', 'breaker = "50 A"\npositions = "13,15"')),
    warning(one("", '[list]\nnot_read = ["line 1: xyzzy"]\n'), "list: not_read",
            "1 line of the list is not in this home", "Add what they name as loads",
            one('["line 1: xyzzy"]', "[]")),
)
