"""The settings of the controller as an installer sets them, with the kilowatts of a plan."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.plan import Plan
from planner.report.tables.column import Column, Table, text
from planner.report.words import rating, seconds_span, share
from planner.simulation.generator import NOMINAL_HZ
from planner.simulation.settings import Settings


@dataclass(frozen=True, slots=True)
class SettingLine:
    """One setting: what it does, and at what."""

    key: str
    heading: str
    value: str


def settings_table(plan: Plan, settings: Settings) -> Table[SettingLine]:
    """List what the simulated controller was set to, so that a real one can be set alike.

    Parameters
    ----------
    plan : Plan
        Its generator gives the kilowatts.
    settings : Settings
        As played.

    References
    ----------
    The values are chosen and held by simulation; no source (see `Settings`).
    """
    share_in = min(settings.admitted_share, plan.supply.capacity_kw / plan.supply.derated_kw)
    lines = (
        SettingLine("admit", "Close a module where measured and rated load fit in",
                    _of_rating(plan, share_in)),
        SettingLine("spacing", "Between two closings",
                    f"{seconds_span(settings.spacing_s)}, and up to "
                    f"{seconds_span(settings.spread_s)} by chance"),
        SettingLine("steady", "Steady supply before a module closes",
                    seconds_span(settings.steady_s)),
        SettingLine("first_level", "Shed the last priorities that draw, as many as needed",
                    _below(settings.slow_frequency, settings.slow_s)
                    + f" without rising {settings.recovering * NOMINAL_HZ:g} Hz a second; again "
                    f"each {seconds_span(settings.slow_next_s)}"),
        SettingLine("second_level", "Shed all modules",
                    _below(settings.fast_frequency, settings.fast_after_s)
                    + f"; open {seconds_span(settings.fast_s)} after it was crossed"),
        SettingLine("overload", "Shed the last priority, one each 2 s",
                    f"above {_of_rating(plan, settings.overload_share)} "
                    f"for {seconds_span(settings.overload_s)}"),
        SettingLine("lock_out", "Lock-out of a compressor that has stopped",
                    seconds_span(settings.short_cycle_s)),
        SettingLine("minimum_run", "Least run of a compressor",
                    seconds_span(settings.minimum_run_s)),
        SettingLine("trial", "Trial of a load whose call is not sensed, after",
                    seconds_span(settings.trial_s)),
        SettingLine("retransfer", "Utility back before the house returns to it",
                    seconds_span(settings.retransfer_s)),
    )
    off = [part.label for part in plan.loads if part.stays_open]
    stays_open = SettingLine("stay_open", "Hold open as long as the generator feeds the house",
                             ", ".join(off))
    return Table("Settings of the controller in this simulation", COLUMNS,
                 (*lines, stays_open) if off else lines)


def _of_rating(plan: Plan, part: float) -> str:
    return f"{share(part)} of the rating ({rating(part * plan.supply.derated_kw)} kW here)"


def _below(frequency: float, after_s: float) -> str:
    return f"below {frequency * NOMINAL_HZ:.0f} Hz for {seconds_span(after_s)}"


COLUMNS: tuple[Column[SettingLine], ...] = (
    text("setting", "Setting", lambda line: line.heading),
    text("value", "Value", lambda line: line.value),
)
