"""What can be wrong with a home, with the findings' own words."""

from __future__ import annotations

from tests.case.defects import HOME, error, note, one, warning
from tests.case.defects_of_circuits import OF_CIRCUITS
from tests.case.defects_of_comforts import OF_COMFORTS
from tests.case.defects_of_portables import OF_ATTENDANCE
from tests.case.defects_of_sites import OF_SITES

LIMITS = '[limits]\nallowed_dip = "30 %"\n'
LOADS = HOME[HOME.index("[[loads]]"):HOME.index("[wishes]")]
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


PEAK = 'peak = "9 kVA"\ndays = 365\ninterval = "15 min"'


def metered(*lines):
    """Count by what was measured."""
    return one('method = "optional"', "\n".join(['method = "measured"', "[code.measured]", *lines]))


def day(number):
    """Text of one more design day."""
    return (f'[[days]]\nid = "day-{number}"\nseason = "summer"\nweight = 1\nlow = "70 degF"\n'
            'high = "95 degF"\n')


TABLES = (
    error(one("", "[wish]\n"), "wish", "there is no such table", 'Did you mean "wishes"?',
          gone("[wish]")),
    error(one("", "[garage]\n"), "garage", "there is no such table", "Tables: home, code",
          gone("[garage]")),
    error(one("[wishes]\n", '[wishes]\nquiet = "air"\n'), "wishes: quiet",
          "there is no such key", "Keys here: order, never_before.", gone('quiet = "air"')),
    error(spa('lable = "Hot tub"'), "load spa: lable", "there is no such key",
          'Did you mean "label"?', one("lable", "label")),
    error(gone('feeder = "60 A"'), "panel sub: feeder", "this key is missing",
          "Add feeder to panel sub.", after('id = "sub"', 'feeder = "60 A"')),
    note(gone('altitude = "600 ft"'), "home", "assumed: altitude",
         "Write what is known.", after('service = "200 A"', 'altitude = "600 ft"')),
    error(one('season = "summer"\n', ""), "day hot: season", "this key is missing",
          "Add season to day hot.", after('id = "hot"', 'season = "summer"')),
    error(one(LOADS, ""), "loads", "there is no load", "Add one with [[loads]].", one("", LOADS)),
    error(((LOADS, ""), ("[home]\n", "loads = 3\n[home]\n")), "loads",
          "3 stands where a list of tables is expected", "Write [[loads]], with two brackets.",
          (*gone("loads = 3"), ("", LOADS))),
    error(((LIMITS, ""), ("[home]\n", "limits = 3\n[home]\n")), "limits",
          "3 stands where a table is expected", "Write its name in brackets",
          (*gone("limits = 3"), ("", LIMITS))),
    error(one("[home]\n", "expected = 3\n[home]\n"), "expected", "3 is not a table",
          "Write its name in brackets", (*gone("expected = 3"), ("", "[expected]\nplans = 3\n"))),
    error(one("", "".join(map(day, range(365)))), "days", "367 days are too many", "At most 366.",
          one(day(364), "")),
)

