"""Whatever stands in a file, reading ends in a home or in findings, never in a traceback."""

from __future__ import annotations

import copy
import tomllib

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.case.read import read_home
from planner.errors import CaseError, Severity
from tests.case.files import HEAD, load_text

TEXT = HEAD + """
[wishes]
never_before = [["dryer", "air"]]
[limits]
allowed_dip = "20 %"
""" + "".join([
    load_text("air", "central air conditioner", 'size = "3 ton"', 'requires = ["blower"]',
              'locked_rotor = "82 A"', "[loads.use.summer]", 'kind = "cooling"',
              'balance = "68 degF"'),
    load_text("blower", "furnace blower"),
    load_text("dryer", "electric dryer", 'wait = "4 h"', 'connections = ["direct", "module"]',
              "[loads.use.every]", 'kind = "events"', 'events = ["18:00 + 45 min"]'),
    load_text("saw", "workshop tools", 'running = "1 kW"',
              'surge = [{for = "0.3 s", kw = "2 kW", kva = "6 kVA"}]'),
])
WHOLE = tomllib.loads(TEXT)
JUNK = st.one_of(
    st.none(), st.booleans(), st.integers(-10, 10_000), st.floats(allow_nan=False),
    st.text(max_size=8), st.sampled_from(["3 kW", "5 A", "-1 h", "summer", "air", "1 kVA", "0 %"]),
    st.lists(st.one_of(st.text(max_size=4), st.integers()), max_size=3),
    st.dictionaries(st.sampled_from(["kind", "id", "size", "x"]), st.integers(), max_size=2),
)


def paths(value, path=()):
    """Every path of a nested value, tables and lists included."""
    if path:
        yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(
        value, list) else ()
    for key, inner in items:
        yield from paths(inner, (*path, key))


def spoil(raw, path, junk):
    """Put junk at a path, or take its value out; an earlier spoil may have taken the place away."""
    here = raw
    for step in path:
        fits = isinstance(here, dict) and step in here
        if not fits and not (isinstance(here, list) and isinstance(step, int) and step < len(here)):
            return
        parent, here = here, here[step]
    if junk is None:
        del parent[path[-1]]
    else:
        parent[path[-1]] = junk


def outcome(path):
    """Read a home, or give None with the findings of its refusal."""
    try:
        return read_home(path)
    except CaseError as refusal:
        return None, refusal.findings


@settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(spoils=st.lists(st.tuples(st.sampled_from(list(paths(WHOLE))), JUNK),
                       min_size=1, max_size=3))
def test_a_spoiled_file_gives_a_home_or_findings(tmp_path, spoils):
    """Values replaced by junk, or taken out, give findings with an error, or a home."""
    raw = copy.deepcopy(WHOLE)
    for path, junk in spoils:
        spoil(raw, path, junk)
    path = tmp_path / "house.toml"
    path.write_text(tomlkit.dumps(raw), encoding="utf-8")
    home, findings = outcome(path)
    wrong = any(finding.severity is Severity.ERROR for finding in findings)
    assert wrong == (home is None)
    assert home is None or home.loads


def test_the_whole_file_is_a_home(tmp_path):
    """Unspoiled, the file reads without an error: the spoils are what is refused above."""
    path = tmp_path / "house.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert len(read_home(path)[0].loads) == 4
