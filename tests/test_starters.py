"""Files to double-click: what each system makes of them, and what they do, in words."""

import json
import os
import shutil
import stat
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli import starters as running
from estimator.cli.main import main
from estimator.cli.starter_files import ACTIONS, starter
from estimator.documents import writing
from estimator.errors import FileError
from estimator.files.resources import DEMO_JOB

NASTY = [
    "plain",
    "two words",
    "Bill's job",
    'a "quoted" job',
    "100% & more",
    "$HOME `id` \\ back",
    "Überbau 漢字",
    "a;b|c>d<e(f)*?#~",
    "%k %f %%",
    "-dash",
    "a=b",
]
# It writes each of its arguments on a line, and so says what it was started with.
STUB = '#!/bin/sh\nprintf "%s\\n" "$@" > "$OUT"\n'


def words_of_exec(file: Path) -> list[str]:
    """The Exec line as the Desktop Entry Specification 1.5 reads it: first the escapes of a string
    value, then arguments in quotes, then field codes."""
    (value,) = [
        line.removeprefix("Exec=")
        for line in file.read_text("utf-8").splitlines()
        if line.startswith("Exec=")
    ]
    line, signs = "", iter(value)
    for sign in signs:
        line += (
            {"s": " ", "n": "\n", "t": "\t", "r": "\r", "\\": "\\"}[next(signs)]
            if sign == "\\"
            else sign
        )
    words: list[str] = []
    word, quoted, begun, signs = "", False, False, iter(line)
    for sign in signs:
        if quoted and sign == "\\":
            after = next(signs)
            assert after in '"`$\\', "nothing else is escaped in quotes"
            word += after
        elif sign == '"':
            quoted, begun = not quoted, True
        elif sign == " " and not quoted:
            words, word, begun = [*words, word], "", False
        else:
            assert quoted or sign not in "\t\n'\\><~|&;$*?#()`", f"{sign} stands in quotes only"
            word, begun = word + sign, True
    if begun:
        words.append(word)
    for n, one in enumerate(words):
        said, signs = "", iter(one)
        for sign in signs:
            said += {"%": "%", "k": str(file)}[next(signs)] if sign == "%" else sign
        words[n] = said
    return words


def stub(folder: Path) -> Path:
    path = folder / "estimator"
    path.write_text(STUB, "utf-8")
    path.chmod(0o755)
    return path


def told(out: Path) -> list[str]:
    return out.read_text("utf-8").removesuffix("\n").split("\n")


# ---- what the systems make of them ----


@pytest.mark.parametrize("name", NASTY)
def test_a_desktop_entry_starts_the_program_with_the_workbooks_name(
    tmp_path: Path, name: str
) -> None:
    folder = tmp_path / name
    folder.mkdir()
    file = folder / f"{name} - issue quote.desktop"
    file.write_bytes(starter("linux", [str(stub(folder))], f"{name}.xlsx", "issue"))
    out = tmp_path / "out.txt"
    words = words_of_exec(file)
    assert "=" not in words[0], "what is run first may hold none"
    subprocess.run(words, env={**os.environ, "OUT": str(out)}, check=True)
    assert told(out) == ["starters", f"./{name}.xlsx", "--run", "issue", "--beside", str(file)]
    text = file.read_text("utf-8")
    assert text.startswith("[Desktop Entry]\nType=Application\n")
    assert "\nTerminal=true\n" in text


@pytest.mark.parametrize("name", NASTY)
def test_a_command_file_is_run_by_sh_from_anywhere(tmp_path: Path, name: str) -> None:
    folder = tmp_path / name
    folder.mkdir()
    file = folder / f"{name} - what changed.command"
    file.write_bytes(starter("macos", [str(stub(folder))], f"{name}.xlsx", "changes"))
    out = tmp_path / "out.txt"
    subprocess.run(["sh", str(file)], cwd="/", env={**os.environ, "OUT": str(out)}, check=True)
    assert told(out) == ["starters", f"./{name}.xlsx", "--run", "changes", "--beside", str(file)]
    assert "On macOS this file has not been run." in file.read_text("utf-8")


def test_a_batch_file_as_it_is_written() -> None:
    """By its text only: % is written twice, the rest is safe in quotes without delayed expansion."""
    data = starter(
        "windows", [r"C:\Program Files\Überbau & Co\estimator.exe"], "100% job!.xlsx", "issue"
    )
    assert data.decode("utf-8").split("\r\n") == [
        "@echo off",
        "setlocal DisableDelayedExpansion",
        "chcp 65001 >nul",
        "rem Issue quote. On Windows this file has not been run.",
        'pushd "%~dp0" || exit /b 1',
        r'"C:\Program Files\Überbau & Co\estimator.exe" "starters" ".\100%% job!.xlsx" "--run" '
        '"issue" "--beside" "%~f0"',
        "popd",
        "",
    ]


@pytest.mark.parametrize(
    ("system", "name"), [("linux", "a\nb"), ("macos", "a\rb"), ("windows", 'a"b')]
)
def test_a_name_that_a_file_cannot_hold_is_refused(system: str, name: str) -> None:
    with pytest.raises(FileError, match="accepted: a path without"):
        starter(system, ["/x/estimator"], f"{name}.xlsx", "issue")


# ---- the command ----


def run(*words: str | Path, typed: str = "") -> tuple[int, str]:
    done = CliRunner().invoke(
        main, ["starters", *map(str, words)], input=typed, env={"ESTIMATOR_SMTP_FROM": ""}
    )
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, done.output


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("starters") / "my job.xlsx"
    assert CliRunner().invoke(main, ["workbook", str(DEMO_JOB), "--out", str(path)]).exit_code == 0
    return path


