"""A job file of any earlier layout is read: nothing lost, nothing retyped, nothing counted unsaid."""

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.buying.lines import LINES
from estimator.cli.main import main
from estimator.errors import JobError, PriceError
from estimator.files.resources import DEMO_JOB
from estimator.files.xlsx.cells import read_sheets
from estimator.files.xlsx.opening import open_package
from estimator.language import number, text
from estimator.language.units import EACH, METRES
from estimator.model import job_file, price_file
from estimator.model.estimate import estimate
from estimator.model.job import as_now, as_renamed, blank_job
from estimator.model.job_file import UNSAID, begun_file, read_beginning, read_job
from estimator.model.places import SCHEMA
from estimator.model.plan import FILLED, PARTICULARS, TYPED_CELLS, plan
from estimator.model.price_file import read_prices
from estimator.workbook.reading.addresses import _said

LAYOUTS = Path(__file__).parent / "layouts"
WRONG_SINCE = f"says another since than the layout in which it comes: {SCHEMA} for a new one"
OURS = [str(n) for n in range(1, SCHEMA + 1)]


def test_job_files_of_each_layout_are_kept() -> None:
    assert sorted((p.name for p in (LAYOUTS / "jobs").iterdir()), key=int) == OURS


@pytest.mark.parametrize("layout", OURS)
@pytest.mark.parametrize(("name", "total"), [("garden_room", 3709.97), ("lean_to", 1909.01)])
def test_a_job_file_of_each_layout_is_read(layout: str, name: str, total: float) -> None:
    """The demo came to £3,565.10 when layouts 1 to 3 were written: docs/changelog.md says why."""
    job = read_job(LAYOUTS / "jobs" / layout / f"{name}.toml")
    assert estimate(job).cell("quote_total") == total
    assert job.left_out == ()


# ---- what a column says of itself ----


def stood(layout: int) -> set[str]:
    """Every list's column, as the frozen workbook of that layout says its own places."""
    found = _said(read_sheets(open_package(LAYOUTS / f"layout_{layout}.xlsx")), False)
    return {f"{list_name}.{column}" for list_name, column, _ in found}


@pytest.mark.parametrize("layout", [2, 3, 4, 5, 6, 7, 8, 9, 10])
def test_since_is_what_the_kept_workbooks_say(layout: int) -> None:
    """Typed columns of the lists a person fills in, each way round."""
    columns = stood(layout)
    for table in FILLED:
        for item in table.inputs:
            since = max(item.since, table.since)
            then = (item.name, *item.names_before(layout))
            stands = any(f"{table.name}.{name}" in columns for name in then)
            assert stands == (since <= layout), f"{item.name} {WRONG_SINCE}"


