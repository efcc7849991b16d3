"""Invented sites, and small plans that stand on them."""

from __future__ import annotations

from dataclasses import replace

from planner.facts.home import Panel
from planner.facts.price_book import Module, Transfer
from planner.facts.site import GasService, PipeRun, Place, ServiceEquipment, Site
from tests.homes import base, book, cheapest, clock, generator, home, motor

PLACE = Place(opening_ft=6.0, wall_ft=8.0, gas_meter_ft=8.0, property_line_ft=12.0,
              neighbour_ft=46.0, neighbour_limit_db=60.0, snow_in=0.0, flood_in=0.0)
SERVICE = ServiceEquipment(
    disconnect_outside=True, surge_protected=True, conductor="2", panel_working_depth_in=36.0,
    panel_working_width_in=30.0, panel_rating_ka=10.0, bundled_cables=2)
GAS = GasService(pressure_psi=0.25, meter_ft3_h=600.0,
                 runs=(PipeRun("generator", 40.0, generator=True),))
KNOWN = Site(wire_ft=60.0, terminals_degc=75, gas=GAS, place=PLACE, service=SERVICE)

BARE = generator(20.0, 4000.0, noise_db=66.0, subtransient=0.12, length_in=63.0, width_in=31.5,
                 breaker_a=90.0)
SET = replace(BARE, ratings={fuel: replace(one, inlet_in_wc=5.0)
                             for fuel, one in BARE.ratings.items()})
WHOLE = Transfer("whole", "whole-house switch", "whole-house", 200.0, 0, 600.0, 300.0,
                 service_rated=True, switches_neutral=False, short_circuit_a=10000.0)
PICKED = Transfer("picked", "transfer panel", "selected-circuits", 100.0, 10, 500.0, 300.0,
                  switches_neutral=False, short_circuit_a=10000.0)
RELAY = Module("relay", "contactor module", "contactor", 2, 60.0, 5.0, 150.0, 100.0,
               senses="call", largest_breaker_a=60.0, short_circuit_a=10000.0)


def plan_at(site=None, *, transfer=WHOLE, machine=SET, fault_current_a=5000.0, loads=(), **changes):
    """Plan of a small invented home at a site: an air conditioner, a clock load behind a module."""
    air = motor("air", 3.0, 15.0, breaker_a=30.0)
    heater = clock("heater", 4.5, (6.0, 2.0), allowed=frozenset({"module"}), breaker_a=30.0)
    one = home(base(1.0), air, heater, *loads, panels=(Panel("main", 100.0),),
               transfer_kinds=frozenset({transfer.kind}), **changes)
    one = replace(one, site=site, fault_current_a=fault_current_a)
    return cheapest(one, book(machine, transfers=(transfer,), modules=(RELAY,)), 0.9)
