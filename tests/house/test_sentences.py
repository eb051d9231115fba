"""Notes come from the catalogue, and no sentence is turned into text before it is told."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "src" / "strutwright"
SOURCES = sorted(path for path in PACKAGE.rglob("*.py") if path.parent.name != "sentences")
MAKERS = {"note", "sentence"}


def _called(node):
    return node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""


def _is_sentence(node):
    """Return whether `node` is plainly a sentence: made there, or the text of a note."""
    is_text = isinstance(node, ast.Attribute) and node.attr == "text"
    of_note = is_text and isinstance(node.value, ast.Name) and node.value.id in {"note", "said"}
    return _called(node) in MAKERS or of_note


def faults(source):
    """Return the lines of `source` that build a note by hand or lose a sentence in text."""
    found = []
    for node in ast.walk(ast.parse(source)):
        parts = []
        if isinstance(node, ast.FormattedValue):
            parts = [node.value]
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Mod):
            parts = [node.left, node.right]
        if _called(node) == "Note" or any(map(_is_sentence, parts)):
            found.append(node.lineno)
    return found


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_notes_are_told_from_the_catalogue(path):
    assert faults(path.read_text()) == []


@pytest.mark.parametrize(
    "source",
    ['Note("code", "text")', 'f"so {note.text}"', 'f"so {sentence(key, b=1)}"', 'said.text + "."'],
)
def test_a_note_by_hand_and_a_lost_sentence_are_seen(source):
    assert faults(source) == [1]