@pytest.mark.parametrize("layout", [1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
def test_since_of_a_named_cell_is_what_the_kept_workbooks_say(layout: int) -> None:
    names = read_sheets(open_package(LAYOUTS / f"layout_{layout}.xlsx")).names
    for item in (*TYPED_CELLS, *plan().keyed_items.values()):
        stands = any(name in names for name in (item.name, *item.names_before(layout)))
        assert stands == (item.since <= layout), f"{item.name} {WRONG_SINCE}"


# No file older than layout 6 has a walked floor, and none older than 7 a tray that goes round a
# corner, so that none is told that it lacks these lines.
NOT_MISSED = {"corner_patches", "cut_in_corners"}


def test_since_of_a_line_is_what_the_kept_workbook_says() -> None:
    sheets = read_sheets(open_package(LAYOUTS / "layout_3.xlsx"))
    texts = {str(c.value) for sheet in sheets.parts for c in sheets.cells(sheet).values()}
    newer = {line.key for line in LINES if line.key not in texts}
    assert {line.key for line in LINES if line.since > 3} == newer - NOT_MISSED


def test_nothing_is_newer_than_the_layout() -> None:
    # Layout 5 moved lists to other sheets, and brought nothing: so the newest may be older than it.
    items = [*TYPED_CELLS, *plan().keyed_items.values(), *(i for t in plan().tables.values() for i in t)]  # fmt: skip
    assert max(i.since for i in (*items, *plan().tables.values(), *LINES)) <= SCHEMA


def test_what_is_needed_and_newer_has_a_default() -> None:
    """Else a file older than it could not be read."""
    of_lists = (i for t in FILLED for i in t.inputs if i.since > t.since)
    for item in (*(i for i in TYPED_CELLS if i.since > 1), *of_lists):
        assert not item.required or item.default is not None, item.name


def test_a_blank_job_is_as_by_default() -> None:
    """Worked by hand: the first of each method, 20 % VAT, no profit, and nothing of the client."""
    given = blank_job("nhbc_2024").particulars
    assert {k: v for k, v in given.items() if v is not None} == {
        "basis_choice": "nhbc_2024", "sheet_joints": "whole strips", "tray_joints": "joined",
        "weep_kind": "inserts", "loose_rule": "multiply", "radon_area": "unknown",
        "profit_rule": "markup on cost", "profit_percent": 0, "profit_on_delivery": "no",
        "minimum_charge": 0, "profit_on_work": "no", "vat_status": "standard", "vat_percent": 20,
        "supplier_vat_percent": 20, "client_is_householder": "yes",
    }  # fmt: skip


# ---- migration, with columns that have a past ----

LENGTH = number("length", "Length", METRES, 0, 50, was=(("run", 2), ("extent", 3)))
COUNT = number("number", "Number", EACH, 0, 9, default=1, since=3)
NOTE = text("note", "Note", required=False, since=3)


def test_an_old_name_is_taken_up_to_its_last_layout() -> None:
    inputs = (LENGTH, COUNT, NOTE)
    assert as_now({"run_m": 3.2}, inputs, 2) == {"length_m": 3.2, "number": 1}
    assert as_now({"extent_m": 3.2}, inputs, 2) == {"length_m": 3.2, "number": 1}
    assert as_now({"extent_m": 3.2}, inputs, 3) == {"length_m": 3.2}
    # Unknown by then, so it is left to be refused by its name; and a name of today always wins.
    assert as_now({"run_m": 3.2}, inputs, 3) == {"run_m": 3.2}
    assert as_now({"run_m": 3.2, "length_m": 4.0}, inputs, 1)["length_m"] == 4.0
    assert as_now({"run_m": 3.2, "number": 4}, inputs, 1) == {"length_m": 3.2, "number": 4}
    # A row that the form fills in part is not filled by defaults.
    assert as_renamed({"run_m": 3.2}, inputs, 1) == {"length_m": 3.2}


def with_past(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if some columns had been called otherwise, or not been asked, up to layout 2."""
    past: dict[str, Any] = {
        "side_a": {"was": (("long_side", 2),)},
        "price": {"was": (("cost", 2),)},
    }

    def older(table: Any) -> Any:
        return replace(table, columns=tuple(replace(c, **past.get(c.name, {})) for c in table))

    tables = tuple(older(t) if t.name in ("zones", "book") else t for t in FILLED)
    models = {t.name: replace(job_file.ROW_MODELS[t.name], inputs=t.inputs) for t in tables}
    book = next(t for t in tables if t.name == "book")
    monkeypatch.setattr(job_file, "_FROM_JOB_FILE", tuple(t for t in tables if t is not book))
    monkeypatch.setattr(job_file, "ROW_MODELS", models)
    monkeypatch.setattr(price_file, "BOOK", book)
    monkeypatch.setattr(price_file, "ROW_MODELS", models)
    particulars = tuple(
        replace(i, since=3) if i.name == "minimum_charge" else i for i in PARTICULARS
    )
    monkeypatch.setattr(job_file, "PARTICULARS", particulars)


def old_demo(folder: Path, layout: int) -> Path:
    """The demo as it would have been written then."""
    words = DEMO_JOB.read_text("utf-8").replace(f"layout = {SCHEMA}", f"layout = {layout}")
    words = words.replace("side_a_m", "long_side_m").replace("minimum_charge = 250\n", "")
    prices = DEMO_JOB.with_name("garden_room_prices.csv").read_text("utf-8")
    (folder / "garden_room_prices.csv").write_text(prices.replace(",price,", ",cost,"), "utf-8")
    (folder / "job.toml").write_text(words, "utf-8")
    return folder / "job.toml"


def test_a_file_with_old_names_is_the_same_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = read_job(DEMO_JOB)
    with_past(monkeypatch)
    old = read_job(old_demo(tmp_path, 2))
    assert old.rows["zones"] == now.rows["zones"]
    assert old.rows["book"] == now.rows["book"]
    assert now.particulars["minimum_charge"] == 250
    assert old.particulars == {**now.particulars, "minimum_charge": 0}


def test_old_names_in_a_file_of_today_are_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_past(monkeypatch)
    path = old_demo(tmp_path, 3)
    with pytest.raises(JobError, match=r"zones\[1\].long_side_m: found 'long_side_m'"):
        read_beginning(path.with_name(shutil.copy(path, tmp_path / "begun.toml").name), "nhbc_2024")
    with pytest.raises(PriceError, match="line 1: found 'cost'"):
        read_prices(tmp_path / "garden_room_prices.csv")
    assert len(read_prices(tmp_path / "garden_room_prices.csv", 2)) > 20


# ---- a line that is newer than the file ----

NEWER = ("sill_closers", "cut_in_catchments", "cut_in_intermediates", "cut_in_ridges")


def test_a_newer_line_is_excluded_and_listed(tmp_path: Path) -> None:
    """The sill DPC's closers are in the demo: 2 pieces of closer under its sills."""
    path = old_demo_of(tmp_path, 3)
    job = read_job(path)
    assert set(NEWER) <= set(job.left_out)  # and whichever have come since
    assert {job.line_status[key] for key in job.left_out} == {"excluded"}
    done = CliRunner().invoke(main, ["quantities", str(path), "--json"])
    assert done.exit_code == 0
    assert "sill_closers: Cavity closers below sills" in done.stderr
    lines = {r["label"]: r for r in json.loads(done.stdout)["lines"]}
    assert lines["Cavity closers below sills"]["standing"] == "excluded"
    ledger = estimate(job)
    printed = dict(zip(*(ledger.column("scope_lines", c) for c in ("counted", "scope")), strict=True))  # fmt: skip
    assert printed["Cavity closers below sills"] == "excluded"


def old_demo_of(folder: Path, layout: int, more: str = "") -> Path:
    shutil.copy(DEMO_JOB.with_name("garden_room_prices.csv"), folder)
    words = DEMO_JOB.read_text("utf-8").replace(f"layout = {SCHEMA}", f"layout = {layout}")
    (folder / "job.toml").write_text(words + more, "utf-8")
    return folder / "job.toml"


def test_a_newer_line_that_is_named_is_counted(tmp_path: Path) -> None:
    path = old_demo_of(tmp_path, 3)
    section = "[line_status]\n"
    words = path.read_text("utf-8")
    more = "sill_closers = 'firm'\n"
    words = words.replace(section, section + more) if section in words else words + section + more
    path.write_text(words, "utf-8")
    job = read_job(path)
    assert set(NEWER[1:]) <= set(job.left_out)
    assert "sill_closers" not in job.left_out
    assert estimate(job).cell("quote_total") == 3709.97


def test_a_workbook_of_an_older_file_holds_the_exclusion(tmp_path: Path) -> None:
    path = old_demo_of(tmp_path, 3)
    done = CliRunner().invoke(main, ["workbook", str(path)])
    assert done.exit_code == 0
    assert "cut_in_ridges: Ridge units in existing walls" in done.stderr


def test_in_a_new_job_a_line_that_nothing_covers_stops_the_total(tmp_path: Path) -> None:
    """All closers are taken out of the book: the sills' too are then bought nowhere."""
    path = old_demo_of(tmp_path, SCHEMA)
    prices = tmp_path / "garden_room_prices.csv"
    kept = [x for x in prices.read_text("utf-8").splitlines() if ",closer," not in x]
    prices.write_text("\n".join(kept) + "\n", "utf-8")
    assert read_job(path).left_out == ()
    done = CliRunner().invoke(main, ["quantities", str(path)])
    assert "No total can be quoted yet" in done.stdout
    assert "Cavity closers below sills" in done.stdout


# ---- what a file says of itself ----


def test_what_is_written_says_its_layout(tmp_path: Path) -> None:
    path = tmp_path / "begun.toml"
    path.write_text(begun_file(blank_job("nhbc_2024")), "utf-8")
    assert f"\nlayout = {SCHEMA} " in path.read_text("utf-8")
    assert f"\nlayout = {SCHEMA} " in DEMO_JOB.read_text("utf-8")
    assert UNSAID == 4  # whatever the layout is by now: such files were written up to layout 4


@pytest.mark.parametrize("said", ["0", str(SCHEMA + 1), "true", "'4'", "3.5"])
def test_a_layout_that_is_not_known_is_one_sentence(said: str, tmp_path: Path) -> None:
    path = old_demo_of(tmp_path, SCHEMA)
    path.write_text(
        path.read_text("utf-8").replace(f"layout = {SCHEMA}", f"layout = {said}"), "utf-8"
    )
    with pytest.raises(JobError, match=f"layout: found .*; accepted: a layout from 1 to {SCHEMA} "):
        read_job(path)
