"""What belongs to the loops: functions marked `@compiled`, named tuples and constants they use.

Files are parsed, never imported: whoever builds the planner need not have numpy.
"""

from __future__ import annotations

import ast
from dataclasses import dataclass, field
from hashlib import blake2b
from math import inf
from pathlib import Path

PACKAGE = "planner"
MARK = "compiled"


@dataclass
class Module:
    """One parsed file; `imports` says for each imported name which module and name it is there.

    `constants` holds the whole numbers and floats that are set at the top of the file.
    """

    name: str
    path: Path
    tree: ast.Module
    imports: dict[str, tuple[str, str]] = field(default_factory=dict)
    constants: dict[str, int | float] = field(default_factory=dict)

    def defined(self, name: str) -> ast.FunctionDef | ast.ClassDef | None:
        """Give the function or class of this name."""
        for node in self.tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and node.name == name:
                return node
        return None

    def marked(self) -> list[ast.FunctionDef]:
        """Give the functions that are to be compiled."""
        return [node for node in self.tree.body
                if isinstance(node, ast.FunctionDef) and is_marked(node)]


def is_marked(node: ast.FunctionDef) -> bool:
    """Whether a function carries the mark."""
    return any(isinstance(one, ast.Name) and one.id == MARK for one in node.decorator_list)


def is_named_tuple(node: ast.AST | None) -> bool:
    """Whether a definition is that of a named tuple."""
    return isinstance(node, ast.ClassDef) and any(
        isinstance(base, ast.Name) and base.id == "NamedTuple" for base in node.bases)


Found = tuple[Module, ast.FunctionDef | ast.ClassDef]


class Sources:
    """The files of the package under a root; `used` collects those that the loops draw on."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.used: set[str] = set()
        self._modules: dict[str, Module | None] = {}

    def marked_modules(self) -> list[Module]:
        """Give every file with a function to be compiled, by name."""
        found = []
        for path in sorted((self.root / PACKAGE).rglob("*.py")):
            if f"@{MARK}\n" in path.read_text("utf-8"):
                module = self.module(".".join(path.relative_to(self.root).with_suffix("").parts))
                if module is not None and module.marked():
                    self.used.add(module.name)
                    found.append(module)
        return found

    def module(self, name: str) -> Module | None:
        """Parse a module of the package; None if there is none of that name."""
        if name not in self._modules:
            path = self.root.joinpath(*name.split(".")).with_suffix(".py")
            self._modules[name] = None
            if name.startswith(f"{PACKAGE}.") and path.exists():
                module = Module(name, path, ast.parse(path.read_text("utf-8")))
                self._modules[name] = module
                _read_imports(module)
                _read_constants(module, self)
        return self._modules[name]

    def find(self, module: Module, name: str) -> Found | None:
        """Find the function or class that a name means in a module, through its imports."""
        node = module.defined(name)
        if node is not None:
            self.used.add(module.name)
            return module, node
        origin, there = module.imports.get(name, ("", ""))
        source = self.module(origin)
        return self.find(source, there) if source is not None else None

    def constant(self, module: Module, name: str) -> int | float | None:
        """Find the number that a name means in a module, through its imports."""
        if name in module.constants:
            self.used.add(module.name)
            return module.constants[name]
        origin, there = module.imports.get(name, ("", ""))
        if (origin, there) == ("math", "inf"):
            return inf
        source = self.module(origin)
        return self.constant(source, there) if source is not None else None

    def aliased(self, module: Module, name: str) -> Module | None:
        """Find the module that a name stands for: `tally` of ``from planner import tally``."""
        origin, there = module.imports.get(name, ("", ""))
        return self.module(f"{origin}.{there}")

    def digests(self) -> dict[str, str]:
        """Give a digest of every file that the loops draw on, by its path under the package."""
        return {path.relative_to(self.root / PACKAGE).as_posix(): digest(path)
                for path in (self.root.joinpath(*name.split(".")).with_suffix(".py")
                             for name in sorted(self.used))}


def digest(path: Path) -> str:
    """Give the digest of a file, as `planner.compiled` takes it."""
    return blake2b(path.read_bytes(), digest_size=8).hexdigest()


def _read_imports(module: Module) -> None:
    for node in module.tree.body:
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for alias in node.names:
                module.imports[alias.asname or alias.name] = node.module, alias.name


class _Known(dict[str, int | float]):
    """Constants while a file is read; asks the imports for what the file does not set itself."""

    def __init__(self, module: Module, sources: Sources) -> None:
        super().__init__()
        self.module, self.sources = module, sources

    def __missing__(self, name: str) -> int | float:
        """Look a name up behind the imports."""
        used = set(self.sources.used)
        value = self.sources.constant(self.module, name)
        self.sources.used = used
        if value is None:
            raise KeyError(name)
        return value


def _read_constants(module: Module, sources: Sources) -> None:
    known = _Known(module, sources)
    for node in module.tree.body:
        if isinstance(node, ast.Assign) and len(node.targets) == 1:
            target, value = node.targets[0], node.value
        elif isinstance(node, ast.AnnAssign) and node.value is not None:
            target, value = node.target, node.value
        else:
            continue
        names = target.elts if isinstance(target, ast.Tuple) else [target]
        if not all(isinstance(name, ast.Name) for name in names):
            continue
        code = compile(ast.Expression(value), module.path.name, "eval")
        try:
            found = eval(code, {"__builtins__": {}, "range": range}, known)
            values = list(found) if isinstance(target, ast.Tuple) else [found]
        except (KeyError, NameError, TypeError, AttributeError):
            continue  # no number: a type, a table, something that is called
        for name, one in zip(names, values, strict=True):
            if isinstance(name, ast.Name) and type(one) in (int, float):
                known[name.id] = module.constants[name.id] = one
