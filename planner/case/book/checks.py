"""Checks of a price book across its keys, each a function from the draft to findings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import get_args

from planner.case.book.file import (
    BookSection,
    ControllerEntry,
    GeneratorEntry,
    ModuleEntry,
    RatingEntry,
    SoftStarterEntry,
    TransferEntry,
)
from planner.case.book.portable import (
    ManualTransferEntry,
    PortableEntry,
    portables_are_sound,
)
from planner.case.book.site_parts import (
    GasPartEntry,
    PipeEntry,
    RegulatorEntry,
    SitePricesSection,
    TankEntry,
    WireEntry,
    wires_and_pipes_stand_once,
)
from planner.case.fields import did_you_mean
from planner.case.messages import error, place, warning
from planner.errors import Finding
from planner.facts.home import Fuel
from planner.physics.fuel import BTU_PER_KWH
from planner.quoting import quoted
from planner.units import magnitude

LIKELY_EFFICIENCY = (0.10, 0.45)
"""At full load on the higher heating value: 0.18-0.25 for small air-cooled sets (from memory), up
to 0.45 for the best large gas engines (common practice, no source)."""
LIKELY_REACTANCE = (0.05, 0.40)
"""X'd per unit; typical of small sets 0.15-0.30 (from memory)."""
MAY_BE_LEFT_OUT = ("motor", "largest_breaker", "full_load", "locked_rotor", "short_circuit")
"""Of a contactor module, what its maker may not state."""
LINE_VOLTS = 240.0
CURRENT_TOLERANCE = 0.05


@dataclass(frozen=True, slots=True)
class BookDraft:
    """What could be read of a price book; `ids` lists them even where their table was refused."""

    file: str
    book: BookSection | None
    generators: tuple[GeneratorEntry, ...]
    transfers: tuple[TransferEntry, ...]
    modules: tuple[ModuleEntry, ...]
    controllers: tuple[ControllerEntry, ...]
    soft_starters: tuple[SoftStarterEntry, ...]
    site: SitePricesSection | None
    wires: tuple[WireEntry, ...]
    pipes: tuple[PipeEntry, ...]
    meters: tuple[GasPartEntry, ...]
    regulators: tuple[RegulatorEntry, ...]
    tanks: tuple[TankEntry, ...]
    portables: tuple[PortableEntry, ...]
    manual_transfers: tuple[ManualTransferEntry, ...]
    ids: tuple[tuple[str, str], ...]  # (what, id)
    counts: Mapping[str, int]  # items of each list, readable or not
    refused: frozenset[str]  # places of refused values, and of what they are parts of

    def ratings(self) -> Iterator[tuple[str, RatingEntry]]:
        """Each rating of each generator, with its place."""
        for generator in self.generators:
            for fuel, rating in generator.ratings.items():
                yield place(self.file, f"generator {generator.id}", f"ratings.{fuel}"), rating

    def is_refused(self, where: str) -> bool:
        """Whether a value at a place, or below it, was refused: then it is not missing."""
        return where in self.refused


Check = Callable[[BookDraft], Iterable[Finding]]


def ids_stand_once(draft: BookDraft) -> Iterator[Finding]:
    """Check that an id names one part of its list."""
    for (what, name), count in Counter(draft.ids).items():
        if count > 1:
            yield error(place(draft.file, f"{what} {name}"), f"{count} {what}s have this id.",
                        "Give each an id of its own.")


def something_is_on_offer(draft: BookDraft) -> Iterator[Finding]:
    """Check that there is a generator and transfer equipment to connect it by."""
    for key, why in (("generators", "nothing can be planned"),
                     ("transfers", "no generator may be connected without transfer equipment")):
        if not draft.counts[key]:
            yield error(place(draft.file, key), f"the list is empty: {why}.",
                        f"Add one with [[{key}]].")


