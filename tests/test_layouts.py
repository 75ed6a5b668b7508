"""A workbook of an earlier layout is read, or refused in one sentence: whatever the command.

The files are kept as they were written, and are never written again: see layouts/README.md.
"""

import copy
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.files.xlsx.cells import read_sheets
from estimator.files.xlsx.opening import open_package
from estimator.model.places import SCHEMA
from estimator.model.plan import plan
from estimator.workbook.reading.addresses import layout_of
from estimator.workbook.reading.inputs import read_back

from .conftest import in_turn

LAYOUTS = Path(__file__).parent / "layouts"
READ = (
    "layout_2_first",
    "layout_2",
    "layout_3",
    "layout_4",
    "layout_5_first",
    "layout_5",
    "layout_6",
    "layout_7",
    "layout_8",
    "layout_9",
    "layout_10",
)
# Layout 1 does not say where its lists stand, so there is nothing to read them by.
NOT_READ = ("layout_1",)
READING = ("quantities", "check", "compare")


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words))
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def copied(name: str, folder: Path) -> Path:
    return Path(shutil.copy(LAYOUTS / f"{name}.xlsx", folder / "job.xlsx"))


def every_command(path: Path, out: Path) -> list[tuple[str, ...]]:
    job = str(path)
    return [
        *((name, job) for name in READING),
        ("changes", job, job),
        ("request", job, "--out", str(out / "asked")),
        ("prices", job, job, "--show"),
        ("issue", job, "--out", str(out / "issued")),
        ("workbook", job),
        ("workbook", job, "--restore"),
    ]


@pytest.mark.parametrize(("last", "read"), [(3, True), (2, False)])
def test_what_was_renamed_since_is_read_under_its_old_name(last: int, read: bool) -> None:
    """As if a column and a named cell had other names by now, and had those of the file until then."""
    sheets = read_sheets(open_package(LAYOUTS / "layout_3.xlsx"))
    as_it_is, _ = layout_of(sheets, plan(), 3)
    now, walls = copy.copy(plan()), plan().tables["walls"]
    past = {"cavity_below": ("clear_below", (("cavity_below", last),))}
    columns = [
        replace(c, name=past[c.name][0], was=past[c.name][1]) if c.name in past else c
        for c in walls
    ]
    now.tables = {**plan().tables, "walls": replace(walls, columns=tuple(columns))}
    title = replace(plan().cells["job_title"], name="title", was=(("job_title", last),))
    now.cells = {**{n: c for n, c in plan().cells.items() if n != "job_title"}, "title": title}
    found, unknown = layout_of(sheets, now, 3)
    assert ("column cavity_below of the list walls" in unknown) == (not read)
    assert ("the named cell job_title" in unknown) == (not read)
    if read:
        was = as_it_is.spans["walls"].letters
        assert found.spans["walls"].letters["clear_below"] == was["cavity_below"]
        assert found.cells["title"] == as_it_is.cells["job_title"]


def test_each_layout_that_was_shipped_is_kept() -> None:
    kept = {p.stem for p in LAYOUTS.glob("layout_*.xlsx")}
    assert kept == {*READ, *NOT_READ}
    assert {f"layout_{n}" for n in range(1, SCHEMA)} <= kept, "keep one of the layout before"


@pytest.mark.parametrize("name", NOT_READ)
def test_a_layout_that_cannot_be_read_is_one_sentence(name: str, tmp_path: Path) -> None:
    path = copied(name, tmp_path)
    for words in (*every_command(path, tmp_path), ("workbook", str(path), "--afresh", "--leave")):
        code, said = run(*words)
        assert code == 2, words
        assert said.count("\n") == 1, said
        assert "layout version 1" in said
        assert "Write it anew from its job file" in said
    assert [p.name for p in tmp_path.iterdir()] == ["job.xlsx"]


@pytest.mark.parametrize("name", READ)
def test_what_was_typed_in_an_earlier_layout_is_read(name: str, tmp_path: Path) -> None:
    """Zone Z1 of the demo is 7.2 m by 4.6 m; the first supplier adds 10 % to hardcore."""
    path = copied(name, tmp_path)
    job = read_back(path).job
    assert job.particulars["client_name"] == "A. Example (invented)"
    zone = job.rows["zones"][0]
    assert (zone["mark"], zone["side_a"], zone["side_b"]) == ("Z1", 7.2, 4.6)
    assert job.wastage["Fernbank Supplies (invented)"]["hardcore"] == 10
    assert len(job.rows["suppliers"]) == 3


@pytest.mark.parametrize("name", READ)
def test_every_command_reads_it_or_says_what_to_do(name: str, tmp_path: Path) -> None:
    """`check` finds what it finds in the demo; what would write into the file says how to go on.

    In the short run every command with one of the layouts, with another for each version.
    """
    path = copied(name, tmp_path)
    before = path.read_bytes()
    earlier = read_back(path).is_earlier
    commands, turn = every_command(path, tmp_path), READ.index(name)
    for words in in_turn([*commands[turn:], *commands[:turn]], len(READ)):
        code, said = run(*words)
        if words[0] in (*READING, "changes", "request"):
            assert code == (1 if words[0] == "check" else 0), (words, said)
            assert ("estimator workbook --afresh" in said) == earlier, (words, said)
        elif words[0] == "prices":
            assert code == 2, (words, said)
        elif earlier:
            assert code == 2, (words, said)
            assert "--afresh lays it out anew" in said, (words, said)
            assert path.read_bytes() == before, words


@pytest.mark.parametrize("name", READ)
def test_it_is_laid_out_anew(name: str, tmp_path: Path) -> None:
    path = copied(name, tmp_path)
    old = read_back(path).job
    code, said = run("workbook", str(path), "--afresh", "--leave")
    assert code == 0, said
    new = read_back(path)
    assert new.schema == SCHEMA
    assert new.job.rows["zones"][0]["side_a"] == old.rows["zones"][0]["side_a"] == 7.2
    assert "Total with VAT" in said
