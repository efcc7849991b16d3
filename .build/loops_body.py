"""Rewrite the body of a function: what it is stays, what C has no notion of is replaced.

Constants become their values, ``for x in array`` counts through the array, ``array.size`` is its
first extent, another name for an array or a named tuple is only another name.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from math import isinf
from typing import TypeVar

from loops_source import Module, is_marked
from loops_types import ARRAYS, NUMBERS, CannotCompileError, Types, name_of

FROM_NUMPY = {"inf": "INFINITY", "sqrt": "sqrt", "exp": "exp", "ceil": "ceil", "floor": "floor"}
FROM_MATH = {"sqrt": "sqrt", "exp": "exp", "log": "log", "ceil": "ceiling", "floor": "ground"}
CASTS = {"int": "whole", "float": "real", "float32": "single"}

Node = TypeVar("Node", bound=ast.AST)


class Body(ast.NodeTransformer):
    """Rewrites the body of one function."""

    def __init__(self, types: Types, module: Module, node: ast.FunctionDef) -> None:
        self.types, self.module, self.node = types, module, node
        self.kinds: dict[str, tuple[Module, ast.expr | None]] = {
            one.arg: (module, one.annotation) for one in node.args.args}
        self.local = set(self.kinds) | set(_assigned(node))
        self.same: dict[str, ast.expr] = {}
        self.counters: set[str] = set()
        self.said: dict[str, str] = {}

    def lines(self) -> str:
        """Give the body as text."""
        body = self.node.body
        if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
            body = body[1:]
        found = [line for one in body for line in self._statements(one)]
        text = ast.unparse(ast.fix_missing_locations(ast.Module(found, [])))
        counters = [f"cdef long long {name}" for name in sorted(self.counters)]
        counters += [f"cdef {kind} {name}" for name, kind in sorted(self.said.items())]
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
                fields = self.types.fields(*owner)
                if fields and node.attr in fields:
                    return self.types.home_of(owner[0], owner[1]), fields[node.attr]
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
                                          and self.types.fields(*kind) is not None)

    def visit_Name(self, node: ast.Name) -> ast.expr:
        """A constant becomes its value, a compiled function its C name."""
        if node.id in self.same and isinstance(node.ctx, ast.Load):
            return self._expression(self.same[node.id])
        if node.id in self.local or isinstance(node.ctx, ast.Store):
            return node
        sources = self.types.sources
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
            source = self.types.sources.aliased(self.module, node.value.id)
            value = self.types.sources.constant(source, node.attr) if source else None
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
        """An annotated local is a local; a number gets the type that is said."""
        if isinstance(node.target, ast.Name) and ast.unparse(node.annotation) in NUMBERS:
            self.said[node.target.id] = NUMBERS[ast.unparse(node.annotation)]
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
