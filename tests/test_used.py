"""What was used on site: a list out, filled in and back, kept in an office's record, shown as wastage.

Figures are worked by hand. That the wastage of several jobs is the one of their sums is the ratio
estimator of sampling: W. G. Cochran, Sampling Techniques, chapter 6 (from memory).
"""

import csv
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from estimator.cli.main import main
from estimator.errors import FileError
from estimator.files.resources import DEMO_JOB
from estimator.used_on_site.record import Entry, kept_with, read_record, wastages, written
from estimator.used_on_site.used_list import COLUMNS

from .made import worked_out

FERN = "Fernbank Supplies (invented)"
JOB = str(DEMO_JOB)


def run(*args: object) -> Result:
    return CliRunner().invoke(main, [str(a) for a in args])


def filled(folder: Path, **figures: dict[str, str]) -> Path:
    """The demo's list with cells filled in: by code and column."""
    out = folder / "list.csv"
    assert run("used", JOB, "--out", out, "--replace").exit_code == 0
    with out.open(encoding="utf-8-sig", newline="") as file:
        head, *rows = csv.reader(file)
    for row in rows:
        for column, text in figures.get(row[head.index("code")].replace("-", "_"), {}).items():
            row[head.index(column)] = text
    with out.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file).writerows([head, *rows])
    return out


def test_the_list_holds_what_wastage_is_added_to(tmp_path: Path) -> None:
    """Crushed stone and DPC are on it, sheet in whole strips and stop ends by the piece are not."""
    lines = filled(tmp_path).read_text("utf-8-sig").splitlines()
    codes = [line.split(",")[2] for line in lines[1:]]
    assert {"F-01", "F-02", "F-05"} <= set(codes)
    assert not {"F-03", "F-11"} & set(codes)
    assert lines[0].split(",") == list(COLUMNS)


def test_used_over_laid_is_the_wastage_by_hand(tmp_path: Path) -> None:
    """13.5 t of stone used, 12.522312 t laid: 7.8 %. Of six bags of 0.8 t one went back: 4.0 t over
    3.7164 t, 7.6 %. DPC in two widths: 1.2 and 1 rolls of 30 m are 66 m over 31.955 + 25.4 m, 15.1 %."""
    found = filled(
        tmp_path,
        F_01={"packs_used": "13.5"},
        F_02={"packs_returned": "1"},
        F_05={"packs_used": "1.2"},
        F_06={"packs_used": "1"},
    )
    said = run("used", JOB, found).output
    assert (
        "Hardcore, from Fernbank Supplies (invented): 13.50 t used, 12.52 t to be laid: 7.8 %"
        in said
    )
    assert "4.00 t used, 3.72 t to be laid: 7.6 %" in said
    assert "66.00 m used, 57.36 m to be laid: 15.1 %" in said
    assert "Nothing is kept" in said


def test_a_list_saved_as_a_workbook_comes_back(tmp_path: Path) -> None:
    found = filled(tmp_path, F_01={"packs_used": "13.5"})
    book = openpyxl.Workbook()
    with found.open(encoding="utf-8-sig", newline="") as file:
        for row in csv.reader(file):
            book.active.append([float(c) if c.replace(".", "", 1).isdigit() else c for c in row])
    book.save(tmp_path / "list.xlsx")
    assert run("used", JOB, tmp_path / "list.xlsx").output == run("used", JOB, found).output


def test_the_record_keeps_one_line_for_a_job_and_material(tmp_path: Path) -> None:
    record = tmp_path / "record.csv"
    run("used", JOB, filled(tmp_path, F_01={"packs_used": "13.5"}), "--keep", record)
    again = run("used", JOB, filled(tmp_path, F_01={"packs_used": "13"}), "--keep", record)
    assert "1 line added, in place of 1 line of this job." in again.output
    (entry,) = read_record(record)
    assert (entry.delivered, entry.used, entry.returned) == (14, 13, 0)
    shown = run("wastage", record, JOB).output
    assert "3.8 % on one job" in shown  # 13 / 12.522312 - 1 = 0.03815
    assert "The job counts on 10.0 %" in shown