VALUES = (
    error(one('"200 A"\nfloor', '"200"\nfloor'), "home: service", '"200" has no unit',
          'Write "200 A".', one('"200"', '"200 A"')),
    error(one('"200 A"\nfloor', 'true\nfloor'), "home: service", "true is not a quantity",
          'Write "10 A"', one("service = true", 'service = "200 A"')),
    error(one('"200 A"\nfloor', '200\nfloor'), "home: service", "200 has no unit",
          'Write "200 A".', one("service = 200", 'service = "200 A"')),
    error(one('"1800 ft^2"', '"1,800 ft^2"'), "home: floor_area",
          '"1,800 ft^2" separates thousands', 'Write "1800 ft^2".',
          one('"1,800 ft^2"', '"1800 ft^2"')),
    error(one('"1800 ft^2"', '"about 1800 ft^2"'), "home: floor_area",
          '"about 1800 ft^2" is not a number with a unit', "Write", one("about ", "")),
    error(one('"1800 ft^2"', '"1800 sqft"'), "home: floor_area", 'unit "sqft" is not one of',
          'Did you mean "1800 ft^2"?', one('"1800 sqft"', '"1800 ft^2"')),
    error(spa('running = "5 hp"'), "load spa: running", '"5 hp" is shaft power of a motor',
          "Give it in", one('"5 hp"', '"5 kW"')),
    error(one('"200 A"\nfloor', '"-200 A"\nfloor'), "home: service", '"-200 A" is negative',
          "Write it without the minus sign.", one('"-200 A"', '"200 A"')),
    error(one('feeder = "60 A"', 'feeder = "0.5 A"'), "panel sub: feeder", '"0.5 A" is too low',
          "At least 1 A.", one('"0.5 A"', '"1 A"')),
    error(one('"200 A"\nfloor', '"2000 A"\nfloor'), "home: service", '"2000 A" is too high',
          "At most 1200 A.", one('"2000 A"', '"1200 A"')),
    error(one('"natural gas"', '"natural gass"'), "home: fuel", "is not one of",
          'Did you mean "natural gas"?', one('"natural gass"', '"natural gas"')),
    error(one('edition = "2023"', "edition = 2023"), "code: edition", "2023 is not one of",
          'Write "2023", with quotation marks.', one("= 2023", '= "2023"')),
    error(spa("must_run = \"no\""), "load spa: must_run", '"no" is not true or false',
          "Write true or false, without marks.", one('must_run = "no"', "must_run = false")),
    error(one("importance = 1", "importance = 7"), "load spa: importance", "7 is not allowed",
          "A whole number from 0 to 5 is expected", one("importance = 7", "importance = 5")),
    error(one("weight = 1", 'weight = "1"'), "day hot: weight", '"1" is not allowed',
          "A number from 0.001 to 1000 is expected, without quotation marks.",
          one('weight = "1"', "weight = 1")),
    error(one('id = "spa"', 'id = "Hot tub"'), "load Hot tub: id", '"Hot tub" is not an id',
          'An id is small letters, digits and hyphens, such as "hot-tub".',
          one('"Hot tub"', '"hot-tub"')),
    error(one('label = "A house for a test"', "label = 7"), "home: label", "7 is not a text",
          "Write some words between quotation marks.", one("label = 7", 'label = "seven"')),
    error(one('"A house for a test"', '"A\\u0000house"'), "home: label",
          "holds the character 0", "Take it out.", one("\\u0000", " ")),
    error(one('"A house for a test"', f'"{"house" * 50}"'), "home: label", "has 250 characters",
          "At most 200.", one("house" * 50, "house")),
    error(spa("power_factor = 7"), "load spa: power_factor", "7 is not a power factor",
          "Write a number from 0.05 to 1.", one("power_factor = 7", "power_factor = 1")),
    error(one('order = "free"', 'order = "free"\nnever_before = ["spa"]'),
          "wishes: never_before.item 1", '"spa" is not a pair', "Write two load ids",
          one('["spa"]', '[["spa", "oven"]]')),
)

