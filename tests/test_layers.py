"""The shape of the program, read from its syntax trees: who may import whom and how long.

``LAYERS`` is the one table to change when a module is added: a unit (a module or folder
right under ``reviewkit``) imports from the layers above its own line and from no other
unit of its own layer, so that stages never import one another and no cycle can form.
"""

from __future__ import annotations

import ast
import io
import re
import statistics
import sys
import tokenize
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "reviewkit"

STAGES = frozenset(
    {"read", "words", "drafting", "marks", "placing", "naming", "findings", "report"}
)
LAYERS: tuple[frozenset[str], ...] = (
    frozenset({"cautions", "errors", "once", "times"}),
    frozenset({"model"}),
    # Helpers: stages may use them, and they know of no stage.
    frozenset({"align", "language", "measures", "payloads", "timing"}),
    frozenset({"corrections", "frames", "plans"}),
    STAGES,
    # What puts stages together.
    frozenset({"judge", "listen"}),
    frozenset({"understand"}),
    frozenset({"explain", "hearing", "review"}),
    frozenset({"evaluate", "files", "progress", "rehearse", "store"}),
    frozenset({"prepared"}),
    frozenset({"edits"}),
    frozenset({"kept"}),
    frozenset({"batch"}),
    frozenset({"web"}),
    frozenset({"cli"}),
    frozenset({"__main__"}),
)

# Reading comes before a review and reporting after it; whoever calls it does both.
BESIDES_THE_REVIEW = frozenset({"read", "report"})

TOUCH_THE_WORLD = frozenset(
    {
        "batch.cluster",
        "batch.jobs",
        "batch.folders",
        "batch.pool",
        "batch.running",
        "cli",
        "files",
        "kept.reopen",
        "prepared",
        "read",
        "store",
        "web",
    }
)
WORLD_MODULES = re.compile(
    "asyncio|glob|http|importlib.resources|os|random|secrets|shutil|socket|sqlite3|ssl|subprocess"
    "|tempfile|threading|time|urllib"
)
WORLD_CALLS = re.compile(
    "cwd|exists|getenv|glob|is_dir|is_file|iterdir|mkdir|now|open|read_bytes|read_text|today|unlink"
    "|utcnow|write_bytes|write_text"
)

HOMES: dict[str, frozenset[str]] = {
    "defusedxml": frozenset({"read.ttml"}),
    "distributed": frozenset({"batch.cluster"}),
    "fastapi": frozenset({"web"}),
    "jinja2": frozenset({"batch.writing", "progress.page", "rehearse.page", "report.page", "web"}),
    "markupsafe": frozenset({"progress.page", "rehearse.page", "report.page", "web"}),
    "matplotlib": frozenset({"report.timeline"}),
    "openpyxl": frozenset({"read.plan_sheet", "report.plan_sheet"}),
    "pandas": frozenset({"progress.tables"}),
    "platformdirs": frozenset({"prepared", "store"}),
    "python_multipart": frozenset({"web.uploads"}),
    "rapidfuzz": frozenset({"language.matching"}),
    "rich": frozenset({"cli", "progress.text", "report.explanation", "report.text"}),
    "spacy": frozenset({"language.phrasebook"}),
    "sqlalchemy": frozenset({"store"}),
    "starlette": frozenset({"web"}),
    "typer": frozenset({"cli"}),
    "uvicorn": frozenset({"cli.serve"}),
}
AT_HOME_EVERYWHERE = frozenset({"numpy"})

# What grows while a file is read or a path is traced, and leaves its module as a record.
BUILDERS: dict[str, frozenset[str]] = {
    "read.lexicon": frozenset({"_Draft"}),
    "read.plan_blocks": frozenset({"TypedBlock", "TypedMove", "TypedPlan"}),
    "placing.slots": frozenset({"_Builder"}),
    "read.plan_fields": frozenset({"Problems"}),
    "web.uploads": frozenset({"_Part"}),
}

