"""A firm's own bases: from a folder it names, partial, printed as house figures, never lost."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from openpyxl import load_workbook

import estimator
from estimator.cli.main import main
from estimator.errors import EstimateError
from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.guidance import house
from estimator.guidance.basis import KEYS
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job_file import read_job
from estimator.revisions.digest import digest
from estimator.workbook.build import build
from estimator.workbook.reading.inputs import read_checked

from .hosts import by_libreoffice, figures
from .test_parity import differences

OURS = """
[document]
firm = "Invented Builders"
title = "=1+1 our details"
date = 2026-03-12

[dpc_lap]
value = 120
document = "NHBC Standards"
edition = "2020"
source = "5.1.19"
says = "20 mm more than is asked."
standing = "read"
"""
NAMED = "house figures of Invented Builders (2026-03-12)"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    found = tmp_path / "ours"
    found.mkdir()
    (found / "our_details.toml").write_text(OURS, "utf-8")
    return found


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    """The demo job with the firm's basis."""
    text = DEMO_JOB.read_text("utf-8").replace(
        'basis_choice = "nhbc_2024"', 'basis_choice = "our_details"'
    )
    for prices in DEMO_JOB.parent.glob("*.csv"):
        (tmp_path / prices.name).write_bytes(prices.read_bytes())
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    return path


def run(*words: object, **environment: str) -> Result:
    return CliRunner().invoke(main, [str(w) for w in words], env=environment)


def refused(done: Result, *words: str) -> None:
    assert done.exit_code == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    for word in words:
        assert word in done.stderr


# ---- what it gives -----------------------------------------------------------------------------


def test_what_it_states_is_used_and_the_rest_is_assumed(folder: Path, job_file: Path) -> None:
    job = replace(estimator.load(job_file, bases=folder), own={}, override={})
    found = estimator.figures(job)
    whence = found.column("allowances", "from_where")
    assert found["dpc_lap"] == 120
    assert whence["dpc_lap"] == "guidance"
    assert whence["tray_rise"] == "assumed, common practice"
    common = estimator.bases()["common_practice"]
    assert found["tray_rise"] == common.values["tray_rise"].number
    assert found["document_word"] == "Estimate"  # what rests on an assumed figure is provisional


def test_is_named_a_house_figure_with_the_firms_words(folder: Path) -> None:
    ours = estimator.bases(folder)["our_details"]
    assert ours.citation("dpc_lap") == f"{NAMED}, after NHBC Standards, 2020: 5.1.19"
    assert ours.document.title == "House figures of Invented Builders: =1+1 our details, 2026-03-12"
    assert not ours.document.regulatory
    assert {v.standing for v in ours.values.values()} == {"house figure"}
    assert [k for k, v in ours.values.items() if v.number is not None] == ["dpc_lap"]
    assert len(ours.values) == len(KEYS)


def test_commands_take_the_folder_by_option_and_by_environment(
    folder: Path, job_file: Path
) -> None:
    by_option = run("quantities", job_file, "--bases", folder)
    assert by_option.exit_code == 0, by_option.output
    assert run("quantities", job_file, ESTIMATOR_BASES=str(folder)).stdout == by_option.stdout
    checked = run("check", job_file, "--bases", folder)
    assert checked.exit_code == 1
    assert f"asked no figure by {NAMED}" in checked.stdout
    compared = run("compare", job_file, "--bases", folder).stdout
    assert f"5 {NAMED} £" in " ".join(compared.split())  # its name may take several lines
    assert "house figures" not in run("compare", DEMO_JOB).stdout
    assert house.given() == ()


@pytest.mark.parametrize(
    "command", [c for c in main.commands if c not in ("demo", "addin", "help")]
)
def test_every_command_that_works_a_job_out_takes_it(command: str) -> None:
    assert "--bases" in {o for p in main.commands[command].params for o in p.opts}


def test_its_digest_moves_with_its_figures(folder: Path, job_file: Path) -> None:
    before = digest(estimator.load(job_file, bases=folder))
    of_demo = digest(estimator.load(DEMO_JOB))
    path = folder / "our_details.toml"
    path.write_text(OURS.replace("value = 120", "value = 130"), "utf-8")
    assert digest(estimator.load(job_file, bases=folder)) != before
    assert digest(estimator.load(DEMO_JOB, bases=folder)) == of_demo


# ---- the workbook ------------------------------------------------------------------------------


