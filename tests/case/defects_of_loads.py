"""What can be wrong with the draw, the start and the machine of a load."""

from __future__ import annotations

from tests.case.defects import error, one, warning

STEP = '{for = "1 s", kw = "5 kW", kva = "8 kVA"}'


def after(line, *more):
    """Put lines behind a line."""
    return one(f"{line}\n", "\n".join([line, *more, ""]))


def spa(*lines):
    """Give the spa more lines."""
    return after('kind = "spa"', *lines)


def pump(*lines):
    """Give the pump more lines."""
    return after('kind = "well pump"', *lines)


def air(*lines):
    """Give the air conditioner more lines."""
    return after('kind = "central air conditioner"', *lines)


def gone(line):
    """Take a line out."""
    return one(f"{line}\n", "")


DRAWS = (
    error(one('kind = "spa"', 'kind = "spaa"'), "load spa: kind",
          '"spaa" is not in the appliance library', 'Did you mean "spa"?', one("spaa", "spa")),
    error(one('kind = "spa"', 'kind = "radiant floor heat"'), "load spa: size",
          'kind "radiant floor heat" needs a size', "Sizes run from 10 to 500 ft^2",
          after('kind = "radiant floor heat"', 'size = "100 ft^2"')),
    error(one('size = "3 ton"', 'size = "30 ton"'), "load air: size",
          "is outside the range of kind",
          "Sizes run from 1.5 to 5 ton; outside it leave size out and give the nameplate (running",
          one('size = "30 ton"', 'running = "30 kW"')),
    error(one('size = "3 ton"', 'size = "big"'), "load air: size",
          '"big" is not a number with a unit', "", one('"big"', '"3 ton"')),
    error(one('size = "1 hp"', 'motor = "9 hp"'), "load pump: motor", "9 hp is outside the range",
          "Sizes run from 0.3333 to 5 hp; outside it leave size out and give the nameplate",
          after('motor = "9 hp"', 'running = "40 A"')),
    warning(after('size = "1 hp"', 'motor = "2 hp"'), "load pump: size",
            "1 hp is not read: the motor has 2 hp", "Leave the one out that is wrong.",
            gone('size = "1 hp"')),
    error(one('kind = "central air conditioner"\nsize = "3 ton"',
              'kind = "central air conditioner"\nmotor = "15 hp"'), "load air: motor",
          "is above the 10 hp at which the table of single-phase motors ends",
          'Give the nameplate: running = "... A".',
          after('motor = "15 hp"', 'running = "60 A"')),
    error(air('mca = "30 A"', 'mop = "20 A"'), "load air: mop", "mop (20 A) is below mca (30 A)",
          "Check the nameplate",
          (('mca = "30 A"', 'mca = "20 A"'), ('mop = "20 A"', 'mop = "30 A"'))),
    warning(air('mop = "40 A"'), "load air: mop", "a breaker size alone does not say",
            "Give mca, or running.", after('mop = "40 A"', 'mca = "25 A"')),
    error(spa('leg = "L1"', 'running = "280 kW"'), "load spa: running", "it draws 2,405 A at 120 V",
          "At most 1,200 A; check power, power factor and leg.", one('"280 kW"', '"1.4 kW"')),
    error(one('kind = "range"\n', 'kind = "range"\nleg = "L1"\n'), "load oven: leg",
          'a "range" does not stand on L1', "", one('leg = "L1"\nwait', 'leg = "both"\nwait')),
)

STARTS = (
    warning(after('kind = "range"', 'motor = "2 hp"'), "load oven: motor",
            "nothing says that the load starts hard",
            "Give locked_rotor or code_letter if it does.",
            after('motor = "2 hp"', 'locked_rotor = "60 A"')),
    warning(after('kind = "range"', "start_power_factor = 0.5"), "load oven: start_power_factor",
            "the load does not start hard", "Give locked_rotor if it does.",
            after("start_power_factor = 0.5", 'locked_rotor = "60 A"')),
    warning(after('kind = "lighting and receptacles"', "heating_units = 2"),
            "load lights: heating_units", "it is not read for kind", "Leave it out.",
            gone("heating_units = 2")),
    warning(spa("with_supplemental = false"), "load spa: with_supplemental",
            "it is not read for kind", "It belongs to the heat pump.",
            gone("with_supplemental = false")),
    warning(pump(f"surge = [{STEP}]", 'locked_rotor = "60 A"'), "load pump: locked_rotor",
            "it is not read, because surge is given", "Leave one of the two out.",
            gone('locked_rotor = "60 A"')),
    error(pump('locked_rotor = "2 A"'), "load pump: locked_rotor",
          "kVA at locked rotor is below the", "Check both nameplate currents.",
          one('"2 A"', '"40 A"')),
    error(pump(f"surge = [{STEP}]".replace("5 kW", "9 kW")), "load pump: surge",
          "9 kW is above 8 kVA", "Check which of the two is which.",
          one('kw = "9 kW", kva = "8 kVA"', 'kw = "8 kW", kva = "9 kVA"')),
    error(pump(f"surge = [{STEP}]".replace("5 kW", "1 kW").replace("8 kVA", "1 kVA")),
          "load pump: surge", "its highest step, 1 kVA, is not above",
          "Leave surge out if it starts softly.",
          gone('surge = [{for = "1 s", kw = "1 kW", kva = "1 kVA"}]')),
    error(one('kind = "spa"', 'kind = "sauna"\ncode_letter = "G"'), "load spa: code_letter",
          "a code letter is kVA per horsepower, and no horsepower is given",
          'Add motor = "... hp", or give locked_rotor = "... A" instead.',
          one('code_letter = "G"', 'code_letter = "G"\nmotor = "7.5 hp"')),
    error(pump('code_letter = "V"'), "load pump: code_letter", 'code letter "V" has no upper end',
          "Give the locked-rotor current of the nameplate",
          one('code_letter = "V"', 'locked_rotor = "60 A"')),
)

MACHINES = (
    warning(spa('stage = "1 of 2"'), "load spa: stage", 'it is not read for kind "spa"',
            "Leave it out.", gone('stage = "1 of 2"')),
    error(spa('stage = "3 of 2"'), "load spa: stage", "is no stage", 'Write for example "2 of 3".',
          gone('stage = "3 of 2"')),
    warning(air("eer = 11.0", "year = 2010"), "load air: year", "eer is given and says more",
            "Leave one of the two out.", gone("year = 2010")),
    warning(spa("year = 2010"), "load spa: year", 'it is not read for kind "spa"', "Leave it out.",
            gone("year = 2010")),
    error(pump('restarts = "must not"', 'connections = ["module"]'), "load pump: connections",
          "it may take turns, but must not be cut", 'Leave "module" out',
          one('connections = ["module"]', 'connections = ["direct"]')),
    error(one('kind = "spa"', 'kind = "solar panels"'), "load spa: kind",
          "solar power is not planned", "Take it out.", one('"solar panels"', '"spa"')),
    error(one('kind = "spa"', 'kind = "battery"'), "load spa: kind",
          "a battery is not planned", "Take it out.", one('"battery"', '"spa"')),
)

OF_LOADS = (*DRAWS, *STARTS, *MACHINES)