USES = (
    error(spa('use.every = {kind = "events"}'), "load spa: use.every",
          'kind "events" needs events', "Add events = ...",
          one('"events"}', '"events", events = ["18:00 + 45 min"]}')),
    error(spa('use.every = {kind = "always", offset = "15 min"}'), "load spa: use.every: offset",
          'kind "always" does not read offset', "It belongs to duty or cooling or heating.",
          one(', offset = "15 min"', "")),
    error(spa('use.warm = {kind = "always"}'), "load spa: use.warm",
          '"warm" is no day and no season', "", one("use.warm", "use.hot")),
    error(spa('use.summr = {kind = "always"}'), "load spa: use.summr",
          '"summr" is no day and no season', 'Did you mean "summer"?',
          one("use.summr", "use.summer")),
    error(spa('use.every = {kind = "events", events = ["noon"]}'),
          "load spa: use.every.events.item 1", '"noon" is not an event',
          'Write for example "18:00 + 45 min".', one('"noon"', '"18:00 + 45 min"')),
    error(spa('use.every = {kind = "events", events = ["25:00 + 45 min"]}'),
          "load spa: use.every.events.item 1", "starts at no time of day",
          "Hours run from 00:00 to 23:59.", one('"25:00', '"23:00')),
    error(spa('use.every = {kind = "events", events = ["18:00 + 0 min"]}'),
          "load spa: use.every.events.item 1", "has no length",
          'Write for example "18:00 + 45 min".', one("18:00 + 0 min", "18:00 + 45 min")),
    error(spa('use.every = {kind = "events", events = ["23:00 + 2 h"]}'),
          "load spa: use.every.events.item 1", "runs past midnight", "Split it",
          one('"23:00 + 2 h"', '"23:00 + 1 h", "00:00 + 1 h"')),
    error(spa('use.every = {kind = "duty", hours = [0.5]}'), "load spa: use.every.hours",
          "1 shares found where 24 are expected", "Write one share for each hour.",
          one("[0.5]", f"[{', '.join(['0.5'] * 24)}]")),
    error(spa(f'use.every = {{kind = "duty", hours = [{", ".join(["50"] * 24)}]}}'),
          "load spa: use.every.hours", "50 is not a share of an hour", "Shares run from 0 to 1.",
          one(", ".join(["50"] * 24), ", ".join(["0.5"] * 24))),
    error(spa('use.every = {kind = "calls", calls = "yes"}'), "load spa: use.every.calls",
          '"yes" is not a row of calls', "Write 96 marks, each 0 or 1.",
          one('"yes"', f'"{"01" * 48}"')),
    error(spa('use.every = {kind = "calls", calls = "01"}'), "load spa: use.every.calls",
          "2 marks found where 96 are expected", "Write one mark for each 15 minutes of the day.",
          one('"01"', f'"{"01" * 48}"')),
    error(air('use.every = {kind = "cooling", balance = "99 degF"}'), "load air: use.every",
          "the wrong way", "Give both balance and design",
          one('"99 degF"', '"70 degF", design = "93 degF"')),
    warning(spa('use.mild = {kind = "always"}', 'use.every = {kind = "never"}'), "load spa: use",
            "it calls on none of the design days", "Give it a use, or a design day of its season.",
            (("", '[[days]]\nid = "fair"\nseason = "mild"\nweight = 1\nlow = "50 degF"\n'
              'high = "60 degF"\n'),)),
)

NAMES = (
    error(one('id = "spa"', 'id = "pump"'), "load pump", "2 loads have this id",
          "Give each an id of its own.",
          one('id = "pump"\nkind = "spa"', 'id = "tub"\nkind = "spa"')),
    error(one('id = "hot"', 'id = "summer"'), "day summer: id", "has a meaning of its own",
          "Choose another id for the day.", one('id = "summer"', 'id = "hot-day"')),
    error(spa('panel = "mian"'), "load spa: panel", 'there is no panel "mian"',
          'Did you mean "main"?', one('"mian"', '"main"')),
    error(spa('panel = "garage"'), "load spa: panel", 'there is no panel "garage"',
          "The file has: main, sub.", one('panel = "garage"', 'panel = "sub"')),
    error(spa('requires = ["oevn"]'), "load spa: requires", 'there is no load "oevn"',
          'Did you mean "oven"?', one('"oevn"', '"oven"')),
    error(spa('requires = ["spa"]'), "load spa: requires", "it names the load itself",
          'Take "spa" out.', one('["spa"]', "[]")),
    error(one('order = "free"', 'never_before = [["spa", "spa"]]'), "wishes: never_before",
          '"spa" is paired with itself', "Take the pair out.", one('[["spa", "spa"]]', "[]")),
    error(one('order = "free"', 'never_before = [["spa", "ovn"]]'), "wishes: never_before",
          'there is no load "ovn"', 'Did you mean "oven"?', one('"ovn"', '"oven"')),
    error(one('method = "optional"', 'method = "existing"\nadded = ["spaa"]'), "code: added",
          'there is no load "spaa"', 'Did you mean "spa"?', one('"spaa"', '"spa"')),
    note(gone('leg = "both"'), "loads: leg", "legs are assumed, balanced over L1 and L2: blower",
         "Read them off the panel on site.", after('kind = "furnace blower"', 'leg = "both"')),
    note(spa('label = "Oven"'), "load oven: label", "2 loads are called",
         "Give each a name of its own.", one('label = "Oven"', 'label = "Hot tub"')),
)

