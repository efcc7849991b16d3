"""What can be wrong with a price book, with the findings' own words."""

from __future__ import annotations

from tests.case.defects import BOOK, error, note, one, warning


def part(name):
    """Text of all parts of a list."""
    begin = BOOK.index(f"[[{name}]]")
    end = BOOK.find("\n\n", begin)
    while BOOK[end:].lstrip().startswith(f"[[{name}]]"):
        end = BOOK.find("\n\n", end + 2)
    return BOOK[begin:] if end < 0 else BOOK[begin:end + 2]


def module(number):
    """Text of one more module."""
    return (f'[[modules]]\nid = "more-{number}"\nlabel = "Module {number}"\n'
            'action = "thermostat"\nprice = "90 USD"\ninstallation = "0 USD"\n')


def wire(name, size, material):
    """Text of a wire."""
    return (f'[[wires]]\nid = "{name}"\nlabel = "Wire {name}"\nsize = "{size}"\n'
            f'material = "{material}"\nprice = "5 USD/ft"\n')


def pipe(name):
    """Text of a pipe of one inch."""
    return (f'[[pipes]]\nid = "{name}"\nlabel = "Pipe {name}"\nsize = "1"\n'
            'price = "5 USD/ft"\n')


RATING = BOOK[BOOK.index("[generators.ratings.propane]"):BOOK.index("[[transfers]]")]
HEAD = BOOK[:BOOK.index("[[generators]]")]
OF_BOOKS = (
    error(one("", "[offers]\n"), "offers", "there is no such table", "Tables: book, generators",
          one("[offers]\n", "")),
    error(one("", '[[controler]]\nid = "two"\n'), "controler", "there is no such table",
          'Did you mean "controllers"?', one(
              '[[controler]]\nid = "two"\n',
              '[[controllers]]\nid = "two"\nlabel = "Two"\nmodules = 2\nprice = "90 USD"\n'
              'installation = "0 USD"\n')),
    error(one(HEAD, ""), "book", "this table is missing", "Add [book].", one("", HEAD)),
    error(((part("controllers"), ""), ("[book]\n", "controllers = 3\n[book]\n")), "controllers",
          "3 stands where a list of tables is expected",
          "Write [[controllers]], with two brackets.",
          (("controllers = 3\n", ""), ("", part("controllers")))),
    error(one("", "".join(map(module, range(499)))), "modules", "501 modules are too many",
          "At most 500.", one(module(498), "")),
    error(one('id = "some"', 'id = "whole"'), "transfer whole", "2 transfers have this id",
          "Give each an id of its own.", one('id = "whole"\nlabel = "Panel"',
                                             'id = "panel"\nlabel = "Panel"')),
    error(one(part("transfers"), ""), "transfers",
          "the list is empty: no generator may be connected without transfer equipment",
          "Add one with [[transfers]].", one("", "\n" + part("transfers"))),
    error(one(part("generators"), ""), "generators", "the list is empty: nothing can be planned",
          "Add one with [[generators]].", one("", "\n" + part("generators"))),
    error(one(RATING, ""), "generator ten: ratings", "there is no rating on any fuel",
          'Add [generators.ratings."natural gas"] or [generators.ratings.propane].',
          one("[[transfers]]\nid = \"whole\"", RATING + "[[transfers]]\nid = \"whole\"")),
    error(one("ratings.propane]", "ratings.propan]"), "generator ten: ratings",
          '"propan" is no fuel of the planner', 'Did you mean "propane"?',
          one("ratings.propan]", "ratings.propane]")),
    error(one("ratings.propane]", "ratings.diesel]"), "generator ten: ratings",
          '"diesel" is no fuel of the planner', "Fuels: natural gas, propane.",
          one("ratings.diesel]", "ratings.propane]")),
    error((('"10 kW"\napparent = "12 kVA"', '"12 kW"\napparent = "10 kVA"'),
           ('current = "50 A"', 'current = "41.7 A"')),
          "generator ten: ratings.propane.apparent", "10 kVA is below 12 kW",
          "Are the two swapped?",
          (('"12 kW"\napparent = "10 kVA"', '"10 kW"\napparent = "12 kVA"'),
           ('current = "41.7 A"', 'current = "50 A"'))),
    warning(one('current = "50 A"', 'current = "60 A"'), "generator ten: ratings.propane.current",
            "60 A is not what 12 kVA gives at 240 V, 50.0 A per leg", "Check the nameplate",
            one('apparent = "12 kVA"', 'apparent = "14.4 kVA"')),
    error(one('half_load = "100000', 'half_load = "200000'),
          "generator ten: ratings.propane.full_load", "fuel does not rise with load",
          "Check the order of the three.",
          (('half_load = "200000', 'half_load = "160000'),
           ('full_load = "160000', 'full_load = "200000'))),
    error((('no_load = "50000', 'no_load = "50'), ('half_load = "100000', 'half_load = "100'),
           ('full_load = "160000', 'full_load = "160')), "generator ten: ratings.propane.full_load",
          "holds less energy than the electricity it would make", "Is it in thousands of Btu/h?",
          (('no_load = "50', 'no_load = "50000'), ('half_load = "100', 'half_load = "100000'),
           ('full_load = "160', 'full_load = "160000'))),
    warning(one('full_load = "160000', 'full_load = "900000'),
            "generator ten: ratings.propane.full_load", "4% efficiency at full load is outside",
            "Check the fuel data.", one('full_load = "900000', 'full_load = "160000')),
    warning(one("reactance = 0.2", "reactance = 0.9"), "generator ten: reactance",
            "0.9 is outside the likely", "X'd is per unit on the generator's kVA; check its data",
            one("reactance = 0.9", "reactance = 0.19")),
    error(one("reactance = 0.2", 'reactance = "20 %"'), "generator ten: reactance",
          '"20 %" is no transient reactance', "A bare number from",
          one('reactance = "20 %"', "reactance = 0.2")),
    error(one('"3 % per 1000 ft"', '"3 %"'), "generator ten: derating.altitude",
          '"3 %" is not a rate', 'Write for example "', one('"3 %"', '"3 % per 1000 ft"')),
    error(one('"3 % per 1000 ft"', '"3 % per 0 ft"'), "generator ten: derating.altitude",
          "divides by 0 ft", 'Write for example "', one('"3 % per 0 ft"', '"3 % per 1000 ft"')),
    error(one('"3 % per 1000 ft"', '"-3 % per 1000 ft"'), "generator ten: derating.altitude",
          "is negative", "", one('"-3 % per 1000 ft"', '"3 % per 1000 ft"')),
    error(one('"3 % per 1000 ft"', '"30 % per 1000 ft"'), "generator ten: derating.altitude",
          "is too high", "At most 10% per 1000 ft.", one('"30 % per', '"10 % per')),
    error(one("positions = 10\n", ""), "transfer some: positions",
          "selected-circuits equipment needs positions", "Write how many poles it takes",
          one('rating = "100 A"\n', 'rating = "100 A"\npositions = 12\n')),
    error(one('rating = "200 A"\n', 'rating = "200 A"\npositions = 6\n'),
          "transfer whole: positions", "whole-house equipment has no positions",
          'Leave it out, or write kind = "selected-circuits".', one("positions = 6\n", "")),
    error(one("poles = 2\n", ""), "module contactor: poles", "a contactor needs it",
          "Add poles = ...", one('action = "contactor"\n', 'action = "contactor"\npoles = 2\n')),
    error(one('current = "60 A"\n', 'current = "60 A"\nlargest_breaker = "50 A"\n'),
          "module contactor: largest_breaker", "50 A is below the 60 A that it carries",
          "Leave it out where the maker states none.", one('largest_breaker = "50 A"\n', "")),
    warning(one("reactance = 0.2\n", 'reactance = 0.2\nbreaker = "45 A"\n'),
            "generator ten: breaker", "45 A is below its rated 50 A",
            "Check both on the nameplate.", one('breaker = "45 A"', 'breaker = "50 A"')),
    warning(one('action = "thermostat"\n', 'action = "thermostat"\npoles = 2\n'),
            "module thermostat: poles", "a thermostat module opens a control circuit",
            "Leave it out.", one('action = "thermostat"\npoles = 2\n', 'action = "thermostat"\n')),
    warning(one(part("controllers"), ""), "controllers", "there are modules, but no controllers",
            "Add one with [[controllers]].", one("", "\n" + part("controllers"))),
    warning(one(part("modules"), ""), "modules", "there are controllers, but no modules",
            "Add one with [[modules]].", one("", "\n" + part("modules"))),
    warning(one('factor = "40 %"', 'factor = "100 %"'), "soft starter soft: factor",
            "it leaves the starting current as it is", "Write the share that is left, such as 40 %",
            one('factor = "100 %"', 'factor = "40 %"')),
    error(one("", wire("one", "4", "copper") + wire("two", "4", "copper")), "wires",
          "2 wires are 4 in copper", "Leave one price for each size.",
          one(wire("two", "4", "copper"), "")),
    error(one("", wire("one", "14", "aluminum")), "wire one: size",
          "NEC Table 310.16 as held here has no aluminum conductor 14", "Sizes: 12, 10",
          one('size = "14"', 'size = "10"')),
    error(one("", pipe("one") + pipe("two")), "pipes", "2 pipes are of 1 in",
          "Leave one price for each size.", one(pipe("two"), "")),
    note(one('label = "Panel"', 'label = "Switch"'), "transfer whole: label", "2 ",
         "Give each a name of its own.", one('label = "Switch"\nkind = "selected-circuits"',
                                             'label = "Panel"\nkind = "selected-circuits"')),
)
