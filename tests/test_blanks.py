"""Any cell or field left blank, or two of them: a result, or one sentence that says which."""

import random
import re
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli import given_back as given_module
from estimator.cli import making, reading
from estimator.cli.main import main
from estimator.errors import EstimateError
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.files.xlsx.cells import Stored, address_of, place
from estimator.files.xlsx.opening import package_of
from estimator.model.job_file import read_job
from estimator.model.plan import FILLED, TYPED_CELLS
from estimator.questionnaire.offers import marks
from estimator.workbook.reading.inputs import Returned, _read, check_agreed, read_package
from estimator.workbook.reading.locations import SECTIONS

from .made import made
from .raw_package import packed, parts_of, with_cell

At = tuple[str, tuple[int, int]]
PAIRS = 3
SINGLE = 50  # cells of each workbook, drawn by a fixed seed
EVERY = 16  # of so many cells, one has every rule asked, and each command in its turn
COMMANDS = ("quantities", "check", "changes", "compare")
JOBS = {"lists": DEMO_JOB, "form": DEMO_FORM}


def written(name: str) -> bytes:
    return made({"lists": "demo", "form": "form"}[name]).data


@cache
def opened(name: str) -> Returned:
    return read_package(package_of(Path("job.xlsx"), written(name)))


def inputs(found: Returned) -> Iterator[At]:
    """The cell of everything typed: named, in each list's first row, beside each shipped list."""
    for item in TYPED_CELLS:
        sheet, address = found.layout.cell(item.name)
        yield sheet, place(address.replace("$", ""))
    for table in FILLED:
        span = found.layout.typed(table.name)
        for item in table.inputs:
            yield span.sheet, place(f"{span.letters[item.name]}{span.first}")
    for table_name, column in SECTIONS.values():
        span = found.layout.fronts[table_name]
        yield from ((span.sheet, place(f"{span.letters[column]}{r}"))
                    for r in range(span.first, span.first + 2))  # fmt: skip


def filled(found: Returned) -> list[At]:
    return [(s, at) for s, at in dict.fromkeys(inputs(found)) if at in found.sheets.cells(s)]