CODE = (
    error(one('method = "optional"', 'method = "measured"'), "code: measured",
          'method "measured" needs a measurement', "Add [code.measured] with peak, days and",
          after('method = "measured"', "[code.measured]", 'peak = "9 kVA"', "days = 365",
                'interval = "15 min"')),
    warning(after('method = "optional"', "[code.measured]", 'peak = "9 kVA"', "days = 365",
                  'interval = "15 min"'), "code: measured",
            'method "optional" does not use the measurement',
            'Write method = "measured" to use it.',
            one('method = "optional"', 'method = "measured"')),
    error(metered('file = "meter.xml"'), "code: measured.file",
          "only the text of the home is at hand", "Read the home from its folder, or write the",
          one('file = "meter.xml"', PEAK)),
    error(metered('file = "meter.xml"', PEAK), "code: measured.file",
          "the file is there for what is written beside it: peak, days, interval",
          "Take out the file, or what it says.", gone('file = "meter.xml"')),
    error(after('kind = "lighting and receptacles"', 'use.every = {kind = "measured"}'),
          "load lights: use.every.kind", 'kind "measured" needs a file of the meter',
          "Add file to [code.measured], or use another kind.", one('"measured"', '"always"')),
    warning(after('method = "optional"', 'added = ["spa"]'), "code: added",
            'method "optional" does not tell new loads from old',
            'Write method = "existing" to use it.',
            one('method = "optional"', 'method = "existing"')),
    warning(after('method = "optional"', "small_appliance_circuits = 0"),
            "code: small_appliance_circuits", "0 is below the 2 small-appliance circuits",
            "Write small_appliance_circuits = 2 or more.", one("circuits = 0", "circuits = 2")),
    warning(after('method = "optional"', "laundry_circuits = 0"), "code: laundry_circuits",
            "0 is below the 1 laundry circuit", "Write laundry_circuits = 1 or more.",
            one("circuits = 0", "circuits = 1")),
    error((('"93 degF"', '"other"'), ('"5 degF"', '"93 degF"'), ('"other"', '"5 degF"')),
          "home: winter_design", "is not below summer's", "Are the two swapped?",
          (('"93 degF"', '"other"'), ('"5 degF"', '"93 degF"'), ('"other"', '"5 degF"'))),
    error((('"69 degF"', '"other"'), ('"77 degF"', '"69 degF"'), ('"other"', '"77 degF"')),
          "home: heating_set_point", "is not below the cooling set point", "Are the two swapped?",
          (('"69 degF"', '"other"'), ('"77 degF"', '"69 degF"'), ('"other"', '"77 degF"'))),
    error((('"70 degF"', '"95 degF"'), ('high = "95 degF"', 'high = "70 degF"')), "day hot: low",
          "is above the high", "Are the two swapped?",
          (('low = "95 degF"', 'low = "70 degF"'), ('high = "70 degF"', 'high = "95 degF"'))),
    error(one('["whole-house"]', "[]"), "home: transfer", "no transfer equipment is allowed",
          'Write ["whole-house"], ["selected-circuits"], or both.',
          one("transfer = []", 'transfer = ["whole-house", "selected-circuits"]')),
)

WISHES = (
    warning(after('kind = "lighting and receptacles"', "must_run = true", "importance = 0"),
            "load lights: importance",
            "importance 0 on a must-run load changes nothing",
            "Must-run is a constraint; leave importance out.", gone("importance = 0")),
    warning(after('kind = "range"', "must_run = true"), "load oven: wait",
            "a must-run load does not wait", "Leave wait out, or give up must_run.",
            gone('wait = "30 min"')),
    error(spa("connections = []"), "load spa: connections", "no connection is allowed",
          'Write some of "direct", "module", "off".',
          one("connections = []", 'connections = ["direct", "off"]')),
    error(after('kind = "furnace blower"', 'connections = ["direct", "module"]'),
          "load blower: connections", "no module suits a furnace blower",
          'Leave "module" out, or name a module action that suits.', one(', "module"', "")),
    error(spa('connections = ["module"]', "modules = []"), "load spa: connections",
          "modules is empty", 'Leave "module" out, or name a module action that suits.',
          one("modules = []", 'modules = ["contactor"]')),
    error(spa("must_run = true", 'connections = ["off"]'), "load spa: connections",
          "a must-run load cannot be off in every plan", 'Allow "direct", or give up must_run.',
          one('["off"]', '["direct"]')),
)

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

