"""A family's text made plain: signs, fractions, numbers in words, slips of the keyboard."""

from __future__ import annotations

import re
from functools import cache
from itertools import takewhile

from rapidfuzz import fuzz, process
from spellchecker import SpellChecker

from planner.editing.family.names import vocabulary

_SIGNS = {"–": " - ", "—": " - ", "−": "-", "’": "'", "‘": "'", "“": '"', "”": '"', "×": " x ",
          "•": " ", "·": " ", "\u00a0": " ", "″": '"', "&": " and "}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_UNITS = {word: number for number, word in enumerate((
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"))}
_TENS = {word: 10 * number for number, word in enumerate((
    "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"), start=2)}
_TIMES = {"hundred": 100, "thousand": 1000}
_NUMBER = "|".join((*_UNITS, *_TENS, *_TIMES))
_SPELT = re.compile(rf"\b(?:{_NUMBER})(?:[\s-]+(?:and\s+)?(?:{_NUMBER}))*\b")
_PARTS = {"half": "1/2", "third": "1/3", "quarter": "1/4"}
_PART = re.compile(r"\b(?:(?P<whole>\d+)\s+and\s+)?(?:a\s+|an\s+|one[\s-]+|1[\s-]+)?"
                   r"(?P<part>half|third|quarter)(?:\s+(?:of\s+)?a)?(?=[\s-]+(?:hp|horse|ton))")
_AND_PART = re.compile(r"\b(\d+)\s+and\s+(?:a|one)\s+(half|quarter)\b")
_SHORTENED = re.compile(r"\b((?i:approx|ea|incl|no|ft|hp|gal|amp|htr|min|max))\.(?=\s+[a-z0-9(]|,)")
_SAID = tuple((re.compile(pattern), written) for pattern, written in (
    (r"\bw\s?/\s?d\b", "washer, dryer"),
    (r"\bw/(?=\s)", "with"),
    (r"\bthree[\s-]+quarters?(?:\s+of(?:\s+an?)?)?\b", "3/4"),
    (r"\b(?:one|a)\s+and\s+a\s+half\b", "1 1/2"),
    (r"\b(\d+(?:\.\d+)?\s?kw)\s+(?:of\s+)?(?:electric\s+)?heat\b(?!\s+(?:pump|tape|strip))",
     r"\1 heat strips"),
    (r"\bone (?=hp\b|horse|ton\b|kw\b|kilowatt)", "1 "),
    (r"\b(?:minus|negative) (?=\d)", "-"),
    (r"\bwater heater is (?:an?|the) ((?:[\d.]+[\s-]*gal(?:lons?)?\s+)?)(?:hybrid|heat pump)"
     r"(?: heat pump)?(?: one| type| kind| model| unit)?\b", r"\1heat pump water heater"),
    (r"\b(\d[\d,.]*) (and|or|&) (\d[\d,.]*)\s?(btuh?|tons?|hp|gal(?:lons?)?|watts|kw)\b",
     r"\1 \4 \2 \3 \4"),
))
_THOUSANDS = re.compile(r"\b(\d{1,3}(?:\.\d+)?)\s*(?:thousand|grand)\b")
_NUMBERED = re.compile(r"^\s*\d{1,2}[.)]\s+", re.MULTILINE)
LEAST_NUMBERED = 3
_TYPED = re.compile(r"[a-z']+")
SURE = 78.0
"""Of 100: so alike is a slip of the keyboard to the word that was meant (chosen; shorter words have
to be more alike)."""
SHORT, SURE_IF_SHORT, SURE_BETWEEN = 5, 85.0, 75.0
"""Of words of four letters one may be another, if not the first or the last."""
LEAST_LETTERS = 3


def plain(text: str) -> str:
    """Write a text in small letters, plain signs and digits, and with its slips mended."""
    for sign, written in _SIGNS.items():
        text = text.replace(sign, written)
    for sign, written in _FRACTIONS.items():
        text = re.sub(rf"(\d)\s?{sign}", rf"\1 {written}", text).replace(sign, written)
    text = _SHORTENED.sub(r"\1", text)
    text = text.casefold()
    text = re.sub(r"\bsq\.\s*ft\b\.?", "sq ft", text)
    text = _TYPED.sub(lambda match: mended(match[0]), text)
    for pattern, written in _SAID:
        text = pattern.sub(written, text)
    text = _SPELT.sub(_in_digits, text)
    text = _THOUSANDS.sub(lambda match: f"{float(match[1]) * 1000:.0f}", text)
    text = _NUMBERED.sub("", text) if len(_NUMBERED.findall(text)) >= LEAST_NUMBERED else text
    text = _AND_PART.sub(lambda match: f"{match[1]} {_PARTS[match[2]]}", text)
    return _PART.sub(lambda match: f"{match['whole'] or ''} {_PARTS[match['part']]}".strip(), text)


@cache
def mended(word: str) -> str:
    """Give the word that was meant: a known one for a slip that is in no dictionary."""
    if len(word) < LEAST_LETTERS or word in vocabulary() or word.removesuffix("s") in vocabulary():
        return word
    if is_english(word):
        return word
    found = process.extractOne(word, vocabulary(), scorer=fuzz.ratio,
                               score_cutoff=SURE_IF_SHORT if len(word) < SHORT else SURE)
    if found is None and len(word) == SHORT - 1:
        within = [one for one in vocabulary() if (one[0], one[-1]) == (word[0], word[-1])]
        found = process.extractOne(word, within, scorer=fuzz.ratio, score_cutoff=SURE_BETWEEN)
    return word if found is None else str(found[0])


@cache
def is_english(word: str) -> bool:
    """Whether a word stands in a dictionary of English, and so is no slip of another."""
    return word in _dictionary()


@cache
def _dictionary() -> SpellChecker:
    return SpellChecker(language="en", distance=1)


def _in_digits(match: re.Match[str]) -> str:
    """Write ``twenty-four hundred`` as 2400; a single ``one`` stays a word."""
    words = re.findall(r"[a-z]+", match[0])
    if words in (["one"], ["hundred"], ["thousand"]):
        return match[0]
    if len(words) > 1 and all(word in _UNITS for word in words):  # "one three ton", "two two ton"
        return " ".join(word if word == "one" else str(_UNITS[word]) for word in words)
    whole, here = 0, 0
    for word in words:
        if word in _TIMES:
            here = max(here, 1) * _TIMES[word]
            whole, here = (whole + here, 0) if word == "thousand" else (whole, here)
        elif word != "and":
            here += _UNITS.get(word, _TENS.get(word, 0))
    return str(whole + here)


def statements(text: str) -> list[tuple[int, str]]:
    """Cut a text into statements: lines, and the sentences of a line, each with its line's number.

    An empty one stands for a blank line. A line that goes on in small letters is joined.
    """
    found: list[tuple[int, str]] = []
    for number, line in _unwrapped(text):
        parts = [part.strip() for part in _SENTENCE.split(line) if part.strip(" \t-*.")]
        found += [(number, part) for part in parts] or [(number, "")]
    return found


def _unwrapped(text: str) -> list[tuple[int, str]]:
    """Lines with their numbers; a paragraph whose lines are all long but the last is one line."""
    found: list[tuple[int, str]] = []
    lines = list(enumerate(text.splitlines(), start=1))
    while lines:
        paragraph = list(takewhile(lambda one: one[1].strip(), lines))
        lines = lines[len(paragraph):]
        goes_on = [line for _, line in paragraph[:-1]]
        if goes_on and all(len(line) > WRAPPED_AT for line in goes_on):
            found.append((paragraph[0][0], " ".join(line.strip() for _, line in paragraph)))
        else:
            found += paragraph
        if lines:
            found.append(lines.pop(0))
    return found


WRAPPED_AT = 55  # characters: shorter lines are a list's (a choice)
_SENTENCE = re.compile(r"(?<=[.!?])(?<!\bsq\.)(?<!\bft\.)(?<!\bapprox\.)(?<!\bea\.)\s+(?=\S)|;\s*")