@pytest.fixture
def job(written: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(writing, "to_pdf", lambda *_: ())
    return Path(shutil.copy(written, tmp_path / "my job.xlsx"))


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    found: list[Path] = []
    monkeypatch.setattr(running, "_open", found.append)
    return found


def names(folder: Path) -> set[str]:
    return {p.name for p in folder.iterdir()}


def test_five_files_stand_beside_the_workbook_and_can_be_run(job: Path) -> None:
    code, text = run(job, "--system", "linux")
    assert code == 0, text
    made = names(job.parent) - {"my job.xlsx"}
    assert made == {
        *("my job - issue quote.desktop", "my job - ask for prices.desktop"),
        *("my job - read prices.desktop", "my job - compare suppliers.desktop"),
        "my job - what changed.desktop",
    }
    assert all((job.parent / n).stat().st_mode & stat.S_IXUSR for n in made)
    words = words_of_exec(job.parent / "my job - compare suppliers.desktop")
    assert Path(words[0]).is_absolute()
    code, text = run(job, "--system", "linux")
    assert code == 2
    assert "accepted: --replace to write over it" in text
    assert run(job, "--system", "linux", "--replace")[0] == 0


def test_what_was_not_run_there_is_said(job: Path) -> None:
    for system in ("macos", "windows"):
        assert "These have not been run on that system." in run(job, "--system", system)[1]


def test_the_written_entry_runs_the_program(job: Path) -> None:
    """From the file to the figures, as a double click does it, and the window waits."""
    assert run(job, "--system", "linux")[0] == 0
    entry = job.parent / "my job - compare suppliers.desktop"
    done = subprocess.run(
        words_of_exec(entry), cwd="/", input="\n", capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("Compare suppliers: my job.xlsx\n\n")
    assert "The whole list from one supplier instead" in done.stdout
    assert done.stdout.endswith("Press Enter to close this window. ")


def test_a_copied_folder_works_on_its_own_workbook(job: Path, tmp_path: Path) -> None:
    other = tmp_path / "next" / "my job.xlsx"
    other.parent.mkdir()
    beside = str(other.parent / "my job - what changed.desktop")
    code, text = run("./my job.xlsx", "--run", "changes", "--beside", beside)
    assert code == 2
    assert f"{other}: found nothing; accepted: the workbook beside this file." in text
    shutil.copy(job, other)
    for said in (beside, Path(beside).as_uri()):
        code, text = run("./my job.xlsx", "--run", "changes", "--beside", said)
        assert (code, "This job was not issued yet" in text) == (0, True)


def test_a_quote_is_issued_only_after_a_yes(job: Path, opened: list[Path]) -> None:
    before = job.read_bytes()
    code, text = run(job, "--run", "issue", typed="n\n")
    assert code == 0
    assert "A dry run: nothing was written or recorded." in text
    assert (names(job.parent), job.read_bytes(), opened) == ({"my job.xlsx"}, before, [])
    code, text = run(job, "--run", "issue", typed="y\n")
    assert code == 0, text
    assert "Recorded in my job.xlsx." in text
    assert opened == [job.parent / "my job issued"]
    code, text = run(job, "--run", "changes")
    assert "Since my job issued B.xlsx, the workbook as it was when that was issued:" in text


def test_prices_are_asked_for_and_nothing_is_sent(job: Path, opened: list[Path]) -> None:
    for folder in ("my job price requests", "my job price requests 2"):
        code, text = run(job, "--run", "request")
        assert code == 0, text
        assert "Nothing was sent: look at the files, then send them yourself." in text
        assert len(names(job.parent / folder)) == 2
    assert opened[1] == job.parent / "my job price requests 2"


def test_prices_are_shown_before_they_are_taken(job: Path, opened: list[Path]) -> None:
    code, text = run(job, "--run", "prices")
    assert code == 0
    folder = job.parent / "my job prices returned"
    assert f"Put the workbooks that came back into the folder {folder}, then do this again." in text
    assert opened == [folder]
    run(job, "--run", "request")
    for path in (job.parent / "my job price requests").glob("*.xlsx"):
        shutil.copy(path, folder)
    before = job.read_bytes()
    code, text = run(job, "--run", "prices", typed="n\n")
    assert "Put these prices into the workbook now? The old one is kept beside it." in text
    assert job.read_bytes() == before


def test_one_step_at_a_time_for_whoever_asks_the_question(job: Path, opened: list[Path]) -> None:
    """As the menu in Calc runs them: the last line says what is to be asked, and what was written."""

    def step(action: str, which: str) -> tuple[int, dict[str, object]]:
        code, text = run(job, "--run", action, "--step", which)
        return code, json.loads(text.splitlines()[-1])

    before = job.read_bytes()
    question = "Issue it now? It is recorded in the workbook. Nothing is sent."
    assert step("issue", "show") == (0, {"question": question, "folder": None})
    assert (names(job.parent), job.read_bytes()) == ({"my job.xlsx"}, before)
    issued = str(job.parent / "my job issued")
    assert step("issue", "do") == (0, {"question": "", "folder": issued})
    assert (names(job.parent), opened) == (
        {"my job.xlsx", "my job issued", "my job issued B.xlsx"},
        [],
    )
    assert step("issue", "show") == (2, {"question": "", "folder": None})


def test_a_mistake_is_said_before_the_window_closes(job: Path) -> None:
    job.write_bytes(b"no workbook")
    code, text = run(job, "--run", "compare")
    assert code == 2
    assert text.index("found") < text.index("Press Enter to close this window.")


def test_starters_need_a_workbook(tmp_path: Path) -> None:
    code, text = run(tmp_path / "job.toml")
    assert code == 2
    assert "accepted: a workbook (.xlsx) that is there" in text
    assert set(ACTIONS) == {"issue", "request", "prices", "compare", "changes"}
