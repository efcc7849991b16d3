"""What can be wrong with comforts and promises, with the findings' own words."""

from __future__ import annotations

from tests.case.defects import error, note, one, warning

END = "[wishes]\n"


def comfort(name, *lines):
    """Put a comfort ahead of the wishes."""
    return one(END, "\n".join(["[[comforts]]", f'id = "{name}"', *lines, "", END]))


def spa(*lines):
    """Give the spa more lines."""
    return one('kind = "spa"\n', "\n".join(['kind = "spa"', *lines, ""]))


def oven(*lines):
    """Give the oven more lines."""
    return one('kind = "range"\n', "\n".join(['kind = "range"', *lines, ""]))


def gone(line):
    """Take a line out."""
    return one(f"{line}\n", "")


WORDS = (
    error(one('spell = "3 days"', 'spell = "1.5 day"'), "home: spell", '"1.5 day" is no spell',
          "Write whole days", one('"1.5 day"', '"2 day"')),
    error(comfort("meals", "promise = []"), "comfort meals: promise", "[] promises nothing",
          'Write "none", or leave it out.', one("promise = []", 'promise = "none"')),
    error(comfort("blower", 'promise = ["60 degF", "none"]'), "comfort blower: promise",
          "promises something and nothing", 'Write "none" alone.',
          one('["60 degF", "none"]', '"none"')),
    error(comfort("meals", 'promise = "supper at six"'), "comfort meals: promise",
          '"supper at six" is no promise', 'Write for example "60 degF"',
          one('"supper at six"', '"no meal cut"')),
    error(spa('comfort = "car"') + comfort("car", 'promise = "40 mi by 25:00"'),
          "comfort car: promise", '"40 mi by 25:00" names no time of day',
          "Hours run from 0:00 to 23:59.",
          ((END, ""), ('[[comforts]]\nid = "car"\npromise = "40 mi by 25:00"\n', END),
           ('comfort = "car"\n', ""))),
    error(spa('comfort = "car"') + comfort("car", 'promise = "400 mi by 7:00"'),
          "comfort car: promise", '"400 mi by 7:00" is beyond a car\'s range', "At most 200 mi.",
          ((END, ""), ('[[comforts]]\nid = "car"\npromise = "400 mi by 7:00"\n', END),
           ('comfort = "car"\n', ""))),
    error(comfort("blower", 'promise = "160 degF"'), "comfort blower: promise",
          '"160 degF" is too high', "At most 120 degF", one('"160 degF"', '"85 degF"')),
)

PROMISES = (
    error(comfort("meals", 'promise = "food safe"'), "comfort meals: promise",
          '"food safe" cannot be promised of meals', 'Write "no meal cut".',
          one('"food safe"', '"no meal cut"')),
    error(comfort("spa", 'promise = "never cut"'), "comfort spa: promise",
          '"never cut" cannot be promised of what is wanted by the hour',
          "Write must_run = true on what must always be served.",
          one('promise = "never cut"', "must_run = true")),
    error(comfort("blower", 'promise = ["60 degF", "62 degF"]'), "comfort blower: promise",
          "two temperatures bound the same side of a room",
          "Give one below and one above its set points.",
          one('["60 degF", "62 degF"]', '["60 degF", "84 degF"]')),
    error(comfort("blower", 'promise = "72 degF"'), "comfort blower: promise",
          '"72 degF" lies between the set points, 69 and 77 degF', "Write at most 69 degF",
          one('"72 degF"', '"69 degF"')),
    error(comfort("blower", 'heating_set_point = "80 degF"'), "comfort blower: heating_set_point",
          "the heating set point (80 degF) is not below the cooling set point (77 degF)",
          "Give both.", one('"80 degF"', '"80 degF"\ncooling_set_point = "85 degF"')),
    error(comfort("blower", 'cooling_set_point = "60 degF"'), "comfort blower: cooling_set_point",
          "the heating set point (69 degF) is not below the cooling set point (60 degF)",
          "Give both.", one('"60 degF"', '"60 degF"\nheating_set_point = "50 degF"')),
    error(comfort("meals", 'refuge = ["summer"]'), "comfort meals: refuge",
          "only a room is a refuge", "Take it out.", gone('refuge = ["summer"]')),
    error(comfort("den", 'loads = ["spa"]', 'refuge = ["winter"]')
          + spa('use.every = { kind = "cooling", balance = "70 degF" }'),
          "comfort den: refuge",
          "nothing that serves it makes it heated, so it is no refuge in winter",
          "Choose another room.", one('refuge = ["winter"]', 'refuge = ["summer"]')),
    error(comfort("den", 'loads = ["spa"]', 'refuge = ["winter"]', "[[comforts]]", 'id = "blower"',
                  'refuge = ["winter"]')
          + spa('use.every = { kind = "heating", balance = "60 degF" }'),
          "comfort den: refuge", "blower is the refuge in winter already",
          "Choose one room for each season.",
          one('loads = ["spa"]\nrefuge = ["winter"]', 'loads = ["spa"]')),
)

