"""The starter, the examples, the schema and its page."""

import dataclasses
import json
import pickle
import re
from pathlib import Path

import pytest

from strutwright.brief import (
    as_table,
    brief_reference,
    parse_brief,
    read_brief,
    schema,
    starter_brief,
    write_starter,
)
from strutwright.errors import InputError
from strutwright.values import canonical_json

ROOT = Path(__file__).parents[3]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
IDS = {
    "brannoch-hubs",
    "corvane-observatory",
    "dunmarrow-climber",
    "long-ambery-steel",
    "long-ambery-tunnel",
    "mosswick-seedling-house",
    "mosswick-two-frequency",
    "pellbrook-repair",
    "port-sarrow-cane-house",
    "slantgarth-dome",
    "tallow-cross-stall",
    "upper-hollin-hall",
}


def test_the_starter_reads_without_a_note_and_shows_every_section():
    brief = parse_brief(starter_brief())
    assert brief.notes == ()
    assert brief.size.width == 6.0
    shown = set(re.findall(r"^\[+([a-z]+)\]+", starter_brief(), re.MULTILINE))
    assert shown == set(schema("brief")["properties"])


def test_the_starter_names_every_key_but_those_of_other_shapes_and_own_tables():
    left_out = {"cap_symmetry", "rows", "profile", "grid", "side_walls", "ends", "bays"}
    left_out |= {"scale_rise", "inner_braces", "file", "unit", "up", "join"}
    left_out |= {"depth", "breadth", "quantity", "eccentricity", "stiffness", "axial_stiffness"}
    left_out |= {"strength", "fasteners", "mass", "tests"}
    keys = {key for table in schema("brief")["$defs"].values() for key in table["properties"]}
    missing = {key for key in keys if not re.search(rf"\b{key} = ", starter_brief())}
    assert missing == left_out


def test_a_starter_is_written_once_and_never_over_another(tmp_path):
    path = write_starter(tmp_path / "new" / "kit")
    assert read_brief(path).project.name == "First shelter"
    path.write_text("mine")
    with pytest.raises(InputError) as error:
        write_starter(path.parent)
    assert error.value.code == "start-exists"
    assert path.read_text() == "mine"
    with pytest.raises(InputError) as error:
        write_starter(path)
    assert error.value.code in ("start-exists", "start-not-writable")


def test_all_demo_briefs_are_there():
    assert {path.stem for path in EXAMPLES} >= IDS


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_reads_and_assumes_nothing(path):
    brief = read_brief(path)
    allowed = {"assumed-no-cover"} if brief.project.use == "climbing" else set()
    assert {note.code for note in brief.notes} <= allowed
    assert pickle.loads(pickle.dumps(brief)) == brief
    assert json.loads(canonical_json(as_table(brief)))["size"]["width"] == brief.size.width
    if brief.site.levels:
        assert brief.beside(brief.site.levels).is_file()


def test_the_table_of_a_brief_holds_no_path_and_no_text():
    table = as_table(read_brief(EXAMPLES[0]))
    assert set(table) == set(schema("brief")["properties"])
    assert "examples" not in json.dumps(table)


def test_values_and_schema_have_the_same_keys():
    brief = parse_brief(starter_brief())
    definitions = schema("brief")["$defs"]
    for name, field in schema("brief")["properties"].items():
        table = definitions[(field.get("$ref") or field["items"]["$ref"]).rsplit("/", 1)[-1]]
        value = getattr(brief, name)
        value = value[0] if isinstance(value, tuple) else value
        assert set(table["properties"]) == {f.name for f in dataclasses.fields(value)}, name


def test_every_key_of_the_schema_says_what_it_means():
    for table in schema("brief")["$defs"].values():
        assert table["description"]
        assert table["additionalProperties"] is False
        for key, field in table["properties"].items():
            assert field.get("description"), key
    json.dumps(schema("brief"))


def test_an_unknown_schema_is_refused():
    with pytest.raises(InputError) as error:
        schema("hat")
    assert error.value.code == "schema-unknown"


def test_the_page_of_the_brief_is_up_to_date_and_names_every_key():
    page = (ROOT / "docs" / "reference" / "brief.md").read_text(encoding="utf-8")
    assert page == brief_reference(), "write it again: docs/reference/brief.md"
    for table in schema("brief")["$defs"].values():
        for key in table["properties"]:
            assert f"| `{key}` |" in page
