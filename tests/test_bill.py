"""The bill of quantities: net, by stage and element, by the unit each width is measured in."""

import csv
import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from estimator.buying.lines import LINES
from estimator.cli.main import main
from estimator.documents import safe_csv
from estimator.errors import IssueError
from estimator.exports.bill import Billing, amount, bill_of_quantities, csv_rows, entries
from estimator.exports.measuring import of_filling, of_line, of_sheet, of_turn_up
from estimator.files.resources import DEMO_JOB
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job

from .test_gas import job as gas_job

LINE = {line.key: line for line in LINES}


@pytest.fixture(scope="module")
def demo() -> Ledger:
    return estimate(read_job(DEMO_JOB))


def rows(job: Ledger, priced: bool = False) -> list[dict[str, Any]]:
    head, *found = csv_rows(bill_of_quantities(priced).ledger(Billing(job)))
    return [dict(zip(map(str, head), row, strict=True)) for row in found]


# ---- units and widths, by hand ----


@pytest.mark.parametrize(
    ("thickness", "unit", "times"),
    [(50, "m²", 20), (51, "m³", 1), (500, "m³", 1), (501, "m³", 1)],
)
def test_a_bed_is_measured_by_area_up_to_50_mm(thickness: int, unit: str, times: int) -> None:
    """A volume over 50 mm is 20 times as many square metres."""
    found = of_filling("Hardcore", thickness)
    assert (found.unit, found.times) == (unit, times)
    assert ("over 500 mm deep" in found.description.split("not over")[0]) == (thickness == 501)


@pytest.mark.parametrize(("height", "unit", "times"), [(500, "m", 1), (501, "m²", 0.501)])
def test_a_membrane_changes_its_unit_above_500_mm(height: int, unit: str, times: float) -> None:
    found = of_turn_up("DPM to floors", height)
    assert (found.unit, found.times) == (unit, times)
    assert of_sheet("DPM to floors").unit == "m²"


@pytest.mark.parametrize(("width", "unit", "clause"), [(300, "m", "14.16"), (300.1, "m²", "14.17")])
def test_a_dpc_changes_its_unit_above_300_mm(width: float, unit: str, clause: str) -> None:
    found = of_line(LINE["outer_dpc"], "DPC in outer leaf", width, "dpc_roll", "m")
    assert found.unit == unit
    assert f"NRM2 {clause}, from memory" == found.rule


def test_a_jamb_is_vertical_and_a_coping_no_tray() -> None:
    jamb = of_line(LINE["jamb_dpc"], "DPC at jambs", 150, "dpc_roll", "m")
    assert jamb.description == (
        "Damp-proof course not over 300 mm wide, vertical: DPC at jambs, 150 mm wide"
    )
    coping = of_line(LINE["copings"], "DPC under copings", 328, "tray_roll", "m")
    assert coping.description.startswith("Damp-proof course over 300 mm wide, horizontal")


# ---- the demo, from its drawing ----


def test_the_demo_is_measured_as_drawn(demo: Ledger) -> None:
    """Two floors, 7.2 × 4.6 and 3.0 × 2.0 m: 39.12 m². From -0.55 up to the floor lie 65 + 120 +
    150 mm and 50 of blinding, so 165 of hardcore: 39.12 × 0.165 = 6.4548 m³. Six edges of 4.2,
    7.2, 4.6, 2.2, 2.0 and 2.0 m turn up 285 mm."""
    found = {r["description"]: (r["quantity"], r["unit"], r["marks"]) for r in rows(demo)}
    assert found[
        "Imported filling, bed over 50 mm and not over 500 mm deep: Hardcore under floors, "
        "165 mm thick when compacted"
    ] == (6.45, "m³", "Z1, Z2")
    assert found[
        "Imported filling, bed not over 50 mm thick: Blinding on hardcore, 50 mm thick when compacted"
    ] == (39.12, "m²", "Z1, Z2")
    assert found[
        "Membrane over 500 mm wide, horizontal, laps and what seals them included: DPM to floors"
    ] == (39.12, "m²", "Z1, Z2")
    assert found[
        "Membrane not over 500 mm wide, turned up at edges of floors, what is dressed on to a DPC "
        "included: DPM to floors, 285 mm"
    ] == (22.2, "m", "E2, E3, E4, E5, E9, E10")


def test_a_wall_that_gas_sheet_crosses_is_measured_once() -> None:
    """A floor of 4 × 3 m within new walls of 302.5 mm on three sides: 4.605 × 3.3025 = 15.208 m².
    What goes on up is 637.5 - 302.5 = 335 mm, along 4 + 3 + 3 m; at the house 260 mm along 4 m."""
    found = {r["description"]: (r["quantity"], r["unit"]) for r in rows(estimate(gas_job()))}
    membranes = {d.partition(": ")[2]: q for d, q in found.items() if d.startswith("Membrane")}
    assert membranes == {
        "DPM to floors, gas grade": (15.21, "m²"),
        "DPM to floors, gas grade, 260 mm": (4.0, "m"),
        "DPM to floors, gas grade, 335 mm": (10.0, "m"),
    }