MEMBERS = (
    error(comfort("supper", 'loads = ["oven", "lights"]'), "comfort supper: loads",
          "a comfort is of one kind: oven does work with a deadline, lights is wanted by the hour",
          "Make two comforts of it.", one('["oven", "lights"]', '["oven"]')),
    error(comfort("water", 'loads = ["pump", "spa"]')
          + one('kind = "spa"', 'kind = "booster pump"'), "comfort water: loads",
          "pump, spa do not share one: each keeps a level of its own",
          "Make a comfort for each.", one('["pump", "spa"]', '["pump"]')),
    error(comfort("meels"), "comfort meels", "no load serves it", 'Did you mean "meals"?',
          one('"meels"', '"meals"')),
    error(comfort("supper"), "comfort supper", "no load serves it", "Give it loads",
          one('id = "supper"', 'id = "supper"\nloads = ["oven"]')),
    error(comfort("supper", 'loads = ["oevn"]', "[[comforts]]", 'id = "dinner"',
                  'loads = ["oven"]') + oven(),
          "comfort supper: loads", 'there is no load "oevn"', 'Did you mean "oven"?',
          (('"oevn"', '"spa"'),)),
    error(comfort("supper", 'loads = ["oven"]') + oven('comfort = "spa"'), "load oven: comfort",
          'oven serves "supper" already; a load serves at most one comfort',
          "Take it out of one of the two.", gone('comfort = "spa"')),
    error(oven('comfort = "mels"'), "load oven: comfort", 'there is no comfort "mels"',
          'Did you mean "meals"?', one('"mels"', '"meals"')),
    error(oven('comfort = "everything at once"'), "load oven: comfort",
          'there is no comfort "everything at once"', "There are: blower, light-and-outlets, meals",
          one('"everything at once"', '"meals"')),
    error(comfort("meals", "must_run = true") + oven('connections = ["off"]'),
          "comfort meals: must_run", "oven must run, but may only be off",
          "Allow it another connection, or give up must_run.", gone("must_run = true")),
    note(oven('comfort = "none"'), "loads: comfort",
         "oven serve no comfort", "", gone('comfort = "none"')),
    warning(comfort("meals", 'time_constant = "8 h"'), "comfort meals: time_constant",
            "it is not read: only a room has one", "Leave it out.", gone('time_constant = "8 h"')),
    note(one('size = "1 hp"', 'size = "1 hp"\nwait = "1 h"'), "loads: wait",
         "it is left out for pump: what keeps a level catches up by itself", "Take it out.",
         gone('wait = "1 h"')),
)

BLOWER = 'kind = "furnace blower"\n'
NEVER = 'use.winter = { kind = "never" }'
ONLY_WOKEN = one(BLOWER, f"{BLOWER}{NEVER}\n")

TASKS = (
    note(ONLY_WOKEN, "loads: comfort",
         "blower run only when another load needs them: they serve no comfort", "",
         gone(NEVER)),
    note(one(BLOWER, f'{BLOWER}{NEVER}\ncomfort = "meals"\n'), "load blower: comfort",
         "it runs only when another load needs it, so it serves no comfort", "Leave it out.",
         (*gone(NEVER), *gone('comfort = "meals"'))),
    note(ONLY_WOKEN + comfort("den", 'loads = ["air", "blower"]'), "comfort den: loads",
         "blower runs only when another load needs it, so it serves no comfort",
         "Take it out of the list.", (*gone(NEVER), ('["air", "blower"]', '["air"]'))),
    warning(spa('pause = "15 min"'), "load spa: pause",
            "it is not read: only a piece of work with a deadline is begun and ended",
            "Leave it out.", gone('pause = "15 min"')),
    warning(oven('pause = "15 min"', "interruptible = true"), "load oven: interruptible",
            "it is not read, because pause is given and says more", "Leave one of the two out.",
            gone("interruptible = true")),
    warning(spa('behind = "2 degF"'), "load spa: behind",
            "it is not read: nothing holds a temperature by the weather", "Leave it out.",
            gone('behind = "2 degF"')),
)

OF_COMFORTS = (*WORDS, *PROMISES, *MEMBERS, *TASKS)
