"""From the text of a size to one of a kind's size options and a number in its unit."""

from __future__ import annotations

from dataclasses import dataclass

from planner.case.file import LoadEntry
from planner.case.filling.charger import breaker_sizes
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind, SizeOption
from planner.quoting import quoted
from planner.units import DIMENSIONS, UnitError, dimension_of, magnitude, parse

SAME_HP = 0.02
"""Two ways to write one horsepower, 1/3 and 0.33, are no further apart."""


@dataclass(frozen=True, slots=True)
class Size:
    """A size option of a kind and the size in the option's unit."""

    option: SizeOption
    value: float


def size_of(entry: LoadEntry, kind: Kind, ledger: Ledger) -> Size | None:
    """Read a load's size; the library's default if the nameplate does not say what it draws.

    A nameplate in kilowatts wins over a size where the kind can be sized in kilowatts, and a
    motor's horsepower where it can be sized in horsepower. Where it cannot, a motor that starts
    hard says what the load draws by itself, and no default size stands in for it.

    Parameters
    ----------
    entry : LoadEntry
        The load as the file has it.
    kind : Kind
        Its kind.
    ledger : Ledger
        Takes the findings and the assumption.

    Returns
    -------
    Size or None
        None if there is neither a size nor a default, or the size was refused.
    """
    given = _given(entry.size, kind, ledger) if entry.size is not None else None
    by_nameplate = _by_nameplate(entry, kind) or _by_motor(entry, kind, given, ledger)
    if by_nameplate is not None or entry.size is not None:
        return by_nameplate or given
    by_motor = entry.motor is not None and kind.starting is not None
    if _draw_is_given(entry) or breaker_sizes(entry, kind) or by_motor:
        return None
    for option in kind.sizes:
        if option.default is not None:
            text = f"{option.default:g} {option.unit}"
            ledger.assume("size", text, "common practice, no source", 0.3)
            return Size(option, option.default)
    if not ledger.refused & {"running", "mca", "nameplate"}:
        ledger.refuse("size", f'kind "{kind.name}" needs a size.', _ranges(kind))
    return None


def takes_size(kind: Kind, text: str) -> bool:
    """Whether a kind comes in a size such as ``3 ton``: its own unit, and within its range."""
    return _given(text, kind, Ledger("")) is not None


def usual_sizes(kind: Kind) -> str:
    """The ranges of a kind's sizes: ``1.5 to 5 ton``."""
    return " or ".join(f"{o.low:.4g} to {o.high:.4g} {o.unit}" for o in kind.sizes)


def _draw_is_given(entry: LoadEntry) -> bool:
    return not (entry.running is None and entry.mca is None and entry.nameplate is None)


def _given(text: str, kind: Kind, ledger: Ledger) -> Size | None:
    dimensions = tuple(dict.fromkeys(_dimension(option) for option in kind.sizes))
    try:
        found = parse(text, *dimensions)
    except UnitError as problem:
        ledger.refuse("size", problem.sentence, f"{problem.remedy} {_ranges(kind)}".strip())
        return None
    for option in kind.sizes:
        if not found.is_compatible_with(parse(f"1 {option.unit}", _dimension(option))):
            continue
        value = magnitude(found, option.unit)
        if option.low - 1e-9 <= value <= option.high + 1e-9:
            return Size(option, min(max(value, option.low), option.high))
    ledger.refuse("size", f'{quoted(text)} is outside the range of kind "{kind.name}".',
                  _ranges(kind))
    return None


def _by_nameplate(entry: LoadEntry, kind: Kind) -> Size | None:
    plate = entry.nameplate
    if plate is None or not plate.is_compatible_with(parse("1 kW", "power")):
        return None
    kw = magnitude(plate, "kW")
    options = (option for option in kind.sizes if option.unit == "kW")
    return next((Size(option, kw) for option in options if option.low <= kw <= option.high), None)


def _by_motor(entry: LoadEntry, kind: Kind, given: Size | None, ledger: Ledger) -> Size | None:
    """Size of a kind that is sized in horsepower, by the motor of the nameplate."""
    option = next((one for one in kind.sizes if one.unit == "hp"), None)
    if entry.motor is None or option is None or (given is not None and given.option != option):
        return None
    hp = magnitude(entry.motor, "hp")
    if not option.low - 1e-9 <= hp <= option.high + 1e-9:
        if not _draw_is_given(entry):
            ledger.refuse("motor", f'{hp:g} hp is outside the range of kind "{kind.name}".',
                          _ranges(kind))
        return None
    if given is not None and abs(given.value - hp) > SAME_HP * hp:
        ledger.doubt("size", f"{given.value:g} hp is not read: the motor has {hp:g} hp.",
                     "Leave the one out that is wrong.")
    return Size(option, min(max(hp, option.low), option.high))


def _dimension(option: SizeOption) -> str:
    name = dimension_of(option.unit)
    if name is None or name not in DIMENSIONS:
        raise LookupError(f"the library gives a size in {option.unit}, which is no unit")
    return name


def _ranges(kind: Kind) -> str:
    return (f"Sizes run from {usual_sizes(kind)}; outside it leave size out and give the nameplate "
            "(running = ...).")