MAX_MODULE_LINES = 400
MAX_FUNCTION_LINES = 50
MEDIAN_FUNCTION_LINES = 10
NINTH_DECILE_FUNCTION_LINES = 25

_NO_CODE = frozenset(
    {
        tokenize.COMMENT,
        tokenize.NL,
        tokenize.NEWLINE,
        tokenize.INDENT,
        tokenize.DEDENT,
        tokenize.ENDMARKER,
    }
)
_FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@dataclass(frozen=True, slots=True)
class Import:
    """A module that is imported, and the function around the import, if any."""

    module: str
    names: tuple[str, ...]
    line: int
    function: str


@dataclass(frozen=True)
class Module:
    """A module of the program as text and tree; ``name`` is without the package's."""

    name: str
    text: str

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)

    @property
    def unit(self) -> str:
        return self.name.split(".")[0]

    @cached_property
    def imports(self) -> tuple[Import, ...]:
        return tuple(_imports(self.tree, ""))

    def code_lines(self) -> frozenset[int]:
        """Give the lines that hold code: no comment, no docstring, no blank."""
        lines: set[int] = set()
        for token in tokenize.generate_tokens(io.StringIO(self.text).readline):
            if token.type not in _NO_CODE:
                lines.update(range(token.start[0], token.end[0] + 1))
        for node in ast.walk(self.tree):
            if (
                isinstance(node, ast.Expr)
                and isinstance(node.value, ast.Constant)
                and isinstance(node.value.value, str)
            ):
                lines.difference_update(range(node.lineno, (node.end_lineno or 0) + 1))
        return frozenset(lines)


def _imports(node: ast.AST, function: str) -> Iterator[Import]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            for alias in child.names:
                yield Import(alias.name, (), child.lineno, function)
        elif isinstance(child, ast.ImportFrom):
            names = tuple(alias.name for alias in child.names)
            yield Import("." * child.level + (child.module or ""), names, child.lineno, function)
        else:
            inside = child.name if isinstance(child, _FUNCTIONS) else function
            yield from _imports(child, inside)


def _modules() -> dict[str, Module]:
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" and len(parts) > 1 else parts)
        found[name] = Module(name, path.read_text("utf-8"))
    return found


MODULES = _modules()
every_module = pytest.mark.parametrize("module", MODULES.values(), ids=lambda one: one.name)


def own_imports(module: Module) -> Iterator[tuple[str, Import]]:
    """Give what a module imports of the program, by the names in ``MODULES``."""
    for one in module.imports:
        if one.module == "reviewkit" or one.module.startswith("reviewkit."):
            inside = one.module.removeprefix("reviewkit").removeprefix(".")
            for name in one.names or ("",):
                full = f"{inside}.{name}".strip(".")
                yield (full if full in MODULES else inside or "__init__"), one


def layer_of(unit: str) -> int:
    """Find the layer of a unit; a new one has to be given a place first."""
    for at, layer in enumerate(LAYERS):
        if unit in layer:
            return at
    raise AssertionError(f"give {unit} a layer in LAYERS")


@every_module
def test_imports_flow_one_way(module: Module) -> None:
    if module.unit == "__init__":
        return
    wrong = [
        f"line {one.line}: {module.unit} may not import {name}"
        for name, one in own_imports(module)
        if name.split(".")[0] != module.unit
        and layer_of(name.split(".")[0]) >= layer_of(module.unit)
    ]
    assert not wrong


@every_module
def test_imports_are_spelt_in_full(module: Module) -> None:
    assert not [one.line for one in module.imports if one.module.startswith(".")]


def test_a_review_neither_reads_nor_reports() -> None:
    wrong = [
        f"{unit} imports {name}"
        for unit in ("judge", "listen", "review")
        for name, _ in own_imports(MODULES[unit])
        if name.split(".")[0] in BESIDES_THE_REVIEW
    ]
    assert not wrong