def ratings_name_fuels(draft: BookDraft) -> Iterator[Finding]:
    """Check that every generator has a rating, and each rating a fuel that homes can have."""
    fuels = get_args(Fuel)
    for generator in draft.generators:
        where = place(draft.file, f"generator {generator.id}", "ratings")
        if not generator.ratings and not draft.is_refused(where):
            yield error(where, "there is no rating on any fuel.",
                        'Add [generators.ratings."natural gas"] or [generators.ratings.propane].')
        for fuel in generator.ratings:
            if fuel not in fuels:
                hint = did_you_mean(fuel, fuels) or f"Fuels: {', '.join(fuels)}."
                yield error(where, f"{quoted(fuel)} is no fuel of the planner.", hint)


def apparent_is_not_below_real(draft: BookDraft) -> Iterator[Finding]:
    """Check that no rating has more kilowatts than kilovolt-amperes."""
    for where, rating in draft.ratings():
        kw, kva = magnitude(rating.power, "kW"), magnitude(rating.apparent, "kVA")
        if kva < kw - 1e-9:
            yield error(f"{where}.apparent", f"{kva:g} kVA is below {kw:g} kW; real power is "
                        "never above apparent power.", "Are the two swapped?")


def currents_agree(draft: BookDraft) -> Iterator[Finding]:
    """Check that the current of a rating is its kVA at 240 V."""
    for where, rating in draft.ratings():
        amperes = magnitude(rating.current, "A")
        expected_a = 1000.0 * magnitude(rating.apparent, "kVA") / LINE_VOLTS
        if abs(amperes - expected_a) > CURRENT_TOLERANCE * expected_a:
            yield warning(f"{where}.current", f"{amperes:g} A is not what "
                          f"{magnitude(rating.apparent, 'kVA'):g} kVA gives at 240 V, "
                          f"{expected_a:.1f} A per leg.", "Check the nameplate; the planner plans "
                          "with the current as written.")


def fuel_rises_with_load(draft: BookDraft) -> Iterator[Finding]:
    """Check that more load burns more fuel, and not implausibly little or much."""
    low, high = LIKELY_EFFICIENCY
    for where, rating in draft.ratings():
        burnt = [magnitude(q, "Btu/h") for q in (rating.no_load, rating.half_load,
                                                 rating.full_load)]
        if not burnt[0] < burnt[1] < burnt[2]:
            yield error(f"{where}.full_load", "fuel does not rise with load: "
                        f"{burnt[0]:g}, {burnt[1]:g}, {burnt[2]:g} Btu/h at no, half, full load.",
                        "Check the order of the three.")
            continue
        efficiency = magnitude(rating.power, "kW") * BTU_PER_KWH / burnt[2]
        if efficiency >= 1.0:
            yield error(f"{where}.full_load", f"{burnt[2]:g} Btu/h holds less energy than the "
                        "electricity it would make.", "Is it in thousands of Btu/h?")
        elif not low <= efficiency <= high:
            yield warning(f"{where}.full_load", f"{efficiency:.0%} efficiency at full load is "
                          f"outside the likely {low:.0%} to {high:.0%}.", "Check the fuel data.")


def reactances_are_likely(draft: BookDraft) -> Iterator[Finding]:
    """Warn of a transient reactance that no small generator has: it decides what may start."""
    low, high = LIKELY_REACTANCE
    for generator in draft.generators:
        if not low <= generator.reactance <= high:
            yield warning(place(draft.file, f"generator {generator.id}", "reactance"),
                          f"{generator.reactance:g} is outside the likely {low:g} to {high:g}.",
                          "X'd is per unit on the generator's kVA; check its data sheet.")


def transfers_have_their_positions(draft: BookDraft) -> Iterator[Finding]:
    """Check that selected-circuits equipment has positions, and whole-house equipment none."""
    for transfer in draft.transfers:
        where = place(draft.file, f"transfer {transfer.id}", "positions")
        if draft.is_refused(where):
            continue
        if transfer.kind == "selected-circuits" and not transfer.positions:
            yield error(where, "selected-circuits equipment needs positions.",
                        "Write how many poles it takes: positions = 12.")
        if transfer.kind == "whole-house" and transfer.positions:
            yield error(where, "whole-house equipment has no positions.",
                        'Leave it out, or write kind = "selected-circuits".')


