"""A workbook full of other people's parts is refreshed: only our cells change, nothing else."""

from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from lxml import etree
from openpyxl import load_workbook

from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.refresh import refreshed, with_typed

from .hosts import by_gnumeric, by_libreoffice, figures
from .planted import PLANTS, planted
from .raw_package import Parts, at, demo, packed, part_of, parts_of, returned, with_cell
from .test_returned import with_row

_C = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}c"
CHAIN = "xl/calcChain.xml"


def edited() -> Parts:
    sheet, address = at("openings", 3, "lintel")
    return with_cell(planted(), sheet, address, "<v>9.5</v>", None)


def wanted() -> float:
    job = with_row(read_job(DEMO_JOB), "openings", 3, lintel=9.5)
    total: float = estimate(job).cell("quote_total")
    assert total != estimate(read_job(DEMO_JOB)).cell("quote_total")
    return total


def shell(data: bytes, without: set[str]) -> bytes:
    """A sheet's XML, canonical, without what stands in those cells."""
    tree = etree.fromstring(data)
    for cell in tree.iter(_C):
        if cell.get("r") in without:
            for child in list(cell):
                cell.remove(child)
            cell.attrib.pop("t", None)
    return etree.tostring(tree, method="c14n")


def test_only_the_cells_that_had_to_change_do() -> None:
    before = edited()
    found = returned(before)
    data, changed = refreshed(found)
    after = parts_of(data)
    touched = {part_of(before, sheet) for sheet, _, _ in (d.at for d in changed)}
    assert list(after) == list(before)
    moved = {n for n in before if after[n] != before[n]}
    charts = {n for n in moved if n.startswith("xl/charts/")}  # those that read such a cell
    assert moved - charts == touched
    assert charts
    assert not touched & set(PLANTS)
    openings, walls = (at("openings", 1, column)[0] for column in ("trays", "lintel"))
    assert part_of(before, openings) in touched
    for sheet in {d.at[0] for d in changed}:
        name = part_of(before, sheet)
        cells = {f"{d.where.split('!')[1].split(' ')[0]}" for d in changed if d.at[0] == sheet}
        if sheet == openings:  # the cells of the shared formula each got their own text
            letter = at("openings", 1, "trays")[1].rstrip("0123456789")
            cells |= {f"{letter}{r}" for r in range(1, 60)}
        assert shell(before[name], cells) == shell(after[name], cells), sheet
    assert openings != walls
    for sheet in (openings, walls):
        assert b"sparklineGroup" in after[part_of(before, sheet)]
    again = returned(after)
    assert differences(again, laid_ledger(again)) == []
    assert laid_ledger(again).cell("quote_total") == wanted()


@pytest.mark.parametrize("row", [1, 3])
def test_a_cell_of_a_shared_formula_typed_over_is_put_back(row: int) -> None:
    """The first of the cells holds the text for all: without it the others keep their own."""
    sheet, address = at("openings", row, "trays")
    parts = planted()
    if row == 1:  # a program moves the text to the next cell; here the whole list has lost it
        parts = with_cell(parts, *at("openings", 3, "trays"), "<v>5</v>", None)
    else:
        parts = with_cell(parts, sheet, address, "<v>5</v>", None)
    found = returned(parts)
    data, changed = refreshed(found, restore=True)
    assert len(changed) == 1
    after = parts_of(data)
    assert CHAIN not in after
    assert b"calcChain" not in after["[Content_Types].xml"] + after["xl/_rels/workbook.xml.rels"]
    again = returned(after)
    assert differences(again, laid_ledger(again)) == []


def test_what_cannot_stand_in_a_cell_is_not_put_there() -> None:
    found = returned(parts_of(demo()[1]))
    with pytest.raises(ValueError, match="control characters"):
        with_typed(found, {}, {"client_name": "a\x00b"})
    put = with_typed(found, {}, {"client_name": "=1+1 _x0041_"})
    assert put.job.particulars["client_name"] == "=1+1 _x0041_"


def test_the_command_keeps_the_old_file(tmp_path: Path) -> None:
    file = tmp_path / "job.xlsm"
    old = packed(edited())
    file.write_bytes(old)
    answer = CliRunner().invoke(main, ["workbook", str(file)])
    assert answer.exit_code == 0, answer.output
    [kept] = [f for f in tmp_path.iterdir() if f != file]
    assert kept.read_bytes() == old
    assert parts_of(file.read_bytes())["xl/vbaProject.bin"] == PLANTS["xl/vbaProject.bin"]


def shown(found: dict[str, dict[str, Any]]) -> Any:
    sheet, address = demo()[0].layout.cells["quote_total"]
    return found[sheet][address.replace("$", "")]


@pytest.mark.host
def test_other_programs_open_it_and_show_the_right_total(tmp_path: Path) -> None:
    data, _ = refreshed(returned(edited()))
    file = tmp_path / "job.xlsx"
    file.write_bytes(data)
    assert shown(figures(file)) == wanted()
    book = load_workbook(file, data_only=True)
    sheet, address = demo()[0].layout.cells["quote_total"]
    assert book[sheet][address.replace("$", "")].value == wanted()
    assert book["Mine"]["B2"].value == 4
    for saved in (by_libreoffice([file], tmp_path)["job"], by_gnumeric([file], tmp_path)["job"]):
        assert shown(figures(saved)) == wanted()
        assert figures(saved)["Mine"]["B2"] == 4
