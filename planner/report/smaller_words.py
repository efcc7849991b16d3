"""Why not smaller, in sentences for someone who never saw a solver."""

from __future__ import annotations

from collections.abc import Sequence

from planner.facts.home import Home
from planner.plan.plan import Plan
from planner.report.comforts.comfort_words import comfort_phrase, promise_words
from planner.report.words import money, number, rating, share, span
from planner.study.why_smaller import SmallerSize
from planner.study.why_smaller.conflict import Conflict
from planner.study.why_smaller.limits import Binding, Shortage
from planner.study.why_smaller.promises import PromiseShort
from planner.study.why_smaller.remedies import Remedy, RemedyKind
from planner.study.why_smaller.waiting import Waiting
from planner.study.wishes import Wish
from planner.tolerances import DOLLAR, ceiled, floored, reaches, same_dollar

MOST_OF_A_DAY_H = 18.0
MOST_TOLD = 3  # comforts that are told where many lack something
MOST_LIMITS = 3  # limits that are told where many have to move together
FOR_THE_ESTIMATOR = "which is for the estimator to decide"
SHORT_OF = {
    "running": "of running power", "legs": "on a leg", "feeder": "on the feeder of its panel",
    "start-power": "of power while motors start", "start-dip": "of starting kVA",
}


def smaller_sections(
    sizes: Sequence[SmallerSize], plan: Plan, goal: float
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Headings with their sentences: one for each size, one for all that are out of the question.

    Parameters
    ----------
    sizes, plan, goal
        Smaller sizes, the largest first; the recommended plan; the coverage it was made for (0-1).
    """
    hopeless = [size for size in sizes if _hopeless(size)]
    if len(hopeless) < 2:
        hopeless = []
    sections = [(f"{size.generator.label}, {rating(size.derated_kw)} kW here",
                 smaller_sentences(size, plan, goal)) for size in sizes if size not in hopeless]
    if hopeless:
        sections.append((listed([size.generator.label for size in hopeless]),
                         _hopeless_sentences(hopeless)))
    return tuple(sections)


def _hopeless(size: SmallerSize) -> bool:
    """Whether a size cannot even carry the calculated load of the house without a wish."""
    if size.conflict is None or size.binding is None or size.conflict.wishes or size.remedies:
        return False
    if not size.conflict.proven:
        return False
    return [one.key for one in size.binding.shortages] == ["code"]


def _hopeless_sentences(sizes: Sequence[SmallerSize]) -> tuple[str, ...]:
    shortages = [one for size in sizes if size.binding for one in size.binding.shortages]
    needed_kva = min(ceiled(one.needed, 0.1) for one in shortages)
    given = listed([rating(one.given) for one in shortages])
    return ("None of these can be connected to this house, even with every wish given up: the "
            f"calculated load by code of what is always connected is at least {number(needed_kva)} "
            f"kVA, and they give {given} kW here.",
            "No single change of the wishes that was tried helps.")


def smaller_sentences(size: SmallerSize, plan: Plan, goal: float) -> tuple[str, ...]:
    """Explain one smaller size against the recommended plan, a sentence or two per idea."""
    if size.enough is not None:
        lines = [dearer_sentence(size.enough, plan)]
        if not size.proven:
            lines.append("Whether it could do so for less is not known.")
        if size.confidence is not None and size.confidence.matters:
            lines.append(f"It holds in {size.confidence.of_100} of 100 houses like this.")
        return tuple(lines)
    lines = [_most(size, goal)]
    if size.conflict is not None and size.binding is not None:
        lines.append(conflict_sentence(size.conflict, goal))
        lines += [promise_sentence(one) for one in size.binding.promises]
        lines.append(binding_sentence(size.binding, size.conflict))
    lines += [waiting_sentence(one) for one in size.waiting]
    lines.append(remedy_sentence(size.remedies, plan, goal))
    return tuple(lines)


def dearer_sentence(enough: Plan, plan: Plan) -> str:
    """Say what a smaller size that reaches the goal costs more, and for what."""
    currency = plan.menu.book.currency
    more_usd = enough.cost_usd - plan.cost_usd
    lines = {line.text: (line.quantity, line.usd) for line in enough.price.lines[2:]}
    known = {line.text: (line.quantity, line.usd) for line in plan.price.lines[2:]}
    machine_usd = sum(line.usd for line in plan.price.lines[:2]) - sum(
        line.usd for line in enough.price.lines[:2])
    extra = [(usd - known.get(text, (0, 0.0))[1], number_ - known.get(text, (0, 0.0))[0], text)
             for text, (number_, usd) in lines.items()]
    dearer = [f"{more} more of \"{text.removesuffix(', installed')}\" ({money(usd, currency)})"
              for usd, more, text in sorted(extra, reverse=True) if usd > DOLLAR]
    price = (f"for {money(enough.cost_usd, currency)}, {money(more_usd, currency)} more"
             if more_usd > DOLLAR else
             f"for {money(enough.cost_usd, currency)}, {money(-more_usd, currency)} less, in the "
             "house as it is assumed" if more_usd < -DOLLAR else
             f"at the same price, {money(enough.cost_usd, currency)}")
    saves = f" The generator itself saves {money(machine_usd, currency)}"
    why = saves if machine_usd > DOLLAR else ""
    if dearer:
        why += f"{', but it takes' if why else ' It takes'} {listed(dearer)}"
    return f"It works too, keeping {share(enough.coverage)}, {price}.{why}{'.' if why else ''}"


def _most(size: SmallerSize, goal: float) -> str:
    if size.most is None:
        return ("It cannot keep what must run and what is promised." if size.proven else
                "No plan of it was found that keeps what must run and what is promised; that is no "
                "proof that there is none.")
    most, currency = size.most, size.most.menu.book.currency
    lacking = [one for one in most.comforts if one.counts and not reaches(one.kept, 1.0)]
    lacking.sort(key=lambda one: -one.comfort.importance * (1.0 - one.kept))
    like = [f"{one.comfort.label}: {comfort_phrase(one, most.menu.house)}"
            for one in lacking[:MOST_TOLD]]
    tail = f" Then on the hardest days: {'; '.join(like)}." if like else ""
    head = ("The most it keeps is" if most.proof.kind == "proven" else
            "The most that was found for it is")
    reach = (f"{share(goal)} is out of its reach" if size.proven else
             f"whether it can keep {share(goal)} is not known")
    return (f"{head} {share(most.coverage)}, for {money(most.cost_usd, currency)}; {reach}.{tail}")


def conflict_sentence(conflict: Conflict, goal: float) -> str:
    """Name the wishes that cannot be met together."""
    if not conflict.wishes:
        return ("Even with every wish given up it could not be connected to this house."
                if conflict.proven else
                "Even with every wish given up no plan was found for it; that is no proof that "
                "there is none.")
    served = conflict.coverage > 0.0
    parts = [wish_words(wish, conflict.home, served=served) for wish in conflict.wishes]
    if not conflict.proven:
        what = "keeps this wish alone" if len(parts) == 1 else "does these together"
        return (f"No plan of it was found that {what}, which is no proof that there is none: "
                f"{listed(parts)}.")
    if len(parts) == 1:
        return f"One wish alone is too much for it, at any price: {parts[0]}."
    tail = f" With them less than {share(goal)} would be kept." if served else ""
    return f"It cannot do these together, at any price: {listed(parts)}.{tail}"


def promise_sentence(one: PromiseShort) -> str:
    """Say how far a size gets towards a promise that it cannot keep beside the rest."""
    if one.unit in ("degF", "miles"):
        return (f"{one.label} would reach {number(one.reached, 0)} {one.unit} on {one.day}, where "
                f"{number(one.promised, 0)} {one.unit} are promised.")
    if one.unit == "lost":
        lost = f"{one.reached:.0f} of them would be" if one.reached > 1.0 else "one would be"
        return f"{one.label}: {lost} cut or not done on {one.day}, where none may be."
    if one.unit == "cold showers":
        return (f"{one.label}: {number(ceiled(one.reached, 0.1))} cold showers on {one.day}, where "
                f"{number(one.promised, 0)} are promised at most.")
    return f"{one.label} would not be as promised on {one.day}."


def wish_words(wish: Wish, home: Home, *, served: bool = True) -> str:
    """Say one wish in a few words; `served` tells comforts apart from loads merely connected.

    `home` is one that has the wish.
    """
    labels = [home.load(load_id).label for load_id in wish.load_ids]
    name = comfort_label(home, wish)
    match wish.kind:
        case "must-run":
            return f"{listed(labels)} must run"
        case "promise":
            comfort = next(one for one in home.comforts if one.id == wish.comfort)
            return f"{name} ({promise_words(comfort)})"
        case "comfort":
            return name if served else f"{name} is connected"
        case "never-before":
            return f"{labels[0]} never goes ahead of {labels[1]}"
        case "order":
            return "what matters more goes first"


def comfort_label(home: Home, wish: Wish) -> str:
    """Name what a wish is about: its comfort, else its loads."""
    return next((one.label for one in home.comforts if one.id == wish.comfort),
                listed([home.load(load_id).label for load_id in wish.load_ids]))


def binding_sentence(binding: Binding, conflict: Conflict) -> str:
    """Say which limit stands in the way, with its numbers."""
    shown = binding.shortages[:MOST_LIMITS] if binding.together else binding.shortages
    numbers = [shortage_words(one) for one in shown]
    starts = any(one.key in {"start-power", "start-dip"} for one in binding.shortages)
    if not numbers:
        text = "No larger limit of the generator alone was found to help."
    elif binding.together:
        all_of = ("more of nearly everything at the same time: among it"
                  if len(shown) < len(binding.shortages) else "all of this at the same time:")
        text = f"It would work with {all_of} {listed(numbers)}."
    else:
        text = f"It would work with {listed(numbers, 'or')}."
    if starts and firm(conflict):
        text += " What is always connected may start all at once when the generator takes over."
    if binding.patience_helps:
        text += (" These fit together if meals, washes and all other work may wait as long as it "
                 "takes.")
    return text


def firm(conflict: Conflict) -> bool:
    """Whether no load of a conflict may take turns."""
    home = conflict.home
    loads = [home.load(load_id) for wish in conflict.wishes for load_id in wish.load_ids]
    return all("module" not in load.allowed for load in loads)


def shortage_words(one: Shortage) -> str:
    """Say one limit: what it would take, and what can be given."""
    tenths = ceiled(one.needed, 0.1)
    digits = 1 if abs(tenths - one.needed) < 1e-6 and tenths > round(one.given, 1) else 2
    needed, given = number(one.needed, digits), number(floored(one.given, 10.0 ** -digits), digits)
    if one.key == "code":
        return (f"room for {needed} kVA {one.name}; the generator gives {given} kW here")
    return f"{needed} {one.unit} {one.name} where {given} {one.unit} can be given"


def waiting_sentence(one: Waiting) -> str:
    """Say when a load is refused, of which comfort that is, and who stands in its way."""
    kept = one.comfort
    head = (f"{kept.comfort.label} would be kept {share(kept.kept)}: {one.label} is refused most "
            f"on {one.day}, {_when(one)}")
    rivals = f" beside {listed(one.ahead)}" if one.ahead else ""
    if one.short_of == "apart":
        return f"{head}, when what must not run together with it is on."
    return (f"{head}, where up to {number(one.missing)} {one.unit} {SHORT_OF[one.short_of]} are "
            f"missing{rivals}.")


def _when(one: Waiting) -> str:
    if one.to_h - one.from_h >= MOST_OF_A_DAY_H:
        return "through most of the day"
    return f"between {clock(one.from_h)} and {clock(one.to_h)}"


def remedy_sentence(remedies: Sequence[Remedy], plan: Plan, goal: float) -> str:
    """Say the cheapest single change with which the size works."""
    if not remedies:
        return (f"No single change of the wishes that was tried was found to let it keep "
                f"{share(goal)}.")
    best, currency = remedies[0], plan.menu.book.currency
    change_usd = best.cost_usd - plan.cost_usd
    against = ("the same as the recommended plan" if same_dollar(change_usd) else
               f"{money(abs(change_usd), currency)} {'more' if change_usd > 0 else 'less'} than "
               "the recommended plan")
    return (f"It works if {remedy_words(best)}: then {share(best.plan.coverage)} for "
            f"{money(best.cost_usd, currency)}, {against}.")


def remedy_words(remedy: Remedy) -> str:
    """Say one change as a condition."""
    home = remedy.home
    first, second = [*(home.load(load_id).label for load_id in remedy.load_ids), "", ""][:2]
    comfort = next((one for one in home.comforts if one.id == remedy.comfort), None)
    name = first if comfort is None else comfort.label
    was = span(remedy.before) if remedy.before else "not at all"
    dip = f"{100 * remedy.after:.0f} % instead of {100 * remedy.before:.0f} %"
    rating = f"{share(remedy.after)} of the rating may be used instead of {share(remedy.before)}"
    words: dict[RemedyKind, str] = {
        "longer-wait": f"{first} may wait {span(remedy.after)} instead of {was}",
        "free-order": "the order need not follow importance",
        "drop-pair": f"{first} may go ahead of {second}",
        "give-up": f"{name} is given up",
        "not-must-run": f"{first} need not run at all times",
        "looser-promise": f"of {name} this is promised: {comfort and promise_words(comfort)}",
        "drop-promise": f"nothing is promised of {name}",
        "take-turns": f"{first} may take turns",
        "larger-dip": f"the lights may dip {dip} when a motor starts, {FOR_THE_ESTIMATOR}",
        "larger-share": f"{rating}, {FOR_THE_ESTIMATOR}",
        "selected-circuits": "selected circuits are transferred instead of the whole house",
    }
    return words[remedy.kind]


def listed(parts: Sequence[str], joint: str = "and") -> str:
    """Join phrases: ``a``, ``a and b``, ``a; b; and c`` where they hold commas."""
    if len(parts) < 2:
        return "".join(parts)
    comma = ";" if any("," in part for part in parts) else ","
    return f"{f'{comma} '.join(parts[:-1])}{comma if len(parts) > 2 or comma == ';' else ''} " \
           f"{joint} {parts[-1]}"


def clock(hour: float) -> str:
    """Write an hour of the day: ``07:15``."""
    return f"{int(hour):02d}:{round(hour % 1 * 60):02d}"