WIRING = (
    error(one('fed_from = "main"', 'fed_from = "mian"'), "panel sub: fed_from",
          'there is no panel "mian"', 'Did you mean "main"?', one('"mian"', '"main"')),
    error(one('fed_from = "main"', 'fed_from = "garage"'), "panel sub: fed_from",
          'there is no panel "garage"', "Panels are main, sub.", one('"garage"', '"main"')),
    error(one('feeder = "200 A"', 'feeder = "60 A"\nfed_from = "sub"'), "panel main: fed_from",
          "panels feed one another in a circle",
          "Leave fed_from out for the panel that the service feeds.", gone('fed_from = "sub"')),
    error((*spa('panel = "sub"', 'running = "80 A"'),), "load spa", "draws 80.0 A, but panel sub",
          "Check its running value and its panel.", one('panel = "sub"', 'panel = "main"')),
    note(one('feeder = "60 A"', 'feeder = "300 A"'), "panel sub: feeder",
         "300 A is fed from panel main of 200 A", "", one('"300 A"', '"200 A"')),
    error(after('kind = "furnace blower"', 'requires = ["air"]'), "load air: requires",
          "requires goes in a circle", "Keep only the direction in which one wakes the other.",
          gone('requires = ["air"]')),
    error(air('not_with = ["blower"]'), "load air: requires", "requires blower and is not_with it",
          "Drop one of the two.", gone('not_with = ["blower"]')),
    error(after('kind = "range"', 'requires = ["pump", "spa"]') + pump('not_with = ["spa"]'),
          "load oven: requires", "requires pump and spa, which are not_with each other",
          "Drop one of the two.", one('["pump", "spa"]', '["pump"]')),
    error(air('connections = ["direct"]') + after('kind = "range"', 'requires = ["air", "spa"]',
                                                  'connections = ["direct"]')
          + spa('connections = ["module"]'), "load oven: requires",
          "is always connected and requires spa, which may not be",
          "Allow spa a connection, or drop the requirement.",
          one('connections = ["module"]', 'connections = ["direct", "module"]')),
    warning(spa('requires = ["oven"]', 'connections = ["direct", "module", "off"]')
            + after('kind = "range"', 'connections = ["off"]'),
            "load spa: requires",
            "requires oven, which may only be off. It can only be off as well.",
            "Allow oven a connection, or drop the requirement.", gone('requires = ["oven"]')),
    error(one('order = "free"', 'never_before = [["spa", "oven"], ["oven", "spa"]]'),
          "wishes: never_before", "no order is possible", "Take one of these pairs out.",
          one(', ["oven", "spa"]', "")),
    error(one('order = "free"', 'order = "importance"\nnever_before = [["oven", "spa"]]'),
          "wishes: never_before", "no order is possible: spa stands before oven by this pair",
          'Take the pair out, change an importance, or write order = "free".',
          one('order = "importance"', 'order = "free"')),
    note(one('order = "free"', 'never_before = [["blower", "spa"]]'), "wishes: never_before",
         "spa cannot take turns: blower, which must stand after it, is always connected",
         "Let blower take turns, or take the pair out.", one('[["blower", "spa"]]', "[]")),
    note(one('order = "free"', 'never_before = [["spa", "blower"]]'), "wishes: never_before",
         "spa after blower has no effect: blower never takes turns", "",
         one('[["spa", "blower"]]', "[]")),
)

OF_HOMES = (*TABLES, *VALUES, *USES, *NAMES, *CODE, *WISHES, *DRAWS, *STARTS, *MACHINES,
            *WIRING, *OF_CIRCUITS, *OF_COMFORTS, *OF_SITES, *OF_ATTENDANCE)
