"""``swapwright procedure``: the steps on paper, expectations kept back."""

from __future__ import annotations

import json

import pytest
from command_line import ROOT, complaint, run
from jsonschema import Draft202012Validator

from swapwright.jobs.procedure_schema import procedure_schema
from swapwright.procedures.kinds import KINDS

pytestmark = pytest.mark.arithmetic

COUPE = str(ROOT / "examples" / "ridgeway.toml")


def test_the_steps_are_printed_and_what_a_reading_should_be_is_not():
    done = run("procedure", COUPE, "--quiet")
    assert done.exit_code == 0
    for words in ("design, not confirmed", "Open service disconnect", "Sources of energy"):
        assert words in done.output
    assert "told once the reading has been entered" in done.output.replace("\n       ", "")
    assert "nothing should stand here" not in done.output


def test_what_is_worn_is_told_where_it_changes_and_first_where_parts_may_be_touched():
    said = run("procedure", COUPE, "--quiet").output
    opening = said.index("Open service disconnect")
    worn = said.index("insulating gloves of", opening)
    assert worn < said.index("See the gap of")
    blocks = said.split("- wear: ")[1:]
    assert 3 <= len(blocks) < said.count("- who:")


def test_without_a_file_the_generic_procedure_is_printed():
    done = run("procedure")
    assert done.exit_code == 1
    assert "generic" in done.output
    assert "No absence" in done.output


def test_a_rescue_is_printed_with_what_is_done_first():
    done = run("procedure", COUPE, "--kind", "rescue of a person", "--quiet")
    assert done.exit_code == 0
    assert done.output.index("Cut the source") < done.output.index("Sources of energy")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("file", [COUPE, None])
def test_the_document_of_a_procedure_keeps_its_schema(kind, file):
    files = () if file is None else (file,)
    document = json.loads(run("procedure", *files, "--kind", kind, "--json").output)
    Draft202012Validator(procedure_schema()).validate(document)
    assert document["procedure"]["is_generic"] == (file is None)


def test_the_schema_of_a_procedure_is_printed():
    assert json.loads(run("schema", "--output", "procedure").output)["title"] == "procedure"


def test_json_holds_the_procedure_whole():
    done = run("procedure", COUPE, "--json")
    document = json.loads(done.output)
    assert document["procedure"]["kind"] == "isolation"
    assert document["procedure"]["steps"][-1]["id"] == "cover.neighbours"


def test_an_unknown_kind_is_bad_input():
    done = run("procedure", COUPE, "--kind", "isolatoin")
    assert done.exit_code == 2
    assert "did you mean: isolation" in complaint(done)