def test_items_are_numbered_by_stage_and_stand_by_element(demo: Ledger) -> None:
    found = [r for r in rows(demo) if r["reference"]]
    assert [r["reference"] for r in found[:2]] == ["A1", "A2"]
    stages = list(dict.fromkeys(r["stage"] for r in found))
    assert stages == [
        *("Ground floor", "Walls at DPC level", "Openings", "Roof abutments"),
        "Preliminaries and fees",
    ]
    for stage in stages:
        elements = [r["element"] for r in found if r["stage"] == stage]
        runs = [e for n, e in enumerate(elements) if n == 0 or elements[n - 1] != e]
        assert len(runs) == len(set(runs)), "an element stands in one block"


def test_what_is_not_priced_says_why(demo: Ledger) -> None:
    apart = {r["description"]: r["standing"] for r in rows(demo) if not r["reference"]}
    assert apart["Tape in laps of DPM"] == "included with the membrane"
    assert apart["Insulation in floors"] == "by others"
    assert "Damp-proof course" not in "".join(apart)


def test_every_line_of_the_quantities_is_in_the_bill(demo: Ledger) -> None:
    """By its label, whoever buys it; nothing that is measured is lost."""
    said = " | ".join(r["description"] for r in rows(demo))
    labels = zip(demo.column("lines", "label"), demo.column("lines", "net"), strict=True)
    needed = [label for label, net in labels if net]
    assert len(needed) > 40
    assert [label for label in needed if label not in said] == []


def test_neither_money_nor_supplier_nor_code_is_in_it(demo: Ledger) -> None:
    said = safe_csv.written(csv_rows(bill_of_quantities().ledger(Billing(demo)))).decode("utf-8")
    assert "£" not in said
    for names in (demo.column("suppliers", "name"), demo.column("book", "code")):
        found = [n for n in names if n]
        assert found
        assert not [n for n in found if n in said]


# ---- to be priced ----


def test_an_amount_is_its_rate_to_the_penny() -> None:
    """6.45 × 12.35 = 79.6575; half a penny goes up: 0.5 × 0.01 = 0.005."""
    assert amount(quantity=6.45, rate=12.35) == 79.66
    assert amount(quantity=0.5, rate=0.01) == 0.01
    assert amount(quantity=6.45, rate=None) == 0


def test_rate_and_amount_are_blank_in_the_file(demo: Ledger) -> None:
    head, *found = csv_rows(bill_of_quantities(priced=True).ledger(Billing(demo)))
    assert head[-2:] == ["rate", "amount"]
    assert {tuple(row[-2:]) for row in found} == {("", "")}


# ---- the command ----


def bill(*words: str | Path) -> Any:
    return CliRunner().invoke(main, ["bill", *map(str, words)])


def test_both_files_say_the_same(tmp_path: Path) -> None:
    for name in ("bill.xlsx", "bill.csv"):
        assert bill(DEMO_JOB, "--out", tmp_path / name).exit_code == 0
    book = load_workbook(tmp_path / "bill.xlsx")["Bill"]
    shown = [
        [c.value or "" for c in row[:9]]
        for row in book.iter_rows(min_row=12)
        if row[0].value and row[5].value
    ]
    text = (tmp_path / "bill.csv").read_bytes().decode("utf-8-sig")
    read = [row for row in csv.reader(io.StringIO(text)) if row[0]][1:]
    assert len(read) == 41
    assert [[*r[:5], float(r[5]), *r[6:8]] for r in read] == [
        [*r[:5], float(r[5]), *r[6:8]] for r in shown
    ]


def test_a_bill_to_be_priced_is_open_where_a_rate_goes(tmp_path: Path) -> None:
    assert bill(DEMO_JOB, "--out", tmp_path / "bill.xlsx", "--priced").exit_code == 0
    sheet = load_workbook(tmp_path / "bill.xlsx")["Bill"]
    assert sheet.protection.sheet
    assert sheet["J12"].value is None
    assert not sheet["J12"].protection.locked
    assert sheet["F12"].protection.locked
    assert sheet["K12"].value.startswith("=ROUND(")


def test_a_text_never_becomes_a_formula(tmp_path: Path) -> None:
    job = read_job(DEMO_JOB)
    lines = [{**r, "description": '=HYPERLINK("x")'} for r in job.rows["work_lines"]]
    found = estimate(replace(job, rows={**job.rows, "work_lines": lines}))
    data = safe_csv.written(csv_rows(bill_of_quantities().ledger(Billing(found)))).decode()
    assert "\"'=HYPERLINK(" in data


@pytest.mark.parametrize(
    ("name", "accepted"),
    [
        ("bill.pdf", "--out: found '{}'; accepted: a name ending in .xlsx or .csv."),
        ("there.csv", "{}: found 'a file of that name'; accepted: a new name, or --replace."),
    ],
)
def test_what_cannot_be_written_is_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, accepted: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("there.csv").write_text("mine")
    done = bill(DEMO_JOB, "--out", name)
    assert (done.exit_code, done.output) == (2, accepted.format(name) + "\n")
    assert Path("there.csv").read_text() == "mine"


def test_a_job_that_does_not_measure_has_no_bill() -> None:
    job = read_job(DEMO_JOB)
    zones = [{**job.rows["zones"][0], "formation_level": -0.1}, *job.rows["zones"][1:]]
    found = estimate(replace(job, rows={**job.rows, "zones": zones}))
    with pytest.raises(IssueError, match="Floors whose formation lies too high: 1"):
        entries(found)
