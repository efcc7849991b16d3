"""From a load of the file to a load of the home; each filled value marked as assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.case.bounds import LARGEST_SERVICE_A, STARTS_OVER_RUNNING
from planner.case.fields import did_you_mean
from planner.case.file import LoadEntry
from planner.case.filling import work
from planner.case.filling.breaker import breaker_of
from planner.case.filling.by_weather import Weather
from planner.case.filling.idle import doubt_idle_keys
from planner.case.filling.ledger import Ledger
from planner.case.filling.running import Draw, nameplate_va, running_draw
from planner.case.filling.sizes import Size, size_of
from planner.case.filling.stages import sized_as_stage, staged
from planner.case.filling.starting import start_of
from planner.case.library import Kind, kinds, not_planned
from planner.case.names import label_of
from planner.case.patterns import use_of
from planner.facts.home import CodeEntry, Connection, DesignDay, Leg, Load, Restarts, Use
from planner.quoting import quoted
from planner.units import Quantity, magnitude, written

PRACTICE = "common practice, no source"
WISH = "a wish; common practice, no source"


@dataclass(frozen=True, slots=True)
class HouseDefaults:
    """What a load's defaults need to know about the house."""

    first_panel: str
    summer_degf: float
    winter_degf: float
    floor_area_ft2: float
    off_is_free: bool  # selected-circuits transfer: a circuit may simply not be connected
    days: tuple[DesignDay, ...]
    recorded: bool = False  # the design temperatures are those of a weather file


@dataclass(frozen=True, slots=True)
class Filled:
    """A filled load; `leg_is_open` when its leg is still to be balanced."""

    load: Load
    leg_is_open: bool


def fill(entry: LoadEntry, house: HouseDefaults, ledger: Ledger) -> Filled | None:
    """Fill in a load from its kind, its size and its nameplate.

    Parameters
    ----------
    entry : LoadEntry
        The load as the file has it.
    house : HouseDefaults
        Defaults that come from the house.
    ledger : Ledger
        Takes the assumptions and the findings.

    Returns
    -------
    Filled or None
        None if the kind or the draw is unknown; a finding has been made then.
    """
    library = kinds()
    kind = library.get(entry.kind)
    if kind is None:
        if (found := not_planned(entry.kind)) is not None:
            ledger.refuse("kind", *found)
            return None
        hint = did_you_mean(entry.kind, library) or f"Kinds: {', '.join(library)}."
        ledger.refuse("kind", f"{quoted(entry.kind)} is not in the appliance library.", hint)
        return None
    both = _on_both_legs(entry, kind, ledger)
    entry = _over_the_floor(entry, kind, house, ledger)
    entry = sized_as_stage(entry, kind, ledger)
    size = size_of(entry, kind, ledger)
    uses = _uses(entry, kind, house, Ledger(""))
    draw = running_draw(entry, kind, size, 240 if both else 120, ledger, uses=uses,
                        weather=Weather(house.days, house.summer_degf))
    if draw is None:
        _wishes_only(entry, kind, house, ledger)
        return None
    if entry.mop is not None and entry.mca is not None and entry.mop < entry.mca:
        ledger.refuse("mop", f"mop ({_a(entry.mop)}) is below mca ({_a(entry.mca)}).",
                      "Check the nameplate: the breaker is never smaller than the wire needs.")
    breaker_a = breaker_of(entry, kind, size, draw, ledger)
    start = start_of(entry, kind, size, draw, ledger)
    _refuse_beyond_any_service(draw, start.kva, ledger)
    doubt_idle_keys(entry, kind, start.kva, ledger,
                    sized_by_motor=size is not None and size.option.unit == "hp")
    va = nameplate_va(entry, size, draw, ledger)
    neutral_va = va if kind.neutral and both else None
    wishes = _wishes_only(entry, kind, house, ledger)
    nature = work.nature_of(kind, wishes.use)
    leg: Leg = entry.leg or ("both" if both else "L1")
    load = Load(
        id=entry.id, label=entry.label or label_of(entry.id), kind=kind.name,
        panel=entry.panel or house.first_panel, leg=leg,
        running_kw=draw.kw, running_kva=draw.kva, by_day=draw.by_day,
        plate_kva=draw.plate_kva, mean_kw=draw.mean_kw, mean_kva=draw.mean_kva,
        tons=draw.tons, inverter=kind.inverter, restarts=_restarts(entry, kind, ledger),
        starting_kva=start.kva, starting_pf=start.power_factor, surge=start.surge,
        motor_hp=start.motor_hp,
        soft_start_fits=start.kva > 0.0 and _soft_start_fits(entry, kind, ledger),
        compressor=kind.compressor, must_run=wishes.must_run, importance=wishes.importance,
        wait_h=wishes.wait_h, allowed=wishes.allowed, module_actions=wishes.actions,
        use=wishes.use,
        code=CodeEntry((both and kind.two_leg_category) or kind.category, va, entry.heating_units,
                       entry.with_supplemental, neutral_va,
                       _lit_ft2(kind, size, house, ledger)),
        requires=tuple(sorted(entry.requires)), not_with=tuple(sorted(entry.not_with)),
        room=entry.room or "", nature=nature,
        pause_slots=work.pause_slots(entry, kind, nature, wishes.wait_h, ledger),
        behind_degf=work.behind_degf(entry, nature, ledger),
        assumed=tuple(ledger.assumed), breaker_a=breaker_a,
        positions=entry.positions,
    )
    return Filled(load, leg_is_open=entry.leg is None and not both)