def test_wastage_over_jobs_is_that_of_their_sums() -> None:
    """10 t laid and 12 used, 90 t laid and 99 used: 111 over 100, 11 %; of one job 10 to 20 %."""
    entries = [
        Entry("2026-11-01", "a", FERN, "Hardcore", "t", 10, 12, 0, 12),
        Entry("2026-11-02", "b", FERN, "Hardcore", "t", 90, 100, 1, 99),
        Entry("2026-11-02", "b", "Another", "Hardcore", "t", 10, 10, 0, 9),
    ]
    other, one = sorted(wastages(entries), key=lambda w: w.supplier)
    assert (one.jobs, one.percent, one.least, one.most) == (2, 11, 10, 20)
    assert (other.jobs, other.percent) == (1, -10)
    assert len(kept_with(entries, entries[:1])) == 3


def test_a_record_is_read_as_it_was_written(tmp_path: Path) -> None:
    entries = [Entry("2026-11-01", "=a", "'b", "@c, d", "t", 0.1, 12, 0, 12.5)]
    path = tmp_path / "record.csv"
    path.write_bytes(written(entries))
    assert read_record(path) == entries
    with path.open(encoding="utf-8-sig", newline="") as file:
        assert [row[1][0] for row in csv.reader(file)][
            1
        ] == "'"  # no program takes it for a formula


@pytest.mark.parametrize(
    ("figures", "sentence"),
    [
        ({"packs_used": "-1"}, "line 2, column I: found '-1'; accepted: packs, a figure from 0, or blank"),
        ({"packs_used": "a few"}, "column I: found 'a few'"),
        ({"packs_used": "14", "packs_returned": "1"}, "up to the 14 packs delivered"),
        ({"packs_returned": "15"}, "column J: found '15'"),
        ({"packs_used": "1", "job": "Another"}, "column A: found 'Another'; accepted: the job, Garden"),
        ({"packs_used": "1", "code": "X"}, "column C: found 'X from Fernbank"),
        ({"packs_used": "1", "code": "F-02", "each_holds": "0.8"}, "column C: found 'F-02'; accepted: each product once"),
        ({"packs_used": "1", "each_holds": "2"}, "column F: found '2'; accepted: 1 t, as the job has it"),
        ({"packs_used": "0.5", "packs": "0"}, "column E: found '0'; accepted: the packs delivered"),
        ({}, "found 'no figure'"),
    ],
)  # fmt: skip
def test_a_list_that_cannot_be_is_refused_at_its_cell(
    tmp_path: Path, figures: dict[str, str], sentence: str
) -> None:
    record = tmp_path / "record.csv"
    done = run("used", JOB, filled(tmp_path, F_01=figures), "--keep", record)
    assert done.exit_code == 2
    assert sentence in done.output
    assert not record.exists()


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("2026-11-01,a,b,c,t,0,1,0,1", "line 2, laid: found '0'; accepted: an amount, more than 0"),
        ("2026-11-01,a,b,c,t,1,1,0,x", "line 2, used: found 'x'; accepted: an amount, from 0"),
        ("1 November,a,b,c,t,1,1,0,1", "line 2, day: found '1 November'"),
        ("2026-11-01,a,,c,t,1,1,0,1", "line 2, supplier: found nothing"),
        ("2026-11-01,a,b,c,t,1", "found '6 cells'; accepted: 9"),
    ],
)
def test_a_record_that_cannot_be_is_refused(tmp_path: Path, line: str, sentence: str) -> None:
    path = tmp_path / "record.csv"
    path.write_text(f"day,job,supplier,material,unit,laid,delivered,returned,used\n{line}\n")
    with pytest.raises(FileError, match=sentence):
        read_record(path)
    path.write_text("a,b\n")
    with pytest.raises(FileError, match="line 1: found 'a'; accepted: the headings day, job"):
        read_record(path)


def test_no_price_is_in_the_list(tmp_path: Path) -> None:
    """It goes to site: what packs cost does not."""
    said = filled(tmp_path).read_text("utf-8-sig").splitlines()[1:]
    fields = {field for line in said for field in line.split(",")}
    prices = {p for p in worked_out("demo").column("order_lines", "price") if isinstance(p, float)}
    assert len(prices) > 5
    assert not {f"{p:.15g}" for p in prices} & fields - {"1", "2", "3", "15", "20", "30", "50"}
