"""What C type an annotation stands for, and what the loops see of a named tuple: a view.

A view has the fields of the named tuple with their C types, on the same arrays.
"""

from __future__ import annotations

import ast

from loops_source import Module, Sources, is_named_tuple

NUMBERS = {"int": "long long", "float": "double", "bool": "bint", "None": "void"}
ELEMENTS = {"Float": "double", "Single": "float", "Int": "long long", "Bool": "unsigned char",
            "Byte": "signed char", "Octet": "unsigned char", "Key": "unsigned long long"}
ARRAYS = {name + end: (element, axes) for name, element in ELEMENTS.items()
          for end, axes in (("s", 1), ("Rows", 2), ("Blocks", 3))}
"""Array types of `planner.arrays` -> C type of an element, number of axes."""


class CannotCompileError(Exception):
    """Something in a marked function that the loops may not hold."""


def name_of(module: Module, name: str) -> str:
    """Give the name under which a function or a view stands among all loops."""
    return f"{module.name.partition('.')[2].replace('.', '_')}__{name}"


class Types:
    """Looks types up; `views` collects the text of the views that were asked for."""

    def __init__(self, sources: Sources) -> None:
        self.sources = sources
        self.views: dict[str, str] = {}

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