def _over_the_floor(
    entry: LoadEntry, kind: Kind, house: HouseDefaults, ledger: Ledger
) -> LoadEntry:
    """Take the floor area of the home as the size of what covers it, if the file gives none."""
    if not kind.covers_floor or entry.size is not None or "size" in ledger.refused:
        return entry
    option = kind.sizes[0]
    text = f"{min(max(house.floor_area_ft2, option.low), option.high):g} {option.unit}"
    ledger.assume("size", text, "the floor area of the home")
    return entry.model_copy(update={"size": text})


def _lit_ft2(kind: Kind, size: Size | None, house: HouseDefaults, ledger: Ledger) -> float:
    """Floor that a load lights [ft²]; one whose size is assumed lights the floor of the home."""
    if not kind.covers_floor or size is None:
        return 0.0
    assumed = any(one.key == "size" for one in ledger.assumed)
    return min(size.value, house.floor_area_ft2) if assumed else size.value


def _soft_start_fits(entry: LoadEntry, kind: Kind, ledger: Ledger) -> bool:
    """Whether a soft starter suits: compressors, and pumps in a well with three wires."""
    if not kind.submersible:
        return kind.soft_start
    if entry.wires is None:
        ledger.assume("wires", "two-wire, no soft starter", PRACTICE)
    return kind.soft_start and entry.wires == "three-wire"


def _restarts(entry: LoadEntry, kind: Kind, ledger: Ledger) -> Restarts:
    if entry.restarts is not None:
        return entry.restarts
    ledger.assume("restarts", kind.restarts, PRACTICE)
    return kind.restarts


def _refuse_beyond_any_service(draw: Draw, starting_kva: float, ledger: Ledger) -> None:
    """Refuse what follows from values that are each within bounds, and is not together."""
    for key, what, kva, most_a in (
            ("running", "draws", draw.kva, LARGEST_SERVICE_A),
            ("locked_rotor", "starts with", starting_kva,
             STARTS_OVER_RUNNING * LARGEST_SERVICE_A)):
        amperes = 1000.0 * kva / draw.volts
        if amperes > most_a * (1.0 + 1e-9):
            ledger.refuse(key, f"it {what} {amperes:,.0f} A at {draw.volts} V by what is said of "
                          "its power.", f"At most {most_a:,.0f} A; check power, power factor and "
                          "leg.")
            return


def _a(current: Quantity) -> str:
    return written(magnitude(current, "A"), "A")


def _on_both_legs(entry: LoadEntry, kind: Kind, ledger: Ledger) -> bool:
    if entry.leg is None:
        return kind.legs[0] == "both"
    both = entry.leg == "both"
    if ("both" if both else "one") not in kind.legs:
        allowed = "both" if kind.legs == ["both"] else "L1 or L2"
        ledger.refuse("leg", f'a "{kind.name}" does not stand on {entry.leg}.',
                      f"Its leg is {allowed}.")
    return both


@dataclass(frozen=True, slots=True)
class _Wishes:
    must_run: bool
    importance: int
    wait_h: float
    allowed: frozenset[Connection]
    actions: frozenset[str]
    use: Mapping[str, Use]