def modules_have_their_ratings(draft: BookDraft) -> Iterator[Finding]:
    """Check that a contactor says what it may switch; a thermostat module switches no power."""
    for module in draft.modules:
        where = place(draft.file, f"module {module.id}")
        for key in ("poles", "current", *MAY_BE_LEFT_OUT):
            given = getattr(module, key) is not None
            refused = draft.is_refused(place(where, key))
            if (module.action == "contactor" and key not in MAY_BE_LEFT_OUT and not given
                    and not refused):
                yield error(place(where, key), "a contactor needs it.", f"Add {key} = ...")
            if module.action == "thermostat" and given:
                yield warning(place(where, key), "it is not read: a thermostat module opens a "
                              "control circuit.", "Leave it out.")


def modules_stand_behind_their_breaker(draft: BookDraft) -> Iterator[Finding]:
    """Check that a larger permitted breaker is larger than the amperes of the module."""
    for module in draft.modules:
        if module.largest_breaker is None or module.current is None:
            continue
        if module.largest_breaker < module.current:
            yield error(place(draft.file, f"module {module.id}", "largest_breaker"),
                        f"{magnitude(module.largest_breaker, 'A'):g} A is below the "
                        f"{magnitude(module.current, 'A'):g} A that it carries.",
                        "Leave it out where the maker states none.")


def generators_have_their_breaker(draft: BookDraft) -> Iterator[Finding]:
    """Warn of a main breaker that does not carry the rated current."""
    for generator in draft.generators:
        rated_a = max((magnitude(one.current, "A") for one in generator.ratings.values()),
                      default=0.0)
        if generator.breaker is not None and magnitude(generator.breaker, "A") < rated_a - 1e-9:
            yield warning(place(draft.file, f"generator {generator.id}", "breaker"),
                          f"{magnitude(generator.breaker, 'A'):g} A is below its rated "
                          f"{rated_a:g} A.", "Check both on the nameplate.")


def turns_are_possible(draft: BookDraft) -> Iterator[Finding]:
    """Warn when modules and controllers are not both on offer: no load can take turns then."""
    for have, lack in (("modules", "controllers"), ("controllers", "modules")):
        if draft.counts[have] and not draft.counts[lack]:
            yield warning(place(draft.file, lack), f"there are {have}, but no {lack}: no load can "
                          "take turns.", f"Add one with [[{lack}]].")


def soft_starters_cut(draft: BookDraft) -> Iterator[Finding]:
    """Warn of a soft starter that leaves the start as it is."""
    for starter in draft.soft_starters:
        if magnitude(starter.factor, "1") >= 1.0:
            yield warning(place(draft.file, f"soft starter {starter.id}", "factor"),
                          "it leaves the starting current as it is.",
                          "Write the share that is left, such as 40 %.")


def site_parts_stand_once(draft: BookDraft) -> Iterator[Finding]:
    """Check that wire and pipe of a size stand once, and are sizes that the tables know."""
    return wires_and_pipes_stand_once(draft.file, draft.wires, draft.pipes)


def portables_can_be_offered(draft: BookDraft) -> Iterator[Finding]:
    """Check what is said of portable generators and of what connects them."""
    if draft.book is not None:
        yield from portables_are_sound(
            draft.file, draft.portables, draft.manual_transfers,
            has_price=draft.book.gasoline is not None
            or draft.is_refused(place(draft.file, "book", "gasoline")))


CHECKS: tuple[Check, ...] = (
    ids_stand_once,
    something_is_on_offer,
    ratings_name_fuels,
    apparent_is_not_below_real,
    currents_agree,
    fuel_rises_with_load,
    reactances_are_likely,
    transfers_have_their_positions,
    modules_have_their_ratings,
    modules_stand_behind_their_breaker,
    generators_have_their_breaker,
    turns_are_possible,
    soft_starters_cut,
    site_parts_stand_once,
    portables_can_be_offered,
)
