"""Laid out anew: what has no place is listed before anything is written; an older layout is read."""

import json
import re
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB
from estimator.model.job_file import read_job
from estimator.model.places import SCHEMA
from estimator.workbook import build, refresh
from estimator.workbook.reading import addresses as found_module
from estimator.workbook.reading import inputs as typed
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.reading.inputs import read_back

from .canonical import canonical
from .planted import planted
from .raw_package import Parts, at, demo, packed, parts_of, shared_text, with_cell


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words))
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def kept_of(path: Path) -> list[Path]:
    return list(path.parent.glob(f"{path.stem} before *"))


def test_what_has_no_place_is_listed_first(tmp_path: Path) -> None:
    sheet, cell = at("openings", 1, "weeps_each")
    parts = with_cell(planted(), sheet, cell, "<v>99</v>", None)
    parts = with_cell(parts, "Start", "J40", shared_text("ring the client"), "inlineStr")
    parts = with_cell(parts, *at("walls", 1, "length"), "<f>4+5.3</f><v>9.3</v>", None)
    path = tmp_path / "job.xlsx"
    path.write_bytes(packed(parts))
    before = path.read_bytes()
    code, text = run("workbook", str(path), "--afresh")
    assert code == 2
    assert "--leave too" in text
    for wanted in ("Start!J40: 'ring the client'", "typed over", "a formula of your own, =4+5.3",
                   "the sheet ", "comments", "pictures, text boxes or charts", "custom XML"):  # fmt: skip
        assert wanted in text, wanted
    assert path.read_bytes() == before
    assert kept_of(path) == []
    code, text = run("workbook", str(path), "--afresh", "--leave")
    assert code == 0, text
    (kept,) = kept_of(path)
    assert kept.read_bytes() == before
    new = read_back(path)
    assert new.job.rows["walls"][0]["length"] == 9.3
    assert differences(new, laid_ledger(new)) == []
    assert set(parts_of(path.read_bytes())) == set(parts_of(demo()[1]))


def older() -> Parts:
    """As if written before openings had descriptions, and when zones had remarks instead of them."""
    data = demo()[1]
    parts = parts_of(data)
    span = demo()[0].layout.spans["places"]
    places = load_workbook(BytesIO(data))[span.sheet]
    for row in places.iter_rows(min_row=span.first, max_row=span.last):
        said = (row[1].value, row[2].value)
        if said == ("zones", "description"):
            parts = with_cell(
                parts, span.sheet, row[2].coordinate, shared_text("remarks"), "inlineStr"
            )
        elif said == ("openings", "description"):
            for cell in row[:4]:
                parts = with_cell(parts, span.sheet, cell.coordinate, "", None)
    return parts


def test_an_older_layout_is_laid_out_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The program is made a version newer than the file."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(packed(older()))
    for module in (build, found_module, refresh, typed):
        monkeypatch.setattr(module, "SCHEMA", SCHEMA + 1)
    code, text = run("workbook", str(path))
    assert code == 2
    assert f"found 'layout version {SCHEMA}'; accepted: version {SCHEMA + 1}: --afresh" in text
    code, text = run("workbook", str(path), "--afresh")
    assert code == 2
    assert "column remarks of the list zones" in text
    assert "'Window to garden'" in text
    code, text = run("workbook", str(path), "--afresh", "--leave")
    assert code == 0, text
    found, wanted = canonical(read_back(path).job), canonical(read_job(DEMO_JOB))
    for name, rows in wanted.rows.items():
        lost = {"openings": "description", "zones": "description"}.get(name)
        assert found.rows[name] == [{k: v for k, v in r.items() if k != lost} for r in rows]
    assert found.particulars == wanted.particulars


@pytest.mark.parametrize("flag", ["--restore", "--afresh", "--leave"])
def test_a_job_file_is_neither_restored_nor_left(flag: str) -> None:
    code, text = run("workbook", str(DEMO_JOB), flag)
    assert code == 2
    assert "a workbook, with --restore, --afresh or --leave" in text


def test_a_workbook_open_elsewhere_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(
        packed(with_cell(parts_of(demo()[1]), *at("walls", 1, "length"), "<v>9</v>", None))
    )
    before = path.read_bytes()
    for mark in (".~lock.job.xlsx#", "~$job.xlsx"):
        (tmp_path / mark).write_text("")
        code, text = run("workbook", str(path))
        assert code == 2
        assert "a file that is open elsewhere" in text
        assert path.read_bytes() == before
        (tmp_path / mark).unlink()


def test_what_a_person_typed_over_is_named_before_it_is_put_back(tmp_path: Path) -> None:
    """Among many results that are only out of date, the one figure that is lost stands first."""
    parts = with_cell(parts_of(demo()[1]), *at("walls", 1, "length"), "<v>9</v>", None)
    sheet, cell = at("quote_lines", 1, "amount")
    path = tmp_path / "job.xlsx"
    path.write_bytes(packed(with_cell(parts, sheet, cell, "<v>500</v>", None)))
    for words in (["quantities", str(path)], ["workbook", str(path), "--restore"]):
        code, text = run(*words)
        assert code == 0
        listed = [line for line in text.splitlines() if line.lstrip().startswith("job.xlsx: ")]
        assert len(listed) == 6
        assert f"{sheet}!{cell}" in listed[0]
        assert "typed over, shows 500" in listed[0]
        # What follows from it may have been recalculated, and is not said to be only out of date.
        assert "were not recalculated when the file was saved, or follow from" in text
        assert "Recalculate it" not in text


def test_a_file_that_was_not_recalculated_is_said_to_be_so(tmp_path: Path) -> None:
    """One number typed by a program that does not recalculate: how many, the first, and the remedy."""
    parts = with_cell(parts_of(demo()[1]), *at("openings", 1, "number"), "<v>3</v>", None)
    path = tmp_path / "my job.xlsx"
    path.write_bytes(packed(parts))
    code, text = run("check", str(path), "--json")
    assert code == 1
    every = json.loads(text)["workbook"]
    for words in (["quantities", str(path)], ["check", str(path)]):
        lines = run(*words)[1].splitlines()
        head = next(n for n, line in enumerate(lines) if "not recalculated" in line)
        assert lines[head] == (
            f"  {len(every)} cells were not recalculated when the file was saved. The first of them:"
        )
        said = lines[head + 1 : head + 6]
        # The words beside the cell, and the same where it is shown again.
        assert "my job.xlsx: e_cells!B" in said[0]
        assert any("(Weeps over all trays): shows 52, worked out 57." in line for line in said)
        assert lines[head + 6] == f"    and {len(every) - 5} more"
        assert lines[head + 7] == (
            "Recalculate it in a spreadsheet program and save it, or bring it up to date with: "
            f"estimator workbook '{path}'"
        )
    # On the Quote sheet and in lists too: words a person can find there, none of the program's.
    total = re.compile(r"my job\.xlsx: Quote!E\d+ \(Total with VAT\): shows 3709\.97,")
    assert any(map(total.match, every))
    sheet, cell = at("openings", 1, "jambs")
    assert any(s.startswith(f"my job.xlsx: {sheet}!{cell} (O1: Jamb DPC, net)") for s in every)
    # The name of a hidden sheet is where it stands; the words beside it are a person's.
    words_of = [s.partition("!")[2].partition(": shows")[0] for s in every]
    assert all(words_of)
    assert not [w for w in words_of if re.search(r"_|again|\braw\b", w)]
    assert run("workbook", str(path))[0] == 0
    assert "recalculate" not in run("quantities", str(path))[1]
