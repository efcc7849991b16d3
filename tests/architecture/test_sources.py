"""Every figure names its source, and what only sounds like a source is refused.

A source is a title (a standard with its clause or table, a page, an open-source model by its name),
or it is said that there is none: "derived", "from memory", "common practice, no source".
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
TEXTS = sorted(path for folder in ("planner", "ui", "cases", "tests")
               for path in (ROOT / folder).rglob("*")
               if path.suffix in (".py", ".toml") and HERE not in path.parents)
CHECKS = sorted((ROOT / "tests" / "reference").glob("test_*.py"))
PHYSICS = sorted((ROOT / "planner" / "physics").rglob("*.py"))

SOUNDS_LIKE_A_SOURCE = re.compile(
    r"published|text ?books?|handbooks?|lessons?|universit(?:y|ies)|industry|laborator(?:y|ies)"
    r"|national[- ]lab\w*|simulators?|unattributed|scanned|secondary \w+"
    r"|trade (?:pages?|constants?|tables?|sources?)|property tables?|food safety guidance"
    r"|public (?:summar|stud|specification|guide|model)\w*|specifications?"
    r"|worked (?:\w+ )?(?:case|example)s?|(?:same|older|other) sources?",
    re.IGNORECASE)
NAMES_ONE = re.compile(
    r"\bNEC\b|\bNFPA \d|\bIFGC\b|\bUPC \d|\bISO \d|\bIEC \d|\bASTM [A-Z]\d|\bASME B\d|\bSAE J\d"
    r"|\bICAO Doc \d|\bIEEE \d|\bUL \d|\bUFGS|\bCFR \d|\bWCAG \d|\bFederal Register, \d"
    r"|\bAnnex D\b|\bNREL ResStock\b|\bGridLAB-D\b|\bOCHRE\b|\bOpenDSS\b|\bWECC composite load"
    r"|\bAbramowitz and Stegun\b|\bMoody 1944\b|\bEnergy Information Administration\b|\bEIA\b"
    r"|\bDepartment of Energy, [A-Z]|\bFood and Drug Administration\b|\"[A-Z][^\"]+ [^\"]+\"")
SAYS_THERE_IS_NONE = re.compile(r"\bderived\b|from memory|no source|\bdefinition\b", re.IGNORECASE)
CLAUSE_ENDS = re.compile(r"(?<=[.;])\s|\s(?:and|or)\s|\n\s*\n")
HEADING_OF_A_HOME = "Lesson: "


def has_a_source(text):
    """Whether a text names a source, or says that there is none."""
    return bool(NAMES_ONE.search(text) or SAYS_THERE_IS_NONE.search(text))


def prose_of_a_module(text):
    """Give strings and comments without their marks; what goes on from the one before is joined.

    Strings that follow each other are one, and so is a comment with the whole lines below it.
    """
    strings, comments, before, line = [], [], None, 0
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type == tokenize.STRING:
            words = re.sub(r"""^\w*(?:\"{3}|'{3}|"|')|(?:\"{3}|'{3}|"|')$""", "", token.string)
            goes_on = before == tokenize.STRING
            strings.append(f"{strings.pop()}\n{words}" if goes_on else words)
        elif token.type == tokenize.COMMENT:
            words = token.string.lstrip("# ")
            goes_on = line == token.start[0] - 1 and token.line.lstrip().startswith("#")
            comments.append(f"{comments.pop()}\n{words}" if goes_on else words)
            line = token.start[0]
        before = before if token.type == tokenize.NL else token.type
    return strings + comments


def prose_of_data(text):
    """Give the comments of a data file, each with the lines below it, and its other lines."""
    found, in_comment = [], False
    for line in text.splitlines():
        if in_comment and line.startswith("#"):
            found[-1] = f"{found[-1]}\n{line.lstrip('# ')}"
        else:
            found.append(line.lstrip("# ") if line.startswith("#") else line.replace('"', ""))
        in_comment = line.startswith("#")
    return found


def vague_clauses(path, text):
    """List the clauses that sound like a source and name none."""
    prose = prose_of_a_module(text) if path.suffix == ".py" else prose_of_data(text)
    clauses = [clause for passage in prose
               for clause in CLAUSE_ENDS.split(passage.replace(HEADING_OF_A_HOME, ""))]
    return [" ".join(clause.split()) for clause in clauses
            if SOUNDS_LIKE_A_SOURCE.search(clause) and not has_a_source(clause)]


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_what_sounds_like_a_source_has_a_name(path):
    """No textbook, handbook or copy without a title, unless it is said that there is no source."""
    assert vague_clauses(path, path.read_text("utf-8")) == []


