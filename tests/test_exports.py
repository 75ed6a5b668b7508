"""A job's orders and figures as other programs read them."""

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.documents import safe_csv
from estimator.errors import IssueError
from estimator.exports.figures import figures
from estimator.exports.order_files import order_files
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job

ROOT = Path(__file__).parent.parent
HEAD = ["code", "description", "packs", "each_holds", "unit", "used_for"]


def export(*words: str | Path) -> Any:
    return CliRunner().invoke(main, ["export", *map(str, words)])


# ---- orders ----


def test_an_order_names_product_packs_unit_and_reference() -> None:
    """31 weeps over openings, in packs of 10, are 4 packs: the only line of that supplier."""
    files = order_files(estimate(read_job(DEMO_JOB)))
    assert list(files) == [
        "Order - Garden room extension (invented example) - Fernbank Supplies (invented).csv",
        "Order - Garden room extension (invented example) - Quayside Stores (invented).csv",
    ]
    line = ["Q-09", "Weeps for perpends, pack of 10", "4", "10", "nr", "Weeps over openings"]
    assert safe_csv.read(list(files.values())[1]) == [HEAD, line]
    assert all("£" not in data.decode() for data in files.values())


def test_a_text_of_a_product_is_no_formula_in_the_order() -> None:
    job = read_job(DEMO_JOB)
    book = [{**r, "code": "=1+1"} if r["code"] == "Q-09" else r for r in job.rows["book"]]
    data = list(order_files(estimate(replace(job, rows={**job.rows, "book": book}))).values())[1]
    assert b'"\'=1+1"' in data


def test_an_order_that_lacks_something_is_refused() -> None:
    """Without the weeps' product a need is left over, and an order file would not say so."""
    job = read_job(DEMO_JOB)
    book = [r for r in job.rows["book"] if r["material"] != "weep"]
    with pytest.raises(IssueError, match="Needs that their supplier has no product for"):
        order_files(estimate(replace(job, rows={**job.rows, "book": book})))


def test_orders_are_written_once_and_not_over_others(tmp_path: Path) -> None:
    first = export(DEMO_JOB, "--orders", tmp_path / "out")
    assert first.exit_code == 0
    assert len(list((tmp_path / "out").iterdir())) == 2
    again = export(DEMO_JOB, "--orders", tmp_path / "out")
    assert again.exit_code == 2
    assert "accepted: a new name, or --replace" in again.output
    assert export(DEMO_JOB, "--orders", tmp_path / "out", "--replace").exit_code == 0


def test_nothing_asked_for_is_said() -> None:
    done = export(DEMO_JOB)
    assert done.exit_code == 2
    assert "Say what to write: --json FILE" in done.output


# ---- every figure ----


@pytest.fixture(scope="module")
def worked_example(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The job of docs/worked-example.md, whose figures are worked by hand there, through a file."""
    folder = tmp_path_factory.mktemp("example")
    page = (ROOT / "docs" / "worked-example.md").read_text("utf-8")
    for kind, name in (("toml", "job.toml"), ("csv", "prices.csv")):
        (block,) = re.findall(rf"^```{kind}\n(.*?)^```", page, re.M | re.S)
        (folder / name).write_text(block, "utf-8")
    done = export(folder / "job.toml", "--json", folder / "job.json")
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads((folder / "job.json").read_text("utf-8"))
    return found


def test_the_figures_are_those_worked_by_hand(worked_example: dict[str, Any]) -> None:
    """751.80 and 20 % of it, 150.36, are 902.16."""
    cells = worked_example["cells"]
    assert [cells[c]["value"] for c in ("quote_net", "quote_vat", "quote_total")] == [
        *(751.80, 150.36),
        902.16,
    ]
    assert cells["quote_total"] == {
        "label": "Total with VAT", "type": "number", "unit": "£", "value": 902.16
    }  # fmt: skip


def test_the_file_is_of_the_shape_that_is_described(worked_example: dict[str, Any]) -> None:
    schema = json.loads((ROOT / "docs" / "figures.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(worked_example, schema)
    broken = {**worked_example, "cells": {**worked_example["cells"], "more": 1}}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(broken, schema)


def test_a_row_has_each_column_and_each_column_its_unit(worked_example: dict[str, Any]) -> None:
    for listed in worked_example["lists"].values():
        names = [c["name"] for c in listed["columns"]]
        assert all(list(row) == names for row in listed["rows"])
    walls = worked_example["lists"]["walls"]
    units = {c["name"]: c["unit"] for c in walls["columns"]}
    assert (units["length"], units["outer_leaf"]) == ("m", "mm")


def test_figures_are_not_rounded_and_spare_rows_are_left_out() -> None:
    """A slope over a cavity of 150 mm that rises 150 is √45000 = 212.13203... mm: no round figure."""
    found = figures(estimate(read_job(DEMO_JOB)))
    zones = found["lists"]["zones"]["rows"]
    assert [z["mark"] for z in zones] == ["Z1", "Z2"]
    girths = [r["tray_girth"] for r in found["lists"]["openings"]["rows"]]
    assert any(round(g, 3) != g for g in girths)
    assert found["lists"]["book"]["rows"][0]["code"] == "F-01"


def test_a_blank_number_is_null_and_a_blank_text_is_empty() -> None:
    found = figures(estimate(read_job(DEMO_JOB)))
    zone = found["lists"]["zones"]["rows"][0]
    assert zone["void"] is None
    assert found["cells"]["day_foundations"]["value"] is None
    assert found["cells"]["drawn_floor"]["value"] == ""
