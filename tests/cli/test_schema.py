import json
from pathlib import Path

import jsonschema

from tests.cli.command import run

EXAMPLE = {
    "callout": "ID",
    "structure": {"kind": "basement"},
    "visits": [{"date": "2031-04-16"}],
    "leaks": [{"leak": "L1", "findings": {"relation-to-joint": "at the joint"}}],
}


def test_the_schema_of_a_callout_takes_a_callout() -> None:
    schema = json.loads(run("schema").out)
    jsonschema.Draft7Validator.check_schema(schema)
    jsonschema.validate(EXAMPLE, schema)


def test_it_knows_the_attributes_of_an_own_folder(tmp_path: Path) -> None:
    (tmp_path / "attributes").mkdir()
    (tmp_path / "attributes" / "own.yaml").write_text(
        "gutter-near:\n  label: gutter near\n  of: leak\n  kind: yes-no\n"
        "  question: Is a gutter near?\n  check: Look up.\n  who: [eyes-here]\n"
        "  because: Invented for a test.\n  source: common-practice\n"
    )
    assert "gutter-near" in run("schema", "--knowledge", tmp_path).out
    assert "gutter-near" not in run("schema").out


def test_the_schema_of_the_result_names_its_parts() -> None:
    schema = json.loads(run("schema", "--result").out)
    assert {"format", "advisor", "knowledge", "leaks", "problems"} <= set(schema["properties"])
