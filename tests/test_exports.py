"""A job's orders and figures as other programs read them."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.documents import safe_csv
from estimator.errors import IssueError
from estimator.exports.order_files import order_files
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job

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
    with pytest.raises(IssueError, match="Needs for which their supplier stocks no product"):
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
    assert "Say what to write" in done.output
