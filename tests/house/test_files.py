"""The house rules that no linter holds: sizes of files, functions and classes; sorted exports."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "strutwright"
SOURCES = sorted([*PACKAGE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")])
MOST_LINES, MOST_FUNCTION_LINES, MOST_PUBLIC_NAMES = 400, 60, 15


def ids(path):
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("path", SOURCES, ids=ids)
def test_file_is_short(path):
    assert len(path.read_text().splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", SOURCES, ids=ids)
def test_functions_and_classes_are_short(path):
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or 0) - node.lineno + 1
            if ast.get_docstring(node):
                doc = node.body[0]
                lines -= (doc.end_lineno or 0) - doc.lineno + 1
            assert lines <= MOST_FUNCTION_LINES, f"{node.name}: {lines} lines"
        if isinstance(node, ast.ClassDef) and "tests" not in path.parts:
            public = [
                item
                for item in node.body
                if isinstance(item, ast.FunctionDef) and not item.name.startswith("_")
            ]
            assert len(public) <= MOST_PUBLIC_NAMES, node.name


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=ids)
def test_exports_are_sorted_and_there(path):
    tree = ast.parse(path.read_text())
    exports = [
        node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        and isinstance(node.targets[0], ast.Name)
        and node.targets[0].id == "__all__"
    ]
    if path.name == "__init__.py" and path.parent != PACKAGE / "cli":
        assert exports, "a package lists its public names"
    for value in exports:
        names = ast.literal_eval(value)
        assert names == sorted(names, key=lambda n: (not n.isupper(), not n[0].isupper(), n))
        defined = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)} | {
            alias.asname or alias.name
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }
        defined |= {n.name for n in tree.body if isinstance(n, ast.FunctionDef | ast.ClassDef)}
        assert set(names) <= defined


def test_nothing_lies_about_at_the_root():
    """What the project keeps there is named here; a stray sheet does not slip in."""
    kept = {
        "CHANGELOG.md", "CONTRIBUTING.md", "LICENSE", "Makefile", "README.md", "benchmarks",
        "docs", "examples", "page", "pyproject.toml", "src", "tests",
    }  # fmt: skip
    made = {"kits", "out"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert kept <= found <= kept | made
