"""The shape of the code: layers, imports, sizes, names."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from project_files import ROOT, SOURCE, modules, relative

MAX_MODULE_LINES = 600
MAX_FUNCTION_LINES = 70
MAX_KERNEL_LINES = 140
"""For the one step of the time loop, which compiles best in one piece."""
KERNELS = {"simulate/step.py"}
WEB_PACKAGES = {
    "fastapi",
    "jinja2",
    "markupsafe",
    "multipart",
    "pydantic",
    "starlette",
    "uvicorn",
}
WEB_LAYER = "workbench"
STORE_PACKAGES = {"alembic", "argon2", "cryptography", "sqlalchemy"}
STORE_LAYER = "records"
RUN_TIME_PACKAGES = (
    {"PIL", "cantools", "click", "numba", "numpy", "scipy", "segno", "tomlkit"}
    | WEB_PACKAGES
    | STORE_PACKAGES
)
COMPILED_LAYERS = {"physics", "simulate"}
LAZY = {"cantools", "scipy", "tomlkit"}
NO_SUBJECT = {"auxiliary", "common", "helpers", "misc", "tools", "utils"}

pytestmark = pytest.mark.guard
every_module = pytest.mark.parametrize("path", modules(), ids=relative)


def imported(nodes: list[ast.stmt] | ast.AST) -> set[str]:
    """Return the top-level packages imported by some statements or anywhere below a node."""
    walked = ast.walk(nodes) if isinstance(nodes, ast.AST) else iter(nodes)
    names: set[str] = set()
    for node in walked:
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module.split(".")[0])
    return names


def test_a_package_imports_only_from_lower_layers():
    done = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@every_module
def test_a_module_imports_only_what_the_tool_may_rest_on(path: Path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    outside = imported(tree) - set(sys.stdlib_module_names) - {"swapwright"}
    assert outside <= RUN_TIME_PACKAGES
    layer = path.relative_to(SOURCE).parts[0]
    if layer not in COMPILED_LAYERS:
        assert "numba" not in outside
    if layer != WEB_LAYER:
        assert not outside & WEB_PACKAGES
    if layer != STORE_LAYER:
        assert not outside & STORE_PACKAGES
    assert not imported(tree.body) & LAZY, "import it inside the function that saves"


@every_module
def test_a_module_is_short_enough_to_read(path: Path):
    text = path.read_text(encoding="utf-8")
    is_kernel = path.relative_to(SOURCE).as_posix() in KERNELS
    allowed = MAX_KERNEL_LINES if is_kernel else MAX_FUNCTION_LINES
    assert text.count("\n") <= MAX_MODULE_LINES
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            first = node.body[1] if ast.get_docstring(node) and len(node.body) > 1 else node.body[0]
            length = node.end_lineno - first.lineno + 1
            assert length <= allowed, node.name


@every_module
def test_a_module_is_named_after_its_subject(path: Path):
    assert path.stem not in NO_SUBJECT


def test_every_folder_of_modules_is_a_package_that_says_what_it_holds():
    for folder in {path.parent for path in modules()}:
        text = (folder / "__init__.py").read_text(encoding="utf-8")
        assert ast.get_docstring(ast.parse(text)), folder


def test_no_two_test_files_share_a_name():
    names = [path.name for path in (ROOT / "tests").rglob("test_*.py")]
    assert sorted(names) == sorted(set(names))


def test_every_test_is_of_exactly_one_kind(request):
    kinds = ("published", "arithmetic", "property", "golden", "guard")
    wrong = [
        item.nodeid
        for item in request.session.items
        if sum(item.get_closest_marker(kind) is not None for kind in kinds) != 1
    ]
    assert not wrong