@pytest.mark.host
def test_a_workbook_holds_it_and_is_issued(folder: Path, job_file: Path, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    assert run("workbook", job_file, "--out", path, "--bases", folder).exit_code == 0
    cells = [c for sheet in load_workbook(path) for row in sheet.iter_rows() for c in row]
    texts = {c.value: c.data_type for c in cells if isinstance(c.value, str)}
    assert texts["our_details"] == "s"
    assert texts["House figures of Invented Builders: =1+1 our details, 2026-03-12"] == "s"
    # LibreOffice works every formula out anew: what it shows is what Python stored.
    ledger = estimate(estimator.load(job_file, bases=folder), USUAL_ROOM)
    assert ledger.cell("dpc_lap") == 120
    built = build(ledger, JOB_TEMPLATE, USUAL_ROOM)
    [again] = by_libreoffice([path], tmp_path / "again").values()
    assert list(differences(built, figures(again)))[:3] == []
    assert run("workbook", path, "--bases", folder).stdout.startswith("Every cell is as worked out")
    issued = run("issue", path, "--out", tmp_path / "out", "--bases", folder)
    assert issued.exit_code == 0, issued.output
    [quote] = (tmp_path / "out").glob("Estimate*.xlsx")
    said = {c.value for s in load_workbook(quote) for row in s.iter_rows() for c in row}
    assert "Nobody: house figures of Invented Builders, not published guidance." in said


def test_a_workbook_without_its_folder_is_one_sentence(
    folder: Path, job_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "job.xlsx"
    run("workbook", job_file, "--out", path, "--bases", folder)
    kept = path.read_bytes()
    refused(run("quantities", path), "list of bases", "'our_details'", "--bases", ".toml")
    refused(run("workbook", path), "'our_details'", "--bases")
    assert path.read_bytes() == kept
    refused(run("check", job_file), "job.basis_choice", "'our_details'", "--bases")


def test_a_figure_changed_since_is_shown_and_mended(
    folder: Path, job_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "job.xlsx"
    run("workbook", job_file, "--out", path, "--bases", folder)
    ours = folder / "our_details.toml"
    ours.write_text(OURS.replace("value = 120", "value = 130"), "utf-8")
    said = run("quantities", path, "--bases", folder)
    assert "shows 120, worked out 130" in said.stderr
    refused(run("workbook", path, "--bases", folder), "Lap in DPC", "--restore")
    done = run("workbook", path, "--restore", "--bases", folder)
    assert "shows 120, worked out 130" in done.stdout
    with house.from_folder(folder):
        returned = read_checked(path)
    assert returned.figures().cell("dpc_lap") == 130


def test_a_workbook_written_before_the_folder_is_read_as_it_was(
    folder: Path, tmp_path: Path
) -> None:
    path = tmp_path / "job.xlsx"
    run("workbook", DEMO_JOB, "--out", path)
    assert run("workbook", path, "--bases", folder).stdout.startswith("Every cell is as worked out")
    assert run("quantities", path).exit_code == 0
    anew = run("workbook", path, "--afresh", "--bases", folder)
    assert anew.exit_code == 0, anew.output
    with house.from_folder(folder):
        assert [b.name for b in read_checked(path).job.house] == ["our_details"]


# ---- what cannot be used ----------------------------------------------------------------------

Change = Callable[[str], str]
BAD: dict[str, tuple[str, Change, tuple[str, ...]]] = {
    "clash": ("nhbc_2024.toml", str, ("nhbc_2024.toml", "a name that no guidance")),
    "name": ("Our Details.toml", str, ("Our Details.toml", "small letters")),
    "toml": ("bad.toml", lambda s: s + "[", ("bad.toml", "TOML")),
    "key": ("bad.toml", lambda s: s.replace("dpc_lap", "dpc_laps"), ("bad.toml: dpc_laps", "dpm_lap")),
    "limit": ("bad.toml", lambda s: s.replace("120", "12000"), ("bad.toml: dpc_lap.value", "50 to 500")),
    "words": ("bad.toml", lambda s: s.replace("says", "#"), ("bad.toml: dpc_lap.says", "this field")),
    "firm": ("bad.toml", lambda s: s.replace("firm", "#"), ("bad.toml: document.firm", "this field")),
    "blank": ("bad.toml", lambda s: s.replace("Invented Builders", " "), ("document.firm", "one line")),
    "lines": ("bad.toml", lambda s: s.replace("5.1.19", "5\\n1"), ("dpc_lap.source", "one line")),
    "published": ("bad.toml", lambda s: s.replace("firm =", "regulatory = true\nfirm ="),
                  ("document.regulatory", "one of firm, title, date")),
    "number": ("bad.toml", lambda s: s.replace("value = 120", 'value = "120"'), ("dpc_lap.value",)),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_one_sentence_and_none_is_used(
    name: str, folder: Path, job_file: Path
) -> None:
    file, change, words = BAD[name]
    (folder / file).write_text(change(OURS), "utf-8")
    refused(run("quantities", job_file, "--bases", folder), *words)
    with pytest.raises(EstimateError):
        estimator.load(job_file, bases=folder)
    assert house.given() == ()


def test_a_folder_that_is_none_or_holds_none_or_too_many(
    folder: Path, job_file: Path, tmp_path: Path
) -> None:
    refused(
        run("check", job_file, "--bases", tmp_path / "no"), "--bases", "found nothing", "a folder"
    )
    empty = tmp_path / "empty"
    empty.mkdir()
    refused(run("check", job_file, "--bases", empty), "0 files ending in .toml", "1 to 3")
    for n in range(3):
        (folder / f"more_{n}.toml").write_text(OURS, "utf-8")
    refused(run("check", job_file, "--bases", folder), "4 files ending in .toml")


def test_two_folders_in_one_program_do_not_mix(
    folder: Path, tmp_path: Path, job_file: Path
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "our_details.toml").write_text(OURS.replace("value = 120", "value = 140"), "utf-8")
    one, two = (estimator.load(job_file, bases=f) for f in (folder, other))
    assert estimator.figures(one)["dpc_lap"] == 120
    assert estimator.figures(two)["dpc_lap"] == 140
    assert read_job(DEMO_JOB).house == ()
