"""What to verify on site, most telling first, and how much a plan can bear."""

from __future__ import annotations

from collections.abc import Sequence

from planner.plan.binding import Binding, Shortfall
from planner.plan.margin import Growth, Margin
from planner.report.tables.column import Column, Table, text
from planner.report.words import count, money, number, share
from planner.study.verify import Doubt, End
from planner.tolerances import ceiled, floored, same_dollar

NAMES = {
    "running": "running draw",
    "locked_rotor": "locked-rotor current",
    "start_power_factor": "power factor while it starts",
    "start_seconds": "length of its start",
    "power_factor": "power factor",
    "nameplate": "rating that the code calculation counts",
    "motor": "horsepower",
    "size": "size",
    "use": "running time",
    "soft_start": "starting current that its soft starter leaves",
    "weight": "weight among the design days",
    "time_constant": "how fast it drifts",
}

METER = "clamp ammeter on its circuit while it runs (live work: a qualified person)"
HOW = {
    "running": f"nameplate amperes, or {METER}",
    "locked_rotor": "nameplate: LRA, or code letter and horsepower",
    "start_power_factor": "the maker's data sheet; record a start with a power analyser",
    "start_seconds": "record a start with a power analyser",
    "power_factor": "nameplate, or a power meter on its circuit while it runs (live work: a "
                    "qualified person)",
    "nameplate": "nameplate: volt-amperes, or amperes times volts",
    "motor": "nameplate: horsepower, or RLA of a compressor",
    "size": "nameplate or model number",
    "use": "ask those who live there; log its circuit for some days",
    "soft_start": "the maker of the motor consents in writing; record a start with its amperes",
    "weight": "the utility's outage records by season; ask when outages happened",
    "time_constant": "switch heating or cooling off for some hours and log the room's temperature",
}


def verify_table(doubts: Sequence[Doubt], currency: str = "USD") -> Table[Doubt]:
    """One row per assumed value, in the order given."""
    columns: tuple[Column[Doubt], ...] = (
        text("load", "Load or day", lambda doubt: doubt.label),
        text("assumed", "Assumed", assumed),
        text("effect", "What it changes", lambda doubt: effect_sentence(doubt, currency)),
        text("how", "Verify by", how_to_verify),
    )
    return Table("To verify on site, most telling first", columns, doubts)


def assumed(doubt: Doubt) -> str:
    """Say what was assumed: ``locked-rotor current 96 A, plausibly 67.2 A to 124.8 A``."""
    value = f"({doubt.value})" if doubt.key == "use" else doubt.value
    return f"{NAMES[doubt.key]} {value}, plausibly {plausible(doubt)}"


def what_sentence(doubt: Doubt) -> str:
    """Say what was assumed, for which load, and why."""
    return f"{doubt.label}: {NAMES[doubt.key]} assumed {doubt.value} ({doubt.source})."


def plausible(doubt: Doubt) -> str:
    """Write the plausible range: ``67.2 A to 125 A``."""
    return f"{doubt.ends[0].value} to {doubt.ends[-1].value}"


def how_to_verify(doubt: Doubt) -> str:
    """Say where the true value can be found."""
    return HOW[doubt.key]


def effect_sentence(doubt: Doubt, currency: str = "USD") -> str:
    """Say what happens at the end of the range on which most hangs."""
    end = doubt.gravest
    if end.effect == "nothing":
        return "nothing found within its range"
    parts = [f"the plan is refused: {end.stand.refusal}"] if end.stand.refusal else []
    parts += _instead(end, currency)
    if end.effect == "coverage":
        parts.append(f"{share(end.stand.coverage or 0.0)} is kept instead of "
                     f"{share((end.stand.coverage or 0.0) - end.coverage_change)}")
    if not end.solved:
        parts.append("not planned anew")
    return f"At {end.value} {'; '.join(parts)}."


def _instead(end: End, currency: str) -> list[str]:
    if end.no_plan:
        return ["no plan of the price book was found that reaches the goal"]
    if end.instead is None or end.effect == "coverage":
        return []
    price = _price(end.price_change_usd, currency)
    if end.size_change_kw:
        return [f"the recommended generator is the {end.instead.supply.generator.label}, {price}"]
    return [f"another plan with the same generator reaches the goal, {price}"]


