"""How much of a family's list is understood, held against what a careful estimator understands."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.editing.any_list import read_any
from planner.editing.lists import Listed
from planner.errors import CaseError

NEAR = 0.02  # of a size
FAR = 20  # characters
CARRIED = 0.8  # of its breaker by a charger (NEC 625.42)
UNIT = {"ton": "ton", "kW": "kW", "hp": "hp", "gal": "gal", "A": "A", "kBtu/h": "kBtu/h",
        "ft^2": "ft^2"}
KEYS = ("breaker", "mca", "mop", "locked_rotor", "running", "code_letter", "year", "eer")
WISHES = {"must run": ("must_run", True), "matters most": ("importance", 5),
          "can wait": ("importance", 1), "don't care": ("importance", 0)}
LIT = "lighting and receptacles"


@dataclass
class Score:
    """Loads right of loads there are or were read; other facts right of those there are."""

    loads: int = 0
    of_loads: int = 0
    facts: int = 0
    of_facts: int = 0
    wrong: tuple[str, ...] = ()

    def __add__(self, other: Score) -> Score:
        return Score(self.loads + other.loads, self.of_loads + other.of_loads,
                     self.facts + other.facts, self.of_facts + other.of_facts,
                     (*self.wrong, *other.wrong))


def lists_in(folder: Path) -> list[tuple[str, dict[str, Any]]]:
    """Every list of a folder, by name."""
    return [(path.stem, tomllib.loads(path.read_text("utf-8")))
            for path in sorted(folder.glob("*.toml"))]


def score(name: str, told: Mapping[str, Any]) -> Score:
    """Hold what is read of a list against its answers."""
    try:
        listed = read_any(told["text"], "the list")
    except CaseError:
        listed = Listed((), ())
    rows = [dict(row) for row in _units(listed) if row["kind"] != LIT]
    answers, pairs, free = list(told.get("loads", [])), [], rows
    for exact in (3, 2, 1, 0):  # the closest first
        for answer in list(answers):
            match = next((row for row in free if _alike(row, answer) >= exact
                          and row["kind"] in answer["kind"]), None)
            if match is not None:
                pairs.append((answer, match))
                free = [row for row in free if row is not match]
                answers = [one for one in answers if one is not answer]
    right = [(answer, row) for answer, row in pairs if _sized(row, answer)]
    wrong = [f"{name}: missing {answer['kind'][0]} {answer.get('size', '')}" for answer in answers]
    wrong += [f"{name}: too much: {row['kind']} ({row.get('label')})" for row in free]
    wrong += [f"{name}: size of {answer['kind'][0]}: {row.get('size')} for {answer.get('size')}"
              for answer, row in pairs if not _sized(row, answer)]
    facts = list(_facts(told, listed, pairs, rows))
    wrong += [f"{name}: {said}" for said, good in facts if not good]
    return Score(len(right), len(told.get("loads", [])) + len(free),
                 sum(good for _, good in facts), len(facts), tuple(wrong))


def _units(listed: Listed) -> Iterator[Mapping[str, Any]]:
    """Rows, with the stages of electric heat put together again."""
    for row in listed.rows:
        stage = str(row.get("stage", "1 of 1"))
        if stage.startswith("1 of"):
            count = int(stage.rsplit(maxsplit=1)[-1])
            amount, _, unit = str(row.get("size", "")).partition(" ")
            whole = {"size": f"{float(amount) * count:g} {unit}"} if count > 1 and unit else {}
            yield {**row, **whole}


def _alike(row: Mapping[str, Any], answer: Mapping[str, Any]) -> int:
    """How much besides the kind two have in common."""
    plate = all(_equal(row.get(key), answer[key]) for key in KEYS if key in answer)
    return _sized(row, answer) + plate + _wished(row, answer)


def _sized(row: Mapping[str, Any], answer: Mapping[str, Any]) -> bool:
    size = row.get("size")
    if row["kind"] == "vehicle charger" and size is None and "breaker" in row:
        size = f"{CARRIED * magnitude_of(row['breaker'])[0]:g} A"
    if "size" not in answer:
        return size is None or "breaker" in answer
    return size is not None and _equal(size, answer["size"])


def _wished(row: Mapping[str, Any], answer: Mapping[str, Any]) -> bool:
    if "wish" not in answer:
        return "must_run" not in row and "importance" not in row
    key, value = WISHES[answer["wish"]]
    return row.get(key) == value


def _equal(mine: object, its: object) -> bool:
    if isinstance(mine, str) and isinstance(its, str) and its[0] in "-0123456789":
        (a, unit), (b, other) = magnitude_of(mine), magnitude_of(its)
        return unit == other and abs(a - b) <= NEAR * abs(b)
    return mine == its


def _together(words: list[str], text: str) -> list[list[str]]:
    """Words of one phrase, which stand close to each other; each of them stands for it."""
    groups: list[list[str]] = []
    last = -FAR
    for word in sorted(map(str.casefold, words), key=text.index):
        if text.index(word) - last > FAR:
            groups.append([])
        groups[-1].append(word)
        last = text.index(word)
    return groups


def magnitude_of(text: object) -> tuple[float, str]:
    """A number and its unit; watts are written in thousands."""
    amount, _, unit = str(text).partition(" ")
    value = float(amount)
    return (value / 1000.0, "kW") if unit == "W" else (value, unit)


def _facts(
    told: Mapping[str, Any], listed: Listed, pairs: list[tuple[Any, Any]], rows: list[Any]
) -> Iterator[tuple[str, bool]]:
    house = {key: value for (_, key), value in listed.house}
    for key, value in told.get("facts", {}).items():
        if key == "budget":
            usd = getattr(listed, "budget_usd", None)
            yield f"budget {usd} for {value}", usd == float(value.split()[0])
        else:
            yield f"{key} {house.get(key)} for {value}", _equal(house.get(key), value)
    for answer, row in pairs:
        for key in KEYS:
            if key in answer:
                yield (f"{key} of {answer['kind'][0]} {row.get(key)} for {answer[key]}",
                       _equal(row.get(key), answer[key]))
        if "wish" in answer:
            yield f"wish {answer['wish']} of {answer['kind'][0]}", _wished(row, answer)
        elif not _wished(row, answer):
            yield f"no wish of {answer['kind'][0]}", False
    in_sight = "\n".join(listed.not_read).casefold()
    for words in _together(told.get("left_over", []), told["text"].casefold()):
        yield f"{words} in sight", any(word in in_sight for word in words)
    if told.get("unreadable"):
        yield "said to be no list", len(rows) <= 1 and len(listed.findings) <= 2
