"""From pydantic's errors to findings in our own sentences, all of them at once.

`validate` reads what can be read: it takes a refused value out and tries again, so that one bad
key does not hide the next.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ConfigDict, ValidationError

from planner.case.fields import Refused, did_you_mean
from planner.errors import Finding, Severity
from planner.quoting import quoted, shortened
from planner.units import UnitError

TABLE = "Write its name in brackets, and its keys and values on the lines below."
LONGEST_PART = 250
"""Characters of a part of a place: a name of the longest that is allowed, and its table."""
_KINDS = {
    "dict_type": "a table is expected.",
    "model_type": "a table is expected.",
    "list_type": "a list is expected.",
    "string_type": "text between quotation marks is expected.",
}


class Strict(BaseModel):
    """A table of a file: unknown keys are errors, nothing is converted silently."""

    model_config = ConfigDict(extra="forbid", strict=True, arbitrary_types_allowed=True,
                              frozen=True)


Path = tuple[int | str, ...]
Table = TypeVar("Table", bound=Strict)


def error(where: str, sentence: str, remedy: str = "") -> Finding:
    """Make an error finding."""
    return Finding(Severity.ERROR, where, sentence, remedy)


def warning(where: str, sentence: str, remedy: str = "") -> Finding:
    """Make a warning finding."""
    return Finding(Severity.WARNING, where, sentence, remedy)


def note(where: str, sentence: str, remedy: str = "") -> Finding:
    """Make a note finding."""
    return Finding(Severity.NOTE, where, sentence, remedy)


def place(*parts: object) -> str:
    """Join the parts of a place: file, load, key; each at most `LONGEST_PART` long."""
    joined = ": ".join(str(part) for part in parts if part not in ("", None))
    return ": ".join(shortened(part, LONGEST_PART) for part in joined.split(": "))


def places_around(findings: Iterable[Finding]) -> frozenset[str]:
    """Places of findings, and of what they are parts of: ``use.every.hours`` is part of ``use``."""
    return frozenset(one.where[:end] for one in findings
                     for end, sign in enumerate(f"{one.where}.") if sign == ".")


def validate(
    model: type[Table], raw: object, where: str
) -> tuple[Table | None, tuple[Finding, ...]]:
    """Read one table, collecting every finding.

    Parameters
    ----------
    model : type of Strict
        What the table must look like.
    raw : object
        The table as the TOML parser gave it; left as it is.
    where : str
        File and item, for the findings.

    Returns
    -------
    tuple
        The table without its refused keys, None if what is left is not enough; the findings.
    """
    if not isinstance(raw, dict):
        return None, (error(where, f"{quoted(raw)} stands where a table is expected.", TABLE),)
    rest = copy.deepcopy(raw)
    findings: dict[Finding, None] = {}
    taken_out: set[Path] = set()
    for _ in range(8):  # a refused value can uncover another below it; never deeper than the file
        try:
            return model.model_validate(rest), tuple(findings)
        except ValidationError as problem:
            details = problem.errors(include_url=False)
        for detail in details:
            if tuple(detail["loc"]) not in taken_out:  # the second time it is merely missing
                findings[_finding(detail, model, where)] = None
        paths = [_what_to_take_out(detail) for detail in details]
        taken_out.update(paths)
        if not _take_out(rest, paths):
            break
    return None, tuple(findings)


def _finding(detail: Mapping[str, Any], model: type[Strict], where: str) -> Finding:
    key = ".".join(_step(step) for step in detail["loc"])
    cause = detail.get("ctx", {}).get("error")
    if isinstance(cause, UnitError | Refused):
        return error(place(where, key), cause.sentence, cause.remedy)
    if detail["type"] == "missing":
        return error(place(where, key), "this key is missing.", _missing_remedy(detail, where))
    if detail["type"] == "extra_forbidden":
        allowed = _keys_at(model, detail["loc"][:-1])
        name = str(detail["loc"][-1])
        hint = did_you_mean(name, allowed) or f"Keys here: {', '.join(allowed)}."
        return error(place(where, key), "there is no such key.", hint)
    expected = _KINDS.get(detail["type"], "something else is expected.")
    return error(place(where, key), f"{quoted(detail['input'])} stands where {expected}")


def _missing_remedy(detail: Mapping[str, Any], where: str) -> str:
    return f"Add {detail['loc'][-1]} to {where.rsplit(': ', maxsplit=1)[-1]}."


def _step(step: int | str) -> str:
    return f"item {step + 1}" if isinstance(step, int) else str(step)


def _keys_at(model: type[BaseModel], path: Iterable[int | str]) -> list[str]:
    """Keys that the table at a path takes; indices and free keys lead into the same table."""
    here = model
    for step in path:
        if isinstance(step, str) and step in here.model_fields:
            here = _table_in(here.model_fields[step].annotation) or here
    return [field.alias or name for name, field in here.model_fields.items()]


def _table_in(kind: object) -> type[BaseModel] | None:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return kind
    return next((table for part in get_args(kind) if (table := _table_in(part))), None)


def _what_to_take_out(detail: Mapping[str, Any]) -> Path:
    """Path of a refused value; of the table around it where a key is missing in an inner table."""
    path = tuple(detail["loc"])
    return path[:-1] if detail["type"] == "missing" and len(path) > 1 else path


def _take_out(raw: dict[str, Any], paths: list[Path]) -> bool:
    """Remove the values at the paths; whether anything was removed."""
    removed = False
    for path in sorted(paths, key=lambda steps: [str(step).zfill(6) for step in steps],
                       reverse=True):
        here: Any = raw
        for step in path[:-1]:
            try:
                here = here[step]
            except (KeyError, IndexError, TypeError):
                here = None
                break
        last = path[-1]
        in_table = isinstance(here, dict) and last in here
        in_list = isinstance(here, list) and isinstance(last, int) and last < len(here)
        if in_table or in_list:
            del here[last]
            removed = True
    return removed