@pytest.mark.parametrize(("name", "text"), [
    ("a.py", '"""Published: 10 hp, 6.3 kVA/hp: 158.1 A."""'),
    ("a.py", '"""A worked network case: 118.5 V running."""'),
    ("a.py", '"""Against the examples of NEC Annex D and of published lessons."""'),
    ("a.py", '"""ISO 8528-5; G2 as a public specification quotes it, G1 and G3 from memory."""'),
    ("a.py", "MASS = 2.0  # model of a national\n# laboratory"),
    ("a.py", "FILM = 1.46  # film (GridLAB-D)\nAIR = 3.0  # air mass (same source)"),
    ("a.py", 'a = ("model of a national "\n     "laboratory")'),
    ("a.toml", "# - derating: 3 %, as a university\n#   textbook gives it"),
    ("a.toml", 'lab = "regression on nameplates, national-laboratory panel study"'),
    ("a.toml", "half = 0.5  # as a handbook says"),
])
def test_a_source_without_a_name_is_found(name, text):
    """Each of these reads like a source and names none, so the check can fail."""
    assert vague_clauses(Path(name), text) != []


@pytest.mark.parametrize(("name", "text"), [
    ("a.py", '"""NEC (2005) Annex D, D1(a), read in a secondary copy: 18,600 VA."""'),
    ("a.py", '"""A trade page, "Single Family Dwelling Calculation": 30,310 VA."""'),
    ("a.py", '"""The table of a scanned copy: common practice, no source."""'),
    ("a.py", "published = 3.0  # a name in the code is no prose"),
    ("a.toml", "# Lesson: a small set does nearly everything."),
])
def test_a_named_source_passes(name, text):
    """A title is enough, and so is the word that there is none."""
    assert vague_clauses(Path(name), text) == []


def functions(path):
    """List the public functions of a module, those of its classes left out."""
    return [node for node in ast.parse(path.read_text("utf-8")).body
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")]


def figures(node):
    """Collect the numbers that a test compares with; 0, 1 and 2 say no more than a word."""
    held = [part for part in ast.walk(node) if isinstance(part, ast.Assert)]
    held += [part for part in node.decorator_list if "parametrize" in ast.unparse(part)]
    return {part.value for one in held for part in ast.walk(one)
            if isinstance(part, ast.Constant) and type(part.value) in (int, float)
            and part.value not in (0, 1, 2)}


def unsourced_checks(source):
    """List the tests that hold a figure against a value and do not say where that comes from."""
    return [node.name for node in ast.parse(source).body
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
            and figures(node) and "raises" not in ast.unparse(node)
            and not has_a_source(ast.get_docstring(node) or "")]


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_every_check_value_has_a_source(path):
    """Beside each value that the physics is checked against stands where it comes from."""
    assert unsourced_checks(path.read_text("utf-8")) == []


def test_a_check_value_without_a_source_is_found():
    """The figure of a test that only says what it does is found; a sourced one is not."""
    bare = 'def test_a():\n    """It is right."""\n    assert f(3.0) == 158.1\n'
    assert unsourced_checks(bare) == ["test_a"]
    assert unsourced_checks(bare.replace("right", "derived: 3 · 52.7")) == []


def undocumented(path):
    """List the public functions whose docstring leaves out units, refusals or the source."""
    missing = []
    for node in functions(path):
        words = ast.get_docstring(node) or ""
        floats = "float" in ast.unparse(node.args) + (ast.unparse(node.returns or node.args))
        if floats and "[" not in words:
            missing.append(f"{node.name}: units")
        if any(isinstance(part, ast.Raise) for part in ast.walk(node)) and "Raises" not in words:
            missing.append(f"{node.name}: Raises")
        if node.args.args and "Parameters\n" not in words:
            missing.append(f"{node.name}: Parameters")
        if floats and not has_a_source(words) and "As `" not in words:
            missing.append(f"{node.name}: source")
    return missing


@pytest.mark.parametrize("path", PHYSICS,
                         ids=lambda path: path.relative_to(ROOT).as_posix())
def test_every_relation_of_the_physics_is_documented(path):
    """Parameters, units, what is refused and the source stand in every public docstring."""
    assert undocumented(path) == []


def test_a_relation_without_a_source_is_found(tmp_path):
    """A docstring that says nothing lacks four things; nothing else passes for them."""
    bare = tmp_path / "bare.py"
    bare.write_text(
        'def f(kw: float) -> float:\n    """Give it."""\n    raise ValueError\n', "utf-8")
    assert undocumented(bare) == ["f: units", "f: Raises", "f: Parameters", "f: source"]