def test_no_module_imports_itself_by_a_detour() -> None:
    graph = {
        name: {other for other, _ in own_imports(module)} - {name}
        for name, module in MODULES.items()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as cycle:
        pytest.fail(" -> ".join(cycle.args[1]))


@every_module
def test_imports_stand_at_the_top(module: Module) -> None:
    """Commands alone import late, so that asking for help loads nothing heavy."""
    if module.unit == "cli":
        return
    late = [one for _, one in own_imports(module) if one.function]
    assert not [f"line {one.line}: {one.function} imports {one.module}" for one in late]


@every_module
def test_only_the_edges_touch_the_world(module: Module) -> None:
    """Of ``read`` it is the package's own file; its readers are given text."""
    if module.name in TOUCH_THE_WORLD or module.unit in TOUCH_THE_WORLD - {"read"}:
        return
    reached = [
        f"line {one.line}: imports {one.module}"
        for one in module.imports
        if any(
            WORLD_MODULES.fullmatch(name)
            for name in (
                one.module.split(".")[0],
                one.module,
                *(f"{one.module}.{name}" for name in one.names),
            )
        )
        or (one.module == "pathlib" and set(one.names) - {"PurePath", "PurePosixPath"})
    ]
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else ""
            called = node.func.id if isinstance(node.func, ast.Name) else called
            if WORLD_CALLS.fullmatch(called):
                reached.append(f"line {node.lineno}: calls {called}")
    assert not reached


@every_module
def test_each_library_has_its_home(module: Module) -> None:
    for one in module.imports:
        library = one.module.split(".")[0]
        if library in HOMES:
            assert HOMES[library] & {module.name, module.unit}, f"{library} at line {one.line}"
        elif library not in {"reviewkit", *AT_HOME_EVERYWHERE}:
            assert library in sys.stdlib_module_names, f"give {library} a home in HOMES"


def test_what_is_imported_is_what_is_installed() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    needed = [*project["dependencies"], *project["optional-dependencies"]["cluster"]]
    declared = {re.split(r"[<>=~!\[ ]", line)[0].lower() for line in needed}
    imported = {one.module.split(".")[0] for module in MODULES.values() for one in module.imports}
    named = {name.replace("-", "_") for name in declared}
    # markupsafe is a part of jinja2, and starlette of fastapi.
    parts = {"markupsafe", "starlette"}
    assert named == (imported & {*HOMES, *AT_HOME_EVERYWHERE}) - parts


@every_module
def test_modules_are_short(module: Module) -> None:
    lines = module.text.count("\n")
    assert lines <= MAX_MODULE_LINES


def function_lengths() -> dict[str, int]:
    """Give the code lines of every function, from ``def`` to the end of its body."""
    lengths = {}
    for module in MODULES.values():
        code = module.code_lines()
        for node in ast.walk(module.tree):
            if isinstance(node, _FUNCTIONS):
                lines = range(node.lineno, (node.end_lineno or 0) + 1)
                lengths[f"{module.name}.{node.name}:{node.lineno}"] = len(code & {*lines})
    return lengths


def test_functions_are_short() -> None:
    lengths = function_lengths()
    assert not {name: size for name, size in lengths.items() if size > MAX_FUNCTION_LINES}
    assert statistics.median(lengths.values()) <= MEDIAN_FUNCTION_LINES
    assert statistics.quantiles(lengths.values(), n=10)[-1] <= NINTH_DECILE_FUNCTION_LINES


@every_module
def test_records_are_frozen(module: Module) -> None:
    loose = {
        node.name
        for node in ast.walk(module.tree)
        if isinstance(node, ast.ClassDef)
        for decorator in map(ast.unparse, node.decorator_list)
        if re.match(r"(dataclasses\.)?dataclass\b", decorator) and "frozen=True" not in decorator
    }
    assert loose == BUILDERS.get(module.name, frozenset())


def test_layers_name_every_unit_once() -> None:
    named = sorted(unit for layer in LAYERS for unit in layer)
    assert not [left for left, right in pairwise(named) if left == right]
    units = {module.unit for module in MODULES.values()} - {"__init__"}
    assert set(named) == units
