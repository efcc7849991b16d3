"""Every statement of a text understood: what is mentioned, counted, sized, wished, and of the house."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from planner.editing.family.circuits import without_circuits
from planner.editing.family.facts import mark_facts, mark_fuels, mark_temperatures
from planner.editing.family.figures import amount, mark_counts, mark_figures, mark_short_sizes
from planner.editing.family.fits import comes_in, size_for
from planner.editing.family.marks import TAKEN, Mark, Statement
from planner.editing.family.mentions import (
    NOTHING,
    SEVERAL,
    Mention,
    Wish,
    mentions_of,
    takes_fuel,
    with_fuel,
)
from planner.editing.family.text import plain, statements
from planner.editing.family.wishes import attach, heading_of, mark_wishes

_NONE = re.compile(r"(?:\b(?:no|zero|don'?t have|do not have|never had|nor)\b|(?<![\w.])0)\s+"
                   r"(?:any\s+|a\s+|an\s+)?(?:[a-z-]+\s+){0,1}$")
_GONE = re.compile(
    r"\b(?:disconnected|drained|removed|gone|sold|abandoned|unused|decommissioned|capped|unplugged"
    r"|any ?more|no longer|taken out|took (?:it )?out|ripped out|was replaced|got rid|tossed"
    r"|not (?:in use|used|hooked up|connected|working)|broken|dead|doesn'?t (?:work|exist)"
    r"|shut down|out of (?:use|service)|none|came out|took (?:it|their|the|his|her)|given away|gave away|taken away|taken down|carried (?:it )?off|hauled away|unhooked|filled in)\b")
_IS = re.compile(r"\s*(?:and [\w\s]{3,30}? )?(?:is|are)\b")
_HAD = re.compile(r"\b(?:had|used to have|used to be)\s+(?:an?|the)?\s*(?:[\w-]+\s+){0,2}$")
_SO = re.compile(r"\bso (?:is|are|was|were)\b")
_OWN_ONE = re.compile(r"\b(?:one|another)\s+(?:[\w.\x00-]+\s+){0,4}$")
_OF_THEM = re.compile(r"\bof (?:them|which)\b(?: are)?")
_FEEDS = re.compile(r"\s*(?:feeds|fuels|runs|powers|goes to|supplies)\b")
_EVERY_FLOOR = re.compile(r"\b(?:for|on|per|to) (?:each|every|both) (?:floor|level|story|stories|floors)"
                          r"|\b(?:per|a) floor\b")
_FLOORS = re.compile(r"\b(\d)[\s-]*(?:stor(?:e?y|ies|eys)|floors?|levels?)\b")
_NUMBERED_UNIT = re.compile(r"^\W*(?:unit|no|number|condenser|#)\s*#?\s*(\d)\b")
_ENDS = re.compile(r"\s*(?:$|[,;.)@]|and\b|ea\b|each\b|of them|units?\b)")
_PLACE_NAMES = r"(shop|workshop|barn|garage|basement|cottage|guest house|pool house|cabin|upstairs|downstairs)"
_SECTION = re.compile(rf"\W*(?:the\s+)?{_PLACE_NAMES}\b[^:,]{{0,12}}(?:\s*:)?")
_IN_PLACE = re.compile(rf"\b{_PLACE_NAMES}(?:\s+(?:stuff|things|loads|tools|panel|all|says))*\s*$")
_THOUGHT = re.compile(r"\b(?:thought|think|said|guess(?:ed)?)\b.*\b(?:but|actually|no|sorry)\b")
_EACH_ITS = re.compile(r"\beach (?:with|has|having)\b(?: (?:its|their) own| an?)?\s*(?:[\w-]+\s+){0,2}$")
_EACH = re.compile(r"\b(?:each|apiece)\b")
_ONE_MORE = re.compile(r"\b(?:one|1|another)\b(?!\s*(?:is|of|pole))")
_GAS_HEAT = re.compile(r"\x00+\s*(?:forced air\s+)?heat\b(?!\s+pump)|heat(?:ed|ing)?\s*(?:is|:|with|by|on|from)*\s*(?:by\s+)?\x00")
_BARE_FRACTION = re.compile(r"(?<![\w./-])(1/[2-9]|3/4)(?![\w/]|\s*(?:of|the))")
USUAL_FLOORS = 2
OFTEN_SEVERAL = frozenset(("refrigerator", "freezer", "television", "room air conditioner"))
"""Kinds of which a house has several: another name is another one."""
_SECOND_ONE = re.compile(r"^\s*,?\s*(?:and\s+|with\s+)?(?:a\s+)?(?:second|another|other)\s+one\b")


@dataclass
class Understood:
    """What a text says.

    Attributes
    ----------
    mentions : list of Mention
        Loads, and what is no load; what is spoken of again is not there again.
    facts : dict
        Of the house, with their lines; `fuel` among them.
    heated_by : str
        The fuel of heat of which no furnace or boiler is mentioned; empty otherwise.
    statements : list of Statement
    """

    mentions: list[Mention] = field(default_factory=list)
    facts: dict[str, tuple[int, str | float]] = field(default_factory=dict)
    heated_by: str = ""
    heated_line: int = 0
    statements: list[Statement] = field(default_factory=list)


def understood(text: str) -> Understood:
    """Understand a text, statement by statement."""
    found = Understood()
    told = plain(text)
    floors = _floors(told)
    heading: Wish | None = None
    said: Wish | None = None
    before: list[Mention] = []
    fuels: list[tuple[int, str]] = []
    section = ""
    for line, words in statements(without_circuits(told)):
        here = Statement(line, words)
        if not words:
            heading, section = None, ""
            continue
        made = _marked(here)
        found.statements.append(here)
        new_heading = heading_of(here)
        if new_heading is not None:
            heading = said = new_heading
            before = []
            continue
        _count(here, made, floors)
        _fuel(here, made, fuels)
        _size(here, made, before)
        _gone(here, made)
        again = _spoken_of(here, made, found.mentions)
        section = _section(here, made) or section
        for one in made:
            one.section = section
        wide = _wide(here, made, found.mentions)
        attach(here, made, wide or before, again.keys())
        for one in made:  # what is wished of one spoken of again is wished of all that are meant
            for other in again.get(id(one), []):
                other.wish = one.wish or other.wish
        about = [other for one in made for other in again.get(id(one), [one])]
        if heading is not None and not here.of("wish"):
            for one in made:
                one.wish = heading
        if here.of("same") and said is not None:
            for one in about:
                one.wish = one.wish or said
        said = here.of("wish")[-1].key if here.of("wish") else said  # type: ignore[assignment]
        found.mentions += [one for one in made if id(one) not in again]
        _facts(here, found, fuels)
        before = about or before
    _house_fuel(found, fuels)
    found.mentions = [one for one in found.mentions if not _of_the_house(one, found.mentions)]
    return found


def _of_the_house(one: Mention, mentions: Sequence[Mention]) -> bool:
    """Whether it only describes a house whose list names the thing itself elsewhere."""
    described = any(mark.key == "floor_area" for mark in one.place.marks)
    return described and not one.counted and not one.sizes and any(
        other.kind == one.kind and other.place is not one.place for other in mentions)


def _section(here: Statement, made: Sequence[Mention]) -> str:
    """The place that a line or its beginning names: ``Shop: table saw, welder``."""
    named = _SECTION.match(here.text)
    heads = named is not None and (":" in named[0] or not any(one.is_load for one in made)) \
        and not here.of("wish")
    return named[1] if named and heads else ""


def _wide(
    here: Statement, made: Sequence[Mention], known: Sequence[Mention]
) -> list[Mention]:
    """What stands in the place that a wish is about: ``the shop can stay off``."""
    wish = here.of("wish")
    place = _IN_PLACE.search(here.text[:wish[0].start]) if wish else None
    if place is None or (made and made[-1].end > place.start()):
        return []
    return [one for one in known if one.section == place[1]]


def _marked(here: Statement) -> list[Mention]:
    mark_facts(here)
    mark_figures(here)
    mark_temperatures(here)
    made = mentions_of(here)
    mark_wishes(here)
    mark_fuels(here)
    if any(comes_in(one.kind, unit) for one in made for unit in ("ton", "kBtu/h")):
        mark_short_sizes(here)
    here.take(_BARE_FRACTION, "size", lambda match: ("", (amount(match[1]), "hp")))
    mark_counts(here)
    return _once([one for number, one in enumerate(made)
                  if not _is_heading_for(here, made, number)])


def _once(made: list[Mention]) -> list[Mention]:
    """Leave out a second name for the same thing beside it: ``AC 36,000 btu outside unit``."""
    kept: list[Mention] = []
    for one in made:
        gap = one.place.text[kept[-1].end:one.start] if kept else ","
        if kept and one.kind == "furnace blower" and "furnace" in kept[-1].kind:
            continue
        if kept and kept[-1].kind == one.kind and re.fullmatch(
                r"\s*[(-]?\s*(?:with\s+)?(?:an?\s+|its\s+|the\s+)?(?:[\d,.]+\s?k?\s?\w+\s+)?", gap):
            continue
        kept.append(one)
    return kept


def _is_heading_for(here: Statement, made: Sequence[Mention], number: int) -> bool:
    """Whether a thing is only what another one is for: ``Hot water: power vent gas``."""
    if number + 1 >= len(made):
        return False
    one, other = made[number], made[number + 1]
    gap = here.text[one.end:other.start]
    heads = re.fullmatch(r"\s*(?::|-|is|has|comes from|is by|is made by|is from)\s*(?:an?|the)?\s*(?:[\w\x00-]+\s+){0,2}",
                         gap) is not None
    kin = one.kind == other.kind or ("water heater" in one.kind and "water" in other.kind) \
        or (one.words in ("hot water", "well", "water", "pool", "ac", "a/c", "compressor"))
    if heads and one.words == "hot water" and other.words.endswith("heater"):
        other.kind = other.kind if "water heater" in other.kind else "electric water heater"
        return True
    return heads and (kin or one.words.split()[-1] == other.words.split()[-1])


def _near(here: Statement, made: Sequence[Mention], place: int) -> list[Mention]:
    """The things a figure may be about: of its segment by distance, those before, those behind."""
    segment = here.segment_of(place)
    inside = [one for one in made if here.segment_of(one.start) == segment]
    inside.sort(key=lambda one: 0 if _leads_to(here, place, one) else min(
        abs(place - one.end), abs(one.start - place)) + 1)
    ahead = [one for one in reversed(made) if one.end <= place and one not in inside]
    behind = [one for one in made if one.start > place and one not in inside]
    return [*inside, *ahead, *behind]


def _leads_to(here: Statement, place: int, one: Mention) -> bool:
    """Whether a figure stands right before a thing: ``15 kW of strip heat``."""
    return one.start > place and here.between(place, one.start) in ("", "of")


def _count(here: Statement, made: Sequence[Mention], floors: int) -> None:
    for mark in here.of("count"):
        number = int(mark.value) if isinstance(mark.value, (int, float, str)) else 1
        one = _counted(here, made, mark)
        if one is not None and 0 < number < 21:
            one.count, one.counted = number, True
        elif one is not None and number == 0:
            one.gone = True
    for number, one in enumerate(made):
        tail = here.text[one.end:made[number + 1].start if number + 1 < len(made) else None]
        head = here.text[made[number - 1].end if number else 0:one.start]
        if one.counted:
            continue
        if _SECOND_ONE.search(tail):
            one.count, one.counted = 2, True
        elif _EACH_ITS.search(head) and number > 1:
            alike = [other for other in made[:number] if other.kind == made[number - 1].kind]
            one.count, one.counted = max(len(alike), made[number - 1].count), True
        elif _EVERY_FLOOR.search(tail):
            one.count, one.counted = floors, True
        elif _EACH.search(tail) and number and made[number - 1].counted and "with" in head:
            one.count, one.counted = made[number - 1].count, True
        elif _EACH.search(tail) and (doors := re.search(r"\b(\d)\s+(?:[a-z]+\s+)?(?:doors|bays)\b",
                                                        head)):
            one.count, one.counted = int(doors[1]), True
        elif re.search(r"\bone\s+(?:[\w-]+\s+){0,2}$", head) and (
                more := _ONE_MORE.findall(_OWN_ONE.sub("", tail.split(".")[0]))):
            one.count, one.counted = 1 + len(more), True


def _counted(here: Statement, made: Sequence[Mention], mark: Mark) -> Mention | None:
    """The thing that a number counts."""
    segment = here.segment_of(mark.start)
    behind = next((one for one in made if one.start >= mark.end), None)
    ahead = next((one for one in reversed(made) if one.end <= mark.start), None)
    said = here.text[mark.start:mark.end]
    if said.startswith("(") and ahead is not None and not here.text[ahead.end:mark.start].strip():
        return ahead
    if ahead is not None and re.fullmatch(
            r"s?\s*(?:[,:(-]|\bqty\b)?\s*", here.left[ahead.end:mark.start].replace(TAKEN, " ")) and _ENDS.match(
            here.left[mark.end:].replace(TAKEN, " ")) and not (
            behind is not None and here.segment_of(behind.start) == segment and "x" not in said):
        return ahead
    if behind is not None:
        gap = here.between(mark.end, behind.start)
        if said == "both" or said.startswith("(") or here.segment_of(behind.start) == segment:
            words = gap.replace("(", " ").replace(")", " ").split()
            if (len(words) <= 3 or said == "both") and not {"and", "or"} & set(words):
                return behind
    return None


def _size(here: Statement, made: Sequence[Mention], before: Sequence[Mention]) -> None:
    alone = not made
    for mark in here.of("plate"):
        near = [one for one in _near(here, made, mark.start) if one.kind != NOTHING or one.gone]
        near = near or (list(before[-1:]) if alone else [])
        which = _NUMBERED_UNIT.match(here.text) if alone else None
        if near and which:
            near[0].units.setdefault(int(which[1]), []).append((mark.key, mark.value))  # type: ignore[arg-type]
        elif near:
            near[0].plate.append((mark.key, mark.value))  # type: ignore[arg-type]
    for mark in here.of("size"):
        value, unit = mark.value  # type: ignore[misc]
        near = _near(here, made, mark.start) or (list(before[-1:]) if alone else [])
        fitting = [one for one in near if comes_in(one.kind, str(unit))
                   or size_for(one.kind, float(value), str(unit)) is not None]
        exact = [one for one in fitting[:1]] or near[:1]
        if fitting and exact and near and fitting[0] is not near[0] and near[0].kind == NOTHING \
                and here.segment_of(near[0].start) == here.segment_of(mark.start):
            continue  # the size of what is no load
        which = _NUMBERED_UNIT.match(here.text) if alone else None
        if fitting and which:
            keyed = size_for(fitting[0].kind, float(value), str(unit))
            fitting[0].units.setdefault(int(which[1]), []).extend([keyed] if keyed else [])
        elif fitting:
            if alone and any(size[0] == value for size in fitting[0].sizes):
                continue  # the one of that size is spoken of
            times = _times(here, made, mark)
            fitting[0].sizes += [(float(value), str(unit))] * times
            if times > 1 or fitting[0].shared:
                fitting[0].shared = True
                fitting[0].count = len(fitting[0].sizes)
    for one in made:
        alike = [size for size in one.sizes if size[1] == one.sizes[0][1]]
        if len(alike) > 1 and one.count == 1 and _THOUGHT.search(here.text):
            one.sizes, alike = alike[-1:], alike[-1:]
        if len(alike) > 1 and not one.counted and len(set(alike)) > 1:
            one.count = len(alike)


def _times(here: Statement, made: Sequence[Mention], mark: Mark) -> int:
    """How many there are of one size: ``three 6,000 btu, one 12,000 btu``."""
    segment = here.segment_of(mark.start)
    if any(here.segment_of(one.start) == segment for one in made):
        return 1
    number = next((one for one in here.of("count") if one.end <= mark.start and not
                   _OF_THEM.sub("", here.text[one.end:mark.start]).strip() and one.key != "both"), None)
    return int(number.value) if number is not None else 1  # type: ignore[arg-type]


def _fuel(here: Statement, made: Sequence[Mention], fuels: list[tuple[int, str]]) -> None:
    for one in made:
        for word, fuel in (("propane", "propane"), ("lp", "propane"), ("gas", "gas")):
            if re.search(rf"\b{word}\b", one.words):
                fuels.append((here.line, fuel))
                one.fuel = fuel
    for mark in here.of("fuel"):
        if mark.key != "electric" and mark.key != "oil":
            fuels.append((here.line, mark.key))
        so = _SO.match(here.text[mark.end:].lstrip(" ,and"))
        if so and (other := next((two for two in made if two.start > mark.end), None)) is not None \
                and takes_fuel(other):
            with_fuel(other, mark.key)
        if _FEEDS.match(here.text[mark.end:]):
            for other in made:
                if other.start > mark.end and takes_fuel(other):
                    with_fuel(other, mark.key)
            continue
        near = _near(here, made, mark.start)
        segment = here.segment_of(mark.start)
        one = next((one for one in near if takes_fuel(one) and (
            here.segment_of(one.start) == segment or _only_signs(here, one.end, mark.start))), None)
        if one is None and near and here.segment_of(near[0].start) == segment:
            one = near[0]
        if one is not None and takes_fuel(one):
            with_fuel(one, mark.key)


def _only_signs(here: Statement, start: int, end: int) -> bool:
    return start <= end and not any(sign.isalnum() for sign in here.between(start, end))


def _gone(here: Statement, made: Sequence[Mention]) -> None:
    for number, one in enumerate(made):
        head = here.text[:one.start]
        had = _HAD.search(head)
        if _NONE.search(head) or (had and ("but" in here.text[one.end:] or "used" in had[0])) or (number and made[number - 1].gone and re.fullmatch(
                r"\s*(?:,|or|nor|and no|, no)\s*", here.text[made[number - 1].end:one.start])):
            one.gone = True
    for match in _GONE.finditer(here.text):
        ahead = [one for one in made if one.end <= match.start()]
        behind = [one for one in made if one.start >= match.end()]
        if match[0] == "none" and not ahead:
            continue
        one = ahead[-1] if ahead else behind[0] if behind else None
        if one is not None:
            one.gone = True
        if _SO.match(here.text[match.end():].lstrip(" ,and")) and behind:
            behind[0].gone = True
    for match in _SO.finditer(here.text):
        ahead = [one for one in made if one.end <= match.start()]
        behind = [one for one in made if one.start >= match.end()]
        gone_before = _GONE.search(here.text[:match.start()]) is not None
        if behind and gone_before:
            behind[0].gone = True


def _spoken_of(
    here: Statement, made: Sequence[Mention], known: Sequence[Mention]
) -> dict[int, list[Mention]]:
    """Things of a statement that were there before, and which they are."""
    again: dict[int, list[Mention]] = {}
    for number, one in enumerate(made):
        earlier = [other for other in (*known, *made[:number])
                   if _same(other, one) and id(other) not in again]
        refers = one.definite or ((here.of("wish") or _IS.match(here.text[one.end:]))
                                  and not one.another)
        counted = one.counted and not here.text[:one.start].rstrip().endswith("both")
        fresh = one.another or counted or (bool(earlier) and bool(one.sizes) and all(
            other.sizes and other.sizes != one.sizes for other in earlier))
        if earlier and refers and not fresh:
            alike = [other for other in earlier if other.words.split()[-1] == one.words.split()[-1]]
            earlier = alike or earlier
            again[id(one)] = list(earlier)
            for key in one.plate:
                earlier[-1].plate.append(key)
            if one.sizes and not earlier[-1].sizes:
                earlier[-1].sizes = one.sizes
            if one.fuel and not earlier[-1].fuel:
                with_fuel(earlier[-1], one.fuel)
            earlier[-1].gone = earlier[-1].gone or one.gone
    return again


def _same(one: Mention, other: Mention) -> bool:
    """Whether two names may mean the same thing."""
    mine = {word.removesuffix("s") for word in one.words.replace("-", " ").split()}
    its = {word.removesuffix("s") for word in other.words.replace("-", " ").split()}
    if one.kind == other.kind:
        return its <= mine or one.kind not in OFTEN_SEVERAL
    return its <= mine and (one.kind in other.kind or other.kind in one.kind
                            or one.kind.split()[-1] == other.kind.split()[-1]
                            or SEVERAL in (one.kind, other.kind))


def _facts(here: Statement, found: Understood, fuels: list[tuple[int, str]]) -> None:
    for mark in here.of("fact"):
        found.facts.setdefault(mark.key, (here.line, mark.value))  # type: ignore[arg-type]
    if here.of("no gas"):
        fuels.append((here.line, "no gas"))
    burnt = [mark for mark in here.of("fuel") if mark.key in ("gas", "natural gas", "propane")]
    masked = here.left
    if burnt and _GAS_HEAT.search(_only_fuel(here, burnt)):
        found.heated_by, found.heated_line = burnt[0].key, here.line
    del masked


def _only_fuel(here: Statement, marks: Sequence[Mark]) -> str:
    """The text with only its fuels taken out."""
    text = here.text
    for mark in marks:
        text = f"{text[:mark.start]}{chr(0) * (mark.end - mark.start)}{text[mark.end:]}"
    return text


def _house_fuel(found: Understood, fuels: list[tuple[int, str]]) -> None:
    """Propane where it is spoken of and natural gas is not; gas alone is natural gas."""
    said = {fuel for _, fuel in fuels}
    if not said or "fuel" in found.facts:
        return
    line = fuels[0][0]
    if "natural gas" in said and "no gas" not in said:
        found.facts["fuel"] = line, "natural gas"
    elif "propane" in said:
        found.facts["fuel"] = line, "propane"
    elif "gas" in said and "no gas" not in said:
        found.facts["fuel"] = line, "natural gas"


def _floors(text: str) -> int:
    known = _FLOORS.search(text)
    return int(known[1]) if known else USUAL_FLOORS


def loads_of(found: Understood) -> Iterator[Mention]:
    """The things that are loads."""
    return (one for one in found.mentions if one.is_load)