def _price(change_usd: float, currency: str) -> str:
    if same_dollar(change_usd):
        return "at the same price"
    return f"{money(abs(change_usd), currency)} {'more' if change_usd > 0.0 else 'less'}"


def quiet_sentence(doubts: Sequence[Doubt]) -> str:
    """Say how many doubts without an effect; empty if there is none."""
    quiet = sum(doubt.effect == "nothing" for doubt in doubts)
    if not quiet:
        return ""
    verb = "changes" if quiet == 1 else "change"
    values = count(quiet, "other assumed value")
    return f"{values}, each by itself, {verb} nothing found within the plausible range."


def doubt_data(doubt: Doubt) -> dict[str, object]:
    """Give a doubt as plain data; sizes are derated kW, changes at the gravest end."""
    end = doubt.gravest
    return {
        "load": doubt.load_id,
        "key": doubt.key,
        "value": doubt.value,
        "source": doubt.source,
        "spread": doubt.spread,
        "plausible": [doubt.ends[0].value, doubt.ends[-1].value],
        "effect": end.effect,
        "at": end.value,
        "refusal": end.stand.refusal or None,
        "planned_anew": end.solved,
        "no_plan": end.no_plan,
        "size_change_kw": round(end.size_change_kw, 4),
        "price_change": round(end.price_change_usd, 2),
        "coverage_change": round(end.coverage_change, 6),
        "sentence": effect_sentence(doubt),
        "how": how_to_verify(doubt),
    }


def margin_sentences(margin: Margin) -> list[str]:
    """Say how much all starts, and all running draws, may grow: for the coverage, then at all."""
    return [_sentence("All starts together may grow", margin.starts),
            _sentence("All running draws together may grow", margin.draws)]


def _sentence(subject: str, growth: Growth) -> str:
    if growth.short is not None:
        return f"{_short(subject, growth.short)} {_refused(growth)}"
    more = " and more" if growth.refused_at is None else ""
    held = f"{subject} {down(growth.holds)}{more} before the plan is refused{_at_tenth(growth)}."
    return f"{held} The limit reached then: {growth.refusal}." if growth.refusal else held


def _short(subject: str, short: Shortfall) -> str:
    """Say up to where the plan covers enough, and the load that binds with its figures."""
    return (f"{subject} {down(short.holds)} before the plan keeps less than {share(short.goal)}: "
            f"at {up(short.at)} it keeps {share(short.coverage)}, and {short.binding.label} loses "
            f"most ({_binds(short.binding)}).")


def _binds(found: Binding) -> str:
    need, limit = number(found.need), number(floored(found.limit, 0.1))
    match found.kind:
        case "starting kVA":
            return f"its start takes {need} of the {limit} kVA that may start"
        case "starting kW":
            whose = f"the start of {found.start_of}" if found.start_of else "its start"
            return f"{whose} takes {need} kW and succeeds beside {limit} kW of other load"
        case "running kW":
            return (f"it draws {need} kW, {number(found.need_a)} A on a leg, beside what runs and "
                    f"starts; {limit} kW, {number(floored(found.limit_a, 0.1))} A may be used")


def _refused(growth: Growth) -> str:
    if growth.refused_at is None:
        return f"It is not refused up to {down(growth.holds)}."
    return f"It is refused above {down(growth.holds)}: {growth.refusal}."


def _at_tenth(growth: Growth) -> str:
    if growth.coverage_at_tenth is None:
        return ""
    return f"; with 10 % more it keeps {share(growth.coverage_at_tenth)}"


def up(growth: float) -> str:
    """Write a growth in percent, never rounded down: something fails there."""
    return f"{ceiled(100.0 * growth, 0.1):.4g} %"


def down(growth: float) -> str:
    """Write a growth in percent, never rounded up: it is promised to hold."""
    return f"{floored(100.0 * growth, 0.1):.4g} %"
