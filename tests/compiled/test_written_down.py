"""What the build writes for the compiler: the body as it is, with types, numbers and C names."""

from __future__ import annotations

import textwrap

import pytest

from loops_compile import BuildError, build, headers_apart, place
from loops_cython import cython_text
from loops_source import Sources
from loops_types import CannotCompileError

HEAD = "from planner.compiled import compiled\nfrom planner.arrays import FloatRows, Floats, Ints\n"


def written(tmp_path, text, **others):
    """Write a package with the module `one` and others, and what the build makes of it."""
    package = tmp_path / "planner"
    package.mkdir(exist_ok=True)
    for name, body in {"one": HEAD + textwrap.dedent(text), **others}.items():
        (package / f"{name}.py").write_text(textwrap.dedent(body), "utf-8")
    return cython_text(Sources(tmp_path))


def body_of(text, name):
    """Give the lines of one C function."""
    after = text.split(f"c_{name}(", 1)[1].split(" noexcept nogil:\n", 1)[1]
    return textwrap.dedent(after.split("\n\n", 1)[0]).splitlines()


def test_numbers_stand_in_the_place_of_names(tmp_path):
    """Constants of the file, of another file, of a module, computed ones and unpacked ones."""
    text = written(tmp_path, """
        from planner import two
        from planner.two import HALF as SHARE

        FIRST, SECOND = range(2)

        @compiled
        def take(x: float) -> float:
            return x * SHARE + two.LOW - SECOND
        """, two="HALF = 1.0 / 2.0\nLOW = -3\n")
    assert body_of(text, "one__take") == ["return x * 0.5 + -3 - 1"]


def test_a_local_hides_a_constant(tmp_path):
    """An argument or a local keeps its name, whatever the file calls so."""
    text = written(tmp_path, """
        x = 5

        @compiled
        def same(x: int) -> int:
            return x
        """)
    assert body_of(text, "one__same") == ["return x"]


def test_arrays_are_counted_through(tmp_path):
    """``for x in array`` works on an array, on a row of one, and on a field of a named tuple."""
    text = written(tmp_path, """
        from typing import NamedTuple

        class Box(NamedTuple):
            row: Ints
            table: FloatRows

        @compiled
        def total(box: Box, i: int) -> float:
            found = 0.0
            mine = box.row
            for k in mine:
                found += k
            for x in box.table[i]:
                found += x
            return found * mine.size
        """)
    assert "    cdef long long[::1] row\n    cdef double[:, ::1] table\n" in text
    assert body_of(text, "one__total") == [
        "cdef long long at_0", "cdef long long at_2", "cdef long long k", "cdef long long x",
        "found = 0.0",
        "for at_0 in range(box.row.shape[0]):", "    k = box.row[at_0]", "    found += k",
        "for at_2 in range(box.table.shape[1]):", "    x = box.table[i, at_2]", "    found += x",
        "return found * box.row.shape[0]"]


def test_two_files_may_use_one_name(tmp_path):
    """Functions of the same name in two files stay apart, and each calls its own."""
    other = HEAD + "@compiled\ndef go(x: float) -> float:\n    return x\n"
    text = written(tmp_path, """
        from planner.two import go as other

        @compiled
        def go(x: float) -> float:
            return other(x) + 1.0
        """, two=other)
    assert body_of(text, "one__go") == ["return c_two__go(x) + 1.0"]


@pytest.mark.parametrize(("text", "what"), [
    ("def go(x: float) -> float:\n    return hypot(x)", "one.py:6: hypot is neither local"),
    ("def go(x) -> float:\n    return x", "planner.one.go: no annotation is no type"),
    ("def go(x: str) -> float:\n    return 1.0", "planner.one.go: str is no type"),
    ("def go(x: float) -> float:\n    for y in x:\n        return y", "one.py:6: x is no array"),
])
def test_what_the_loops_cannot_hold_is_refused_with_its_place(tmp_path, text, what):
    """The build says file, line and what is wrong, before the compiler sees it."""
    with pytest.raises(CannotCompileError, match=what.replace(".", r"\.")):
        written(tmp_path, f"\n@compiled\n{text}\n")


def test_missing_headers_are_said_with_the_package_that_brings_them(tmp_path, monkeypatch):
    """Before anything is compiled the build says what is missing and where it comes from."""
    monkeypatch.setattr("sysconfig.get_path", lambda _name: str(tmp_path))
    with pytest.raises(BuildError, match=r"Python's C headers are missing .*-dev"):
        build(tmp_path)


def test_headers_that_debian_keeps_apart_are_found(tmp_path, monkeypatch):
    """Its pyconfig.h is found by the name that the other one includes, and nothing else is."""
    monkeypatch.setattr("sysconfig.get_config_var", lambda _name: "some-linux-gnu")
    headers, room = tmp_path / "include" / "python3.11", tmp_path / "room"
    beside = tmp_path / "include" / "some-linux-gnu" / "python3.11"
    for one in (headers, beside, room):
        one.mkdir(parents=True)
    assert not list(headers_apart(headers, room).iterdir())
    (beside / "pyconfig.h").write_text("#define HERE", "utf-8")
    apart = headers_apart(headers, room)
    assert (apart / "some-linux-gnu/python3.11/pyconfig.h").read_text("utf-8") == "#define HERE"
    assert [one.name for one in apart.iterdir()] == ["some-linux-gnu"]


def test_what_the_loops_cannot_hold_ends_the_build_and_leaves_no_old_extension(
        tmp_path, monkeypatch):
    """An extension of before is gone if the build fails, so none can be taken for a new one."""
    written(tmp_path, "")
    (tmp_path / "planner" / "one.py").write_text(
        f"{HEAD}@compiled\ndef go(x: float) -> float:\n    return hypot(x)\n", "utf-8")
    (tmp_path / "Python.h").touch()
    monkeypatch.setattr("sysconfig.get_path", lambda _name: str(tmp_path))
    old = place(tmp_path)
    old.touch()
    with pytest.raises(BuildError, match=r"one.py:5: hypot"):
        build(tmp_path)
    assert not old.exists()