def _wishes_only(entry: LoadEntry, kind: Kind, house: HouseDefaults, ledger: Ledger) -> _Wishes:
    must_run, importance, wait = entry.must_run, entry.importance, entry.wait
    if must_run is None:
        must_run = kind.must_run
        if must_run:
            ledger.assume("must_run", "true", WISH)
    importance = work.usual_importance(kind) if importance is None else importance
    if wait is None and kind.wait is not None:
        wait = kind.wait
        ledger.assume("wait", f"{wait:~g}", PRACTICE)
    actions = frozenset(kind.modules if entry.modules is None else entry.modules)
    if entry.modules is None:
        ledger.assume("modules", ", ".join(sorted(actions)) or "none", PRACTICE)
    allowed = _connections(entry, kind, house, ledger, must_run=must_run, actions=actions)
    use = _uses(entry, kind, house, ledger)
    waits = wait is not None and work.nature_of(kind, use) in work.WAITING
    return _Wishes(must_run, importance, magnitude(wait, "h") if wait and waits else 0.0, allowed,
                   actions, use)


def _connections(
    entry: LoadEntry, kind: Kind, house: HouseDefaults, ledger: Ledger, *,
    must_run: bool, actions: frozenset[str],
) -> frozenset[Connection]:
    if entry.connections is not None:
        allowed = frozenset(entry.connections)
        if not allowed:
            ledger.refuse("connections", "no connection is allowed.",
                          'Write some of "direct", "module", "off".')
        if "module" in allowed and not actions:
            why = f"no module suits a {kind.name}" if entry.modules is None else "modules is empty"
            ledger.refuse("connections", f'"module" is allowed, but {why}.',
                          'Leave "module" out, or name a module action that suits.')
        if "module" in allowed and (entry.restarts or kind.restarts) == "must not":
            ledger.refuse("connections", "it may take turns, but must not be cut while it works.",
                          'Leave "module" out, or say how it restarts.')
        if must_run and allowed == {"off"}:
            ledger.refuse("connections", "a must-run load cannot be off in every plan.",
                          'Allow "direct", or give up must_run.')
        return allowed
    default = set(kind.connections)
    if entry.modules is not None and actions:
        default.add("module")
    if not actions or (entry.restarts or kind.restarts) == "must not":
        default.discard("module")
    if house.off_is_free:
        default.add("off")
    if must_run:
        default.discard("off")
    ledger.assume("connections", ", ".join(sorted(default)), PRACTICE)
    return frozenset(default)


def _uses(entry: LoadEntry, kind: Kind, house: HouseDefaults, ledger: Ledger) -> dict[str, Use]:
    """Merge the uses: the file's win, and its "every" leaves nothing to the library."""
    given = {} if "every" in entry.use else dict(kind.use)
    filled = [key for key in given if key not in entry.use]
    if filled:
        text = ", ".join(f"{key}: {given[key].kind}" for key in filled)
        ledger.assume("use", text, kind.use_source)
    design = {"summer_degf": house.summer_degf, "winter_degf": house.winter_degf}
    uses = {key: _without_sense(use_of(use, **design)) for key, use in given.items()
            if key not in entry.use}
    if entry.stage is not None:
        uses = {key: staged(use, entry.stage) for key, use in uses.items()}
    for key, use in entry.use.items():
        uses[key] = use_of(use, **design)
        if _without_sense(uses[key]) == uses[key]:
            continue
        balance, extreme = (f"{degf:g} degF" for degf in (uses[key].balance_degf,
                                                          uses[key].design_degf))
        if use.design is None and house.recorded:
            uses[key] = _without_sense(uses[key])
            ledger.doubt(f"use.{key}", f"{use.kind} begins at {balance}, and it is never beyond "
                         f"{extreme} by the weather file: it never runs.",
                         "See that balance and weather file are right.")
        else:
            ledger.refuse(f"use.{key}", f"{use.kind} runs from balance {balance} to design "
                          f"{extreme}, the wrong way.", "Give both balance and design; the design "
                          "default is the home's.")
    return uses


def _without_sense(use: Use) -> Use:
    """Give a use that the climate never calls for as one that never calls."""
    backward = {"cooling": use.design_degf <= use.balance_degf,
                "heating": use.design_degf >= use.balance_degf}
    return Use(kind="never") if backward.get(use.kind, False) else use
