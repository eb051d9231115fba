from pathlib import Path

from strutwright.exports.kit_reference import kit_reference
from strutwright.exports.kit_schema import kit_schema

PAGE = Path(__file__).parents[3] / "docs" / "reference" / "kit.md"


def test_the_page_names_every_key_of_every_part_with_its_kind():
    page, whole = kit_reference(), kit_schema()
    for name, table in [*whole["$defs"].items(), ("", whole)]:
        assert not name or f"## `{name}`" in page
        for key in table.get("properties", {}):
            assert f"| `{key}` | " in page
    assert "| `division` | list of 2 of integer |" in page


def test_the_page_in_the_docs_is_this_page():
    """Sections that came since are found by writing it again: docs/reference/kit.md."""
    assert PAGE.read_text(encoding="utf-8").splitlines()[:8] == kit_reference().splitlines()[:8]
