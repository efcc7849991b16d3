"""Rows about the place of the generator: distances, sound, snow and water."""

from __future__ import annotations

from planner.physics.clearances import FROM_OPENINGS_FT, FROM_WALLS_FT
from planner.physics.noise import REFERENCE_FT, distance_for_db_ft, level_db
from planner.plan.plan import Plan
from planner.plan.site.place_findings import FIRE, TESTED
from planner.site.sheet.rows import Row, missing, passed, to_do
from planner.site.wire import site_of
from planner.tolerances import ceiled

LOCAL = "local rule; no source"


def placement_rows(plan: Plan) -> tuple[Row, ...]:
    """List what the place of the generator must keep."""
    return (*_fire(plan), _carbon_monoxide(), *_local(plan), *_noise(plan), *_weather(plan))


def _fire(plan: Plan) -> list[Row]:
    place = site_of(plan).place
    opening = _distance("opening", "To the nearest door, window or vent", place.opening_ft,
                        FROM_OPENINGS_FT, "the distance from the generator to the nearest door, "
                        "window or vent (site.place.opening)",
                        "no listing excuses exhaust at an opening")
    if not place.wall_is_combustible:
        return [opening, Row("wall", "To the nearest wall", "ok", "the wall does not burn",
                             limit="none beside a wall that resists fire for an hour (from memory)",
                             clause=FIRE,
                             todo="Keep the distance that the maker asks for air and service.")]
    return [opening, _distance("wall", "To the nearest wall that burns", place.wall_ft,
                               FROM_WALLS_FT, "the distance from the generator to the wall "
                               "(site.place.wall)", TESTED)]


def _distance(key: str, what: str, found_ft: float | None, least_ft: float, fact: str,
              else_: str) -> Row:
    limit = f"at least {least_ft:g} ft, against fire"
    if found_ft is None:
        return missing(key, what, fact, limit=limit, clause=FIRE)
    ok = found_ft >= least_ft - 1e-9
    return Row(key, what, passed(ok=ok), f"{found_ft:g} ft", found_ft, "ft", limit, FIRE,
               "" if ok else f"Move it to {least_ft:g} ft; {else_}.")


def _carbon_monoxide() -> Row:
    return to_do("carbon-monoxide", "Exhaust",
                 "outdoors only, away from openings and air intakes",
                 "Point the exhaust away from the house, and keep the distance of the maker's "
                 "manual from openings, which may be more than the one against fire; carbon "
                 "monoxide alarms with batteries on every floor.",
                 "safety of life; local code")


def _local(plan: Plan) -> list[Row]:
    place = site_of(plan).place
    rows = []
    for key, what, found_ft, fact, asked in (
            ("gas-meter", "To the gas meter, regulator or relief vent", place.gas_meter_ft,
             "the distance from the generator to the gas meter or a relief vent "
             "(site.place.gas_meter)", "Ask the gas utility or supplier how far it must be."),
            ("property-line", "To the property line", place.property_line_ft,
             "the distance from the generator to the property line (site.place.property_line)",
             "Ask the building department for the setback.")):
        if found_ft is None:
            rows.append(missing(key, what, fact, clause=LOCAL))
        else:
            rows.append(Row(key, what, "to do", f"{found_ft:g} ft", found_ft, "ft", clause=LOCAL,
                            todo=asked))
    return rows


def _noise(plan: Plan) -> list[Row]:
    generator, place = plan.supply.generator, site_of(plan).place
    what = "Sound level at the neighbour"
    law = "free field, 6 dB less for each doubling of the distance (derived)"
    if generator.noise_db is None:
        return [missing("noise", what, f"the sound level of {generator.label} at "
                        f"{REFERENCE_FT:g} ft (noise of the generator in the price book)",
                        clause=law)]
    stated = f"{generator.noise_db:g} dB at {REFERENCE_FT:g} ft"
    if place.neighbour_ft is None:
        return [missing("noise", what, f"the distance to the neighbour's nearest window or seat "
                        f"(site.place.neighbour); the generator has {stated}", clause=law)]
    there_db = level_db(generator.noise_db, place.neighbour_ft)
    text = f"{ceiled(there_db, 0.1):.1f} dB at {place.neighbour_ft:g} ft"
    if place.neighbour_limit_db is None:
        return [Row("noise", what, "missing", text, there_db, "dB", "", law,
                    "missing: the limit of the local noise rule (site.place.neighbour_limit)")]
    ok = there_db <= place.neighbour_limit_db + 1e-9
    far_ft = ceiled(distance_for_db_ft(generator.noise_db, place.neighbour_limit_db), 1.0)
    return [Row("noise", what, passed(ok=ok), text, there_db, "dB",
                f"{place.neighbour_limit_db:g} dB", law, "A wall behind the generator can add 3 dB."
                if ok else f"Place it {far_ft:g} ft away or farther, or take a quieter one.")]


def _weather(plan: Plan) -> list[Row]:
    place = site_of(plan).place
    rows = []
    for key, what, found_in, fact in (
            ("snow", "Snow that lies", place.snow_in, "how high the snow lies (site.place.snow)"),
            ("flood", "Flood water above the ground", place.flood_in,
             "how high flood water stands (site.place.flood)")):
        if found_in is None:
            rows.append(missing(key, what, fact, clause=LOCAL))
        elif found_in <= 0.0:
            rows.append(Row(key, what, "ok", "none", 0.0, "in", clause=LOCAL))
        else:
            raised = "A raised pad is planned: build it" if place.raised_pad else "Raise the pad"
            rows.append(Row(key, what, "to do", f"{found_in:g} in", found_in, "in", clause=LOCAL,
                            todo=f"{raised} so that the air openings stay above "
                            f"{found_in:g} in."))
    return rows
