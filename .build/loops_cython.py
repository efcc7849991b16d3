"""Write the loops down for the compiler: each marked function as a C function with typed arguments.

The body of a function stays what it is; only what C has no notion of is replaced. Constants become
their values, ``for x in array`` counts through the array, ``array.size`` is its first extent. Of a
named tuple the loops see a *view*: the same fields with their C types, on the same arrays.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from math import isinf
from typing import TypeVar

from loops_source import Module, Sources, is_marked, is_named_tuple

NUMBERS = {"int": "long long", "float": "double", "bool": "bint", "None": "void"}
ELEMENTS = {"Float": "double", "Single": "float", "Int": "long long", "Bool": "unsigned char",
            "Byte": "signed char", "Octet": "unsigned char", "Key": "unsigned long long"}
ARRAYS = {name + end: (element, axes) for name, element in ELEMENTS.items()
          for end, axes in (("s", 1), ("Rows", 2), ("Blocks", 3))}
"""Array types of `planner.arrays` -> C type of an element, number of axes."""

FROM_NUMPY = {"inf": "INFINITY", "sqrt": "sqrt", "exp": "exp", "ceil": "ceil", "floor": "floor"}
FROM_MATH = {"sqrt": "sqrt", "exp": "exp", "log": "log", "ceil": "ceiling", "floor": "ground"}
CASTS = {"int": "whole", "float": "real", "float32": "single"}

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


Node = TypeVar("Node", bound=ast.AST)


class CannotCompileError(Exception):
    """Something in a marked function that the loops may not hold."""


def cython_text(sources: Sources) -> str:
    """Write all loops as one file for Cython."""
    modules = sources.marked_modules()
    writer = _Writer(sources)
    for module in modules:
        for node in module.marked():
            writer.function(module, node)
    head = HEAD.format(sources=sources.digests())
    return "\n\n".join([head, *writer.views.values(), *writer.functions, *writer.doors]) + "\n"


def name_of(module: Module, name: str) -> str:
    """Give the name under which a function or a view stands among all loops."""
    return f"{module.name.partition('.')[2].replace('.', '_')}__{name}"


class _Writer:
    """Collects views, C functions and the doors through which Python calls them."""

    def __init__(self, sources: Sources) -> None:
        self.sources = sources
        self.views: dict[str, str] = {}
        self.functions: list[str] = []
        self.doors: list[str] = []

    def c_type(self, module: Module, annotation: ast.expr | None, where: str) -> str:
        """Give the C type that an annotation stands for."""
        text = ast.unparse(annotation) if annotation is not None else ""
        if text in NUMBERS:
            return NUMBERS[text]
        if text in ARRAYS:
            element, axes = ARRAYS[text]
            return f"{element}[{', '.join([':'] * (axes - 1) + ['::1'])}]"
        if isinstance(annotation, ast.Subscript) and ast.unparse(annotation.value) == "tuple":
            parts = annotation.slice.elts if isinstance(annotation.slice, ast.Tuple) else [
                annotation.slice]
            return f"({', '.join(self.c_type(module, part, where) for part in parts)})"
        found = self.sources.find(module, text)
        if found is None or not is_named_tuple(found[1]):
            msg = f"{where}: {text or 'no annotation'} is no type that the loops know."
            raise CannotCompileError(msg)
        return self._view(*found)

    def fields(self, module: Module, annotation: ast.expr | None) -> dict[str, ast.expr] | None:
        """Give the annotations of the fields if an annotation is a named tuple."""
        found = self.sources.find(module, ast.unparse(annotation)) if annotation else None
        if found is None or not isinstance(found[1], ast.ClassDef) or not is_named_tuple(found[1]):
            return None
        return {one.target.id: one.annotation for one in found[1].body
                if isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name)}

    def home_of(self, module: Module, annotation: ast.expr) -> Module:
        """Give the module in which a named tuple is defined."""
        found = self.sources.find(module, ast.unparse(annotation))
        return found[0] if found else module

    def _view(self, module: Module, node: ast.FunctionDef | ast.ClassDef) -> str:
        name = f"View_{name_of(module, node.name)}"
        if name not in self.views:
            self.views[name] = ""  # a named tuple cannot hold itself
            annotation = ast.Name(node.name)
            lines = [f"cdef class {name}:"]
            setting = []
            for field, its in (self.fields(module, annotation) or {}).items():
                kind = self.c_type(module, its, f"{module.name}.{node.name}.{field}")
                lines.append(f"    cdef {kind} {field}")
                given = f"given.{field}"
                setting.append(f"        self.{field} = " + (
                    f"{kind}({given})" if kind.startswith("View_") else given))
            text = "\n".join([*lines, "    def __init__(self, given):", *setting])
            del self.views[name]
            self.views[name] = text
        return name

    def function(self, module: Module, node: ast.FunctionDef) -> None:
        """Write a function in C, and the door to it."""
        where = f"{module.name}.{node.name}"
        kinds = {one.arg: self.c_type(module, one.annotation, where) for one in node.args.args}
        gives = self.c_type(module, node.returns, where)
        name = name_of(module, node.name)
        body = _Body(self, module, node).lines()
        arguments = ", ".join(f"{kind} {arg}" for arg, kind in kinds.items())
        self.functions.append(f"cdef {gives} c_{name}({arguments}) noexcept nogil:\n{body}")
        self.doors.append(_door(name, kinds, gives))


def _door(name: str, kinds: dict[str, str], gives: str) -> str:
    """Write what Python calls: arguments become C's, other threads may run meanwhile."""
    taken = ", ".join(arg if kind.startswith("View_") else f"{kind} {arg}"
                      for arg, kind in kinds.items())
    views = [f"    cdef {kind} c_{arg} = {kind}({arg})" for arg, kind in kinds.items()
             if kind.startswith("View_")]
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