def refused_or_worked(
    found: Returned, blank: tuple[At, ...], names: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> str:
    """The outcome with those cells blank: every command named is run on what is read of them."""
    kept = {}
    for sheet, at in blank:
        cells = found.sheets.cells(sheet)
        assert isinstance(cells, dict)
        kept[sheet, at] = cells.pop(at)
    try:
        found.where.rows.clear()
        found.where.over.clear()
        found.notes.clear()

        def again(path: Path) -> Returned:
            _read(found)
            check_agreed(found)
            return found

        monkeypatch.setattr(given_module, "read_checked", again)
        # What the sheets still show is another test's: here every rule is asked.
        monkeypatch.setattr(given_module, "differences", lambda returned, ledger: [])
        outcome = ""
        if not names:
            try:
                again(Path("job.xlsx"))
            except EstimateError as error:
                return str(error)
        for name in names:
            words = (name, "job.xlsx", "job.xlsx") if name == "changes" else (name, "job.xlsx")
            result = CliRunner().invoke(main, list(words))
            places = [f"{s}!{address_of(at)}" for s, at in blank]
            assert result.exit_code in (0, 1, 2), (places, name, result.output[-300:])
            if result.exit_code == 2:
                assert result.output.count("\n") == 1, (places, result.output)
                assert "job.xlsx: " in result.output, (places, result.output)
                outcome = result.output
                break
        return outcome
    finally:
        for (sheet, at), stored in kept.items():
            cells = found.sheets.cells(sheet)
            assert isinstance(cells, dict)
            cells[at] = stored


@pytest.mark.parametrize("name", JOBS)
def test_each_cell_blank_by_itself(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    found = opened(name)
    cells = filled(found)
    outcomes = []
    drawn = random.Random(f"each {name}").sample(cells, SINGLE)
    for n, cell in enumerate(drawn):
        commands = (COMMANDS[n // EVERY % 4],) if n % EVERY == 0 else ()
        outcomes.append(refused_or_worked(found, (cell,), commands, monkeypatch))
    assert len(cells) > 60
    assert 5 < sum(o != "" for o in outcomes) < SINGLE


@pytest.mark.parametrize("name", JOBS)
def test_pairs_of_cells_blank(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    found = opened(name)
    r = random.Random(f"blank {name}")
    cells = filled(found)
    for _ in range(PAIRS):
        pair = tuple(r.sample(cells, 2))
        refused_or_worked(found, pair, ("quantities",), monkeypatch)


NEEDED = ("profit_percent", "vat_percent", "supplier_vat_percent", "vat_status", "basis_choice",
          "profit_rule", "sheet_joints", "minimum_charge")  # fmt: skip


@pytest.mark.parametrize("name", NEEDED)
def test_what_every_rule_needs_is_named_with_its_cell(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = opened("lists")
    sheet, address = found.layout.cell(name)
    cell = (sheet, place(address.replace("$", "")))
    said = refused_or_worked(found, (cell,), ("quantities",), monkeypatch)
    assert said.startswith(f"job.xlsx: {sheet}!{address.replace('$', '')} ("), said
    assert "found nothing; accepted: " in said


def test_the_question_behind_a_row_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    found = opened("form")
    sheet, address = found.layout.cell("extension_floor")
    at = address.replace("$", "")
    said = refused_or_worked(found, ((sheet, place(at)),), ("quantities",), monkeypatch)
    assert said.startswith(f"job.xlsx: {sheet}!{at} ("), said
    assert "by which the form fills Floors!" in said


def test_a_row_of_the_form_typed_over_in_vain_is_named_with_its_cell() -> None:
    """No windows are asked for, and a width is typed over in their row."""
    found = opened("form")
    span, row = found.layout.typed("openings"), marks("openings").index("XN")
    address = f"{span.letters['width']}{span.first + row}"
    sheet, at = found.layout.cell("extension_windows")
    typed = {
        (sheet, place(at.replace("$", ""))): Stored(0.0, None, 0.0),
        (span.sheet, place(address)): Stored(1.5, None, 1.5),
    }
    kept = {(s, a): found.sheets.cells(s).get(a) for s, a in typed}
    try:
        for (s, a), stored in typed.items():
            found.sheets.cells(s)[a] = stored  # type: ignore[index]
        found.where.rows.clear()
        _read(found)
        with pytest.raises(EstimateError) as error:
            check_agreed(found)
    finally:
        for (s, a), was in kept.items():
            found.sheets.cells(s).pop(a)  # type: ignore[attr-defined]
            if was is not None:
                found.sheets.cells(s)[a] = was  # type: ignore[index]
    assert str(error.value).startswith(f"job.xlsx: Walls!{address} (Width): found 1.5; accepted")
    assert "the row XN" in str(error.value)


def test_the_file_itself_with_a_blank_rate(tmp_path: Path) -> None:
    """Nothing stands in for a part of the way here: the file is changed, and every command run."""
    sheet, address = opened("lists").layout.cell("vat_percent")
    path = tmp_path / "job.xlsx"
    parts = with_cell(parts_of(written("lists")), sheet, address.replace("$", ""), "", None)
    path.write_bytes(packed(parts))
    before = path.read_bytes()
    job, out = str(path), str(tmp_path / "out")
    for words in (("quantities", job), ("check", job), ("compare", job), ("changes", job, job),
                  ("request", job, "--out", out), ("issue", job, "--out", out), ("workbook", job),
                  ("workbook", job, "--afresh"), ("workbook", job, "--restore")):  # fmt: skip
        result = CliRunner().invoke(main, list(words))
        assert result.exit_code == 2, (words, result.output)
        assert f"job.xlsx: {sheet}!{address.replace('$', '')} (" in result.output, words
        assert "found nothing" in result.output
    assert [p.name for p in tmp_path.iterdir()] == ["job.xlsx"]
    assert path.read_bytes() == before


# Job files


def fields(text: str) -> list[int]:
    """The lines that are fields, one of each name in each section."""
    section, found = "", {}
    for n, line in enumerate(text.splitlines()):
        if line.startswith("["):
            section = line.strip()
        elif re.match(r"\w+ = ", line):
            found.setdefault((section, line.partition(" ")[0]), n)
    return list(found.values())


def outcome(folder: Path, text: str, command: str) -> str:
    (folder / "job.toml").write_text(text, "utf-8")
    words = (command, *[str(folder / "job.toml")] * (2 if command == "changes" else 1))
    result = CliRunner().invoke(main, list(words))
    assert result.exit_code in (0, 1, 2), (command, result.output[-300:])
    if result.exit_code == 2:
        assert result.output.count("\n") == 1, result.output
        assert re.match(r"\S*(job\.toml|prices\.csv)", result.output), result.output
        return result.output
    return ""


@pytest.mark.parametrize("name", JOBS)
def test_each_field_left_out_or_of_another_kind(name: str, tmp_path: Path) -> None:
    shutil.copy(DEMO_JOB.with_name("garden_room_prices.csv"), tmp_path)
    lines = JOBS[name].read_text("utf-8").splitlines()
    refused = 0
    for n, at in enumerate(fields("\n".join(lines))):
        key = lines[at].partition(" = ")[0]
        for put in (f"{key} = []", f"{key} = {{}}"):
            changed = "\n".join([*lines[:at], put, *lines[at + 1 :]])
            (tmp_path / "job.toml").write_text(changed, "utf-8")
            with pytest.raises(EstimateError, match=r"(job\.toml|prices\.csv)"):
                read_job(tmp_path / "job.toml")
        if n % 10 and lines[at - 1][:1] != "[":
            continue  # the neighbours in a section are alike; the pairs below take any
        command = COMMANDS[n % 4 if n % 5 == 0 else 1]
        refused += outcome(tmp_path, "\n".join([*lines[:at], *lines[at + 1 :]]), command) != ""
    assert refused > 5


def test_pairs_of_fields_left_out(tmp_path: Path) -> None:
    shutil.copy(DEMO_JOB.with_name("garden_room_prices.csv"), tmp_path)
    r = random.Random("fields")
    lines = DEMO_FORM.read_text("utf-8").splitlines()
    every = fields("\n".join(lines))
    for _ in range(PAIRS):
        pair = r.sample(every, 2)
        kept = [line for n, line in enumerate(lines) if n not in pair]
        outcome(tmp_path, "\n".join(kept), "quantities")


# A mistake of ours


def test_a_mistake_of_ours_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(path: Path) -> None:
        raise KeyError("in a rule")

    monkeypatch.setattr(reading, "given_job", broken)
    result = CliRunner().invoke(main, ["quantities", "job.toml"])
    assert result.exit_code == 3
    said = re.fullmatch(
        r"A mistake in this program \(KeyError\)\. Nothing was written\. "
        r"Send its makers the file (\S+), and if you may the job it happened with\.\n",
        result.output,
    )
    assert said, result.output
    kept = Path(said.group(1))
    assert "KeyError: 'in a rule'" in kept.read_text("utf-8")
    kept.unlink()


def test_what_was_written_before_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(ledger: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(making, "print_summary", broken)
    result = CliRunner().invoke(
        main, ["workbook", str(DEMO_JOB), "--out", str(tmp_path / "a.xlsx")]
    )
    assert result.exit_code == 3
    assert f"Written before it: {tmp_path / 'a.xlsx'}. " in result.output
    Path(result.output.split("the file ")[1].split(",")[0]).unlink()
