"""What can be wrong with the site of a home, with the findings' own words."""

from __future__ import annotations

from tests.case.defects import error, one, warning

FURNACE = '[[site.gas.appliances]]\nid = "furnace"\ninput = "80 kBtu/h"\nload = "blower"\n'
GAS = f'[site.gas]\nmeter = "400 ft^3/h"\n{FURNACE}'
PROPANE = ('fuel = "natural gas"', 'fuel = "propane"')
NATURAL = ('fuel = "propane"', 'fuel = "natural gas"')
TANK = '[site.tank]\nsize = "500 gal"\n'
RUNS = ('[[site.gas.runs]]\nid = "main"\nlength = "20 ft"\nsize = "1"\nappliances = ["furnace"]\n'
        '[[site.gas.runs]]\nid = "last"\nlength = "30 ft"\nfed_from = "main"\ngenerator = true\n')


def site(*text):
    """Add a site to the end of the home."""
    return one("", "".join(text))


def on_propane(*text):
    """Add a site to the home, which then burns propane."""
    return (PROPANE, ("", "".join(text)))


OF_SITES = (
    error(site(TANK, "[site.gas]\n", FURNACE), "site: tank", "the home burns natural gas",
          'Leave the tank out, or write fuel = "propane" in [home].', one(TANK, "")),
    error(site('[site]\nfuel_promise = "3 day"\n'), "site: fuel_promise",
          "natural gas comes by pipe, and nothing here says how long", "Leave it out.",
          one('fuel_promise = "3 day"\n', "")),
    error(on_propane(TANK, GAS), "site: gas.meter", "propane has no utility meter",
          'Leave it out, or write fuel = "natural gas" in [home].',
          one('meter = "400 ft^3/h"\n', "")),
    error(on_propane('[site]\nfuel_promise = "3 day"\n'), "site: fuel_promise",
          "nothing says how large the tank is", 'Add [site.tank] with size = "500 gal".',
          site(TANK, "[site.gas]\n", FURNACE)),
    error(site('[site]\nterminals = "150 degF"\n'), "site: terminals",
          "66 degC is no marking of NEC 110.14(C)", "Write 140 degF (60 degC), 167 degF (75 degC)",
          one('"150 degF"', '"167 degF"')),
    error(site(GAS, FURNACE), "site: gas.appliances", '2 appliances have the id "furnace"',
          "Give each an id of its own.", one(FURNACE + FURNACE, FURNACE + FURNACE.replace(
              '"furnace"', '"heater"'))),
    error(site(GAS, FURNACE.replace("furnace", "dryer").replace("blower", "bowler")),
          "site: gas.appliance dryer", 'there is no load "bowler"', 'Did you mean "blower"?',
          one('"bowler"', '"blower"')),
    warning(site(GAS, 'burns = "20 %"\n'), "site: gas.appliance furnace",
            "its load says when it burns, so burns is not read", "Leave one of the two out.",
            one('burns = "20 %"\n', "")),
    warning(on_propane(TANK, "[site.gas]\n", FURNACE,
                       '[[site.gas.appliances]]\nid = "fire"\ninput = "20 kBtu/h"\n'),
            "site: gas.appliance fire", "nothing says how much of a cold day it burns",
            'Write burns = "20 %", or the load', site('burns = "20 %"\n')),
    warning(site('[site.gas]\nmeter = "400 ft^3/h"\n'), "load blower",
            "it burns gas, and nothing says how much", "Add [[site.gas.appliances]] with its input",
            site(FURNACE)),
    error(site(GAS.replace("[site.gas]\n", '[site.gas]\npipe = "50 ft"\n'), RUNS),
          "site: gas.pipe", "it stands beside runs", "Give the runs, or the pipe",
          one('pipe = "50 ft"\n', "")),
    error(site(GAS, RUNS.replace("generator = true\n", "")), "site: gas.runs",
          "0 runs lead to the generator", "Write generator = true at the one that does.",
          site("generator = true\n")),
    error(site(GAS, RUNS, '[[site.gas.runs]]\nid = "main"\nlength = "5 ft"\nfed_from = "last"\n'),
          "site: gas.runs", "two runs have the same id", "Give each an id of its own.",
          one('id = "main"\nlength = "5 ft"', 'id = "more"\nlength = "5 ft"')),
    error(site(GAS, RUNS.replace('fed_from = "main"', 'fed_from = "mian"')), "site: gas.run last",
          'it is fed from "mian", which does not exist', 'Did you mean "main"?',
          one('"mian"', '"main"')),
    error(site(GAS, RUNS.replace('appliances = ["furnace"]', 'appliances = ["furnase"]')),
          "site: gas.run main", 'there is no appliance "furnase"', 'Did you mean "furnace"?',
          one('"furnase"', '"furnace"')),
    error(site(GAS, RUNS, '[[site.gas.runs]]\nid = "round"\n'
               'length = "5 ft"\nfed_from = "round"\n'), "site: gas.run round",
          "it feeds itself in a circle", "The first run has no fed_from.",
          one('fed_from = "round"', 'fed_from = "main"')),
    error(on_propane(TANK, '[site.gas]\nheating_value = "1030 Btu/ft^3"\n', FURNACE),
          "site: gas.heating_value", "that of propane is known", "Leave it out",
          one('heating_value = "1030 Btu/ft^3"\n', "")),
    error(site(GAS.replace("[site.gas]\n", '[site.gas]\npressure = "2 inWC"\ndrop = "3 inWC"\n')),
          "site: gas.drop", "3 inWC would be lost of 2 inWC: no gas would arrive",
          'Write what the pipe may lose, such as drop = "0.5 inWC"', one('"3 inWC"', '"0.5 inWC"')),
    error(site(GAS, '[[site.gas.appliances]]\nid = "fire"\ninput = "20 kBtu/h"\n', RUNS),
          "site: gas.appliance fire", "no run of the pipe feeds it, so the pipe would be sized "
          "without it", 'Write appliances = ["fire"] at the run that feeds it',
          site('appliances = ["fire"]\n')),
    error(site(GAS, RUNS, 'appliances = ["furnace"]\n'), "site: gas.runs",
          '2 runs feed "furnace"', "Name it at the one that does.",
          one('generator = true\nappliances = ["furnace"]\n', "generator = true\n")),
    error(site("[site.gas]\n", RUNS.replace('"furnace"', '"blower"')), "load blower",
          "a run of the gas pipe feeds it, and nothing says how much it burns",
          'Add [[site.gas.appliances]] with its input and load = "blower", and name that',
          (("[site.gas]\n", f"[site.gas]\n{FURNACE}"),
           ('appliances = ["blower"]', 'appliances = ["furnace"]'))),
    warning((*on_propane(TANK, '[site.gas]\npressure = "10 psi"\n', FURNACE),
             ('low = "0 degF"', 'low = "-30 degF"')), "site: gas.pressure",
            "at -30 degF on the cold propane has 5.6 psi in the tank, less while it makes vapour, "
            "and the pipe is to start with 10 psi", 'Ask the propane supplier for a first stage '
            'of 5 psi or less, written as pressure = "5 psi"',
            one('pressure = "10 psi"', 'pressure = "5 psi"')),
    warning((*on_propane(TANK, '[site.gas]\npressure = "11 inWC"\n', FURNACE),
             ('low = "0 degF"', 'low = "-43 degF"')), "site: gas.pressure",
            "propane has 0.2 psi in the tank", "Ask the propane supplier for a vaporizer",
            one('low = "-43 degF"', 'low = "-42 degF"')),
)