class _Body(ast.NodeTransformer):
    """Rewrites the body of one function."""

    def __init__(self, writer: _Writer, module: Module, node: ast.FunctionDef) -> None:
        self.writer, self.module, self.node = writer, module, node
        self.kinds: dict[str, tuple[Module, ast.expr | None]] = {
            one.arg: (module, one.annotation) for one in node.args.args}
        self.local = set(self.kinds) | set(_assigned(node))
        self.same: dict[str, ast.expr] = {}
        self.counters: set[str] = set()

    def lines(self) -> str:
        """Give the body as text."""
        body = self.node.body
        if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
            body = body[1:]
        found = [line for one in body for line in self._statements(one)]
        text = ast.unparse(ast.fix_missing_locations(ast.Module(found, [])))
        counters = [f"cdef long long {name}" for name in sorted(self.counters)]
        return "\n".join(f"    {line}" for line in [*counters, *text.splitlines()])

    def _statements(self, node: ast.stmt) -> list[ast.stmt]:
        made = self.visit(node)
        if made is None:
            return []
        return made if isinstance(made, list) else [made]

    def _inside(self, node: Node) -> Node:
        """Rewrite what a node holds."""
        self.generic_visit(node)
        return node

    def _expression(self, node: ast.expr) -> ast.expr:
        made: ast.expr = self.visit(node)
        return made

    def _fail(self, node: ast.AST, what: str) -> CannotCompileError:
        line = getattr(node, "lineno", self.node.lineno)
        return CannotCompileError(f"{self.module.path.name}:{line}: {what}")

    def _kind(self, node: ast.expr) -> tuple[Module, ast.expr | None] | None:
        """Give the annotation of an argument or of a field of one, and where it is written."""
        if isinstance(node, ast.Name):
            return self.kinds.get(node.id)
        if isinstance(node, ast.Attribute):
            owner = self._kind(node.value)
            if owner is not None and owner[1] is not None:
                fields = self.writer.fields(*owner)
                if fields and node.attr in fields:
                    return self.writer.home_of(owner[0], owner[1]), fields[node.attr]
        return None

    def _axes(self, node: ast.expr) -> int:
        """Give the number of axes of an array; 0 for what is none."""
        if isinstance(node, ast.Name) and node.id in self.same:
            return self._axes(self.same[node.id])
        if isinstance(node, ast.Subscript):
            taken = len(node.slice.elts) if isinstance(node.slice, ast.Tuple) else 1
            return max(0, self._axes(node.value) - taken)
        kind = self._kind(node)
        text = ast.unparse(kind[1]) if kind is not None and kind[1] is not None else ""
        return ARRAYS[text][1] if text in ARRAYS else 0

    def _is_handle(self, node: ast.expr) -> bool:
        """Whether a field is an array or a named tuple."""
        kind = self._kind(node)
        return bool(self._axes(node)) or (kind is not None
                                          and self.writer.fields(*kind) is not None)

    def visit_Name(self, node: ast.Name) -> ast.expr:
        """A constant becomes its value, a compiled function its C name."""
        if node.id in self.same and isinstance(node.ctx, ast.Load):
            return self._expression(self.same[node.id])
        if node.id in self.local or isinstance(node.ctx, ast.Store):
            return node
        sources = self.writer.sources
        value = sources.constant(self.module, node.id)
        if value is not None:
            return _number(value)
        found = sources.find(self.module, node.id)
        if found is not None and isinstance(found[1], ast.FunctionDef) and is_marked(found[1]):
            return ast.Name(f"c_{name_of(found[0], found[1].name)}", node.ctx)
        if self.module.imports.get(node.id, ("", ""))[0] == "math" and node.id in FROM_MATH:
            return ast.Name(FROM_MATH[node.id], node.ctx)
        if node.id in {"min", "max", "abs", "range"}:
            return node
        raise self._fail(node, f"{node.id} is neither local, nor a number, nor compiled.")

    def visit_Attribute(self, node: ast.Attribute) -> ast.expr:
        """A constant of a module becomes its value; `size` is the first extent."""
        if isinstance(node.value, ast.Name) and node.value.id not in self.local:
            if node.value.id == "np" and node.attr in FROM_NUMPY:
                return ast.Name(FROM_NUMPY[node.attr], node.ctx)
            source = self.writer.sources.aliased(self.module, node.value.id)
            value = self.writer.sources.constant(source, node.attr) if source else None
            if value is None:
                raise self._fail(node, f"{ast.unparse(node)} is no number.")
            return _number(value)
        if node.attr == "size" and self._axes(node.value) == 1:
            return ast.Subscript(ast.Attribute(self.visit(node.value), "shape", ast.Load()),
                                 ast.Constant(0), ast.Load())
        return self._inside(node)

    def visit_Call(self, node: ast.Call) -> ast.expr:
        """`int`, `float` and `np.float32` are casts."""
        called = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if called in CASTS and called not in self.local:
            return ast.Call(ast.Name(CASTS[called], ast.Load()),
                            [self.visit(one) for one in node.args], [])
        return self._inside(node)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.stmt | None:
        """An annotated local is a local."""
        if node.value is None:
            return None
        return self.visit_Assign(ast.Assign([node.target], node.value, lineno=node.lineno))

    def visit_Assign(self, node: ast.Assign) -> ast.stmt | None:
        """Another name for an array or a named tuple is only another name."""
        target = node.targets[0]
        if isinstance(target, ast.Name) and isinstance(node.value, ast.Attribute) \
                and len(node.targets) == 1 and self._is_handle(node.value):
            self.same[target.id] = node.value
            return None
        self.generic_visit(node)
        if isinstance(node.value, ast.Tuple):
            node.value.elts = [_truth(one) for one in node.value.elts]
        elif isinstance(target, ast.Name):
            node.value = _truth(node.value)
        return node

    def visit_For(self, node: ast.For) -> ast.stmt:
        """Count through an array."""
        if isinstance(node.iter, ast.Call) and isinstance(node.target, ast.Name):
            self.counters.add(node.target.id)
            return self._inside(node)
        if self._axes(node.iter) != 1 or not isinstance(node.target, ast.Name):
            raise self._fail(node, f"{ast.unparse(node.iter)} is no array of one axis.")
        place = ast.Name(f"at_{len(self.counters)}", ast.Load())
        self.counters |= {place.id, node.target.id}
        array = node.iter
        if isinstance(array, ast.Subscript):
            index = [self.visit(one) for one in (
                array.slice.elts if isinstance(array.slice, ast.Tuple) else [array.slice])]
            base, extent = self.visit(array.value), len(index)
            element: ast.expr = ast.Tuple([*index, place], ast.Load())
        else:
            base, extent, element = self.visit(array), 0, place
        length = ast.Subscript(ast.Attribute(base, "shape", ast.Load()), ast.Constant(extent),
                               ast.Load())
        first = ast.Assign([node.target], ast.Subscript(base, element, ast.Load()))
        body = [line for one in node.body for line in self._statements(one)]
        return ast.For(ast.Name(place.id, ast.Store()),
                       ast.Call(ast.Name("range", ast.Load()), [length], []), [first, *body], [])


def _truth(node: ast.expr) -> ast.expr:
    """Say of an expression that is true or false by its form that it is; Cython does not see it."""
    if (isinstance(node, ast.Compare | ast.BoolOp)
            or (isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not))
            or (isinstance(node, ast.Constant) and isinstance(node.value, bool))):
        return ast.Call(ast.Name("truth", ast.Load()), [node], [])
    return node


def _number(value: float) -> ast.expr:
    if isinf(value):
        found: ast.expr = ast.Name("INFINITY", ast.Load())
    else:
        found = ast.Constant(abs(value))
    return ast.UnaryOp(ast.USub(), found) if value < 0 else found


def _assigned(node: ast.FunctionDef) -> Iterator[str]:
    for one in ast.walk(node):
        if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Store):
            yield one.id
