"""Write the loops down for the compiler: each marked function as a C function with typed arguments.

Beside each stands a door of the same name: what Python calls, with arrays and named tuples, or with
views of named tuples that were made before.
"""

from __future__ import annotations

import ast

from loops_body import Body
from loops_source import Module, Sources
from loops_types import Types, name_of

HEAD = '''# cython: language_level=3, boundscheck=False, wraparound=False, initializedcheck=False
# cython: cdivision=True, infer_types=True, annotation_typing=False, embedsignature=False
"""The loops of the planner, written by the build from the functions marked `@compiled`."""
from libc.math cimport INFINITY, ceil, exp, floor, log, sqrt

SOURCES = {sources!r}

cdef inline long long whole(double x) noexcept nogil:
    return <long long>x

cdef inline bint truth(bint x) noexcept nogil:
    return x

cdef inline double real(double x) noexcept nogil:
    return x

cdef inline long long ceiling(double x) noexcept nogil:
    return <long long>ceil(x)

cdef inline long long ground(double x) noexcept nogil:
    return <long long>floor(x)

cdef inline float single(double x) noexcept nogil:
    return <float>x
'''


def cython_text(sources: Sources) -> str:
    """Write all loops as one file for Cython."""
    types = Types(sources)
    functions, doors = [], []
    for module in sources.marked_modules():
        for node in module.marked():
            function, door = _function(types, module, node)
            functions.append(function)
            doors.append(door)
    head = HEAD.format(sources=sources.digests())
    return "\n\n".join([head, *types.views.values(), *functions, *doors]) + "\n"


def _function(types: Types, module: Module, node: ast.FunctionDef) -> tuple[str, str]:
    """Write a function in C, and the door to it."""
    where = f"{module.name}.{node.name}"
    kinds = {one.arg: types.c_type(module, one.annotation, where) for one in node.args.args}
    gives = types.c_type(module, node.returns, where)
    name = name_of(module, node.name)
    arguments = ", ".join(f"{kind} {arg}" for arg, kind in kinds.items())
    body = Body(types, module, node).lines()
    text = f"cdef {gives} c_{name}({arguments}) noexcept nogil:\n{body}"
    return text, _door(name, kinds, gives)


def _door(name: str, kinds: dict[str, str], gives: str) -> str:
    """Write what Python calls: arguments become C's, other threads may run meanwhile."""
    taken = ", ".join(arg if kind.startswith("View_") else f"{kind} {arg}"
                      for arg, kind in kinds.items())
    views = [f"    cdef {kind} c_{arg} = {arg} if type({arg}) is {kind} else {kind}({arg})"
             for arg, kind in kinds.items() if kind.startswith("View_")]
    passed = ", ".join(f"c_{arg}" if kind.startswith("View_") else arg
                       for arg, kind in kinds.items())
    answer = "" if gives == "void" else "answer = "
    lines = [f"def {name}({taken}):", *views]
    if answer:
        lines.append(f"    cdef {gives} answer")
    lines += ["    with nogil:", f"        {answer}c_{name}({passed})"]
    if answer:
        lines.append("    return answer")
    return "\n".join(lines)
