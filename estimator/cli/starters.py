"""The command that writes files to double-click, and runs what each of them is for: starters.

A person who double-clicks sees a window with words: what is about to happen, what did, where the
files are. Whatever is recorded or changed is shown first and done after a yes. Nothing is sent.
The menu in LibreOffice Calc runs the same actions, one step at a time: it asks the question itself.
"""

import contextlib
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

import click

from ..errors import EstimateError, FileError
from ..files.keeping import free_name, write_whole
from .declaring import main
from .given import is_workbook
from .manners import BAD_INPUT, FINDINGS
from .starter_files import ACTIONS, DO, ENDINGS, own_program, starter, with_bases

_FOR_ALL = 0o755  # a file to double-click may be run


class Outcome(NamedTuple):
    """What one step of an action came to."""

    code: int  # the exit code of what was run
    question: str = ""  # asked before the second step; none where nothing is left to do
    folder: Path | None = None  # where files were written, to be opened


def starters(
    job: Path,
    system: str | None,
    overwrite: bool,
    action: str | None,
    step: str | None,
    beside: str,
) -> None:
    """Write files to double-click beside a workbook: issue, ask for prices, read them, compare, changes."""
    if action is not None:
        at = _at(job, beside)
        _run(at, action) if step is None else _run_step(at, action, step)
        return
    if not is_workbook(job) or not job.is_file():
        raise FileError(str(job), "no workbook", "a workbook (.xlsx) that is there")
    for_system = system or _this_system()
    program, more = own_program(), with_bases(click.get_current_context().params.get("house"))
    files = {
        job.with_name(f"{job.stem} - {words}{ENDINGS[for_system]}"): starter(
            for_system, program, job.name, name, more
        )
        for name, words in ACTIONS.items()
    }
    for path in files:
        if path.exists() and not overwrite:
            raise FileError(str(path), "a file of that name", "--replace to write over it")
    for path, data in files.items():
        write_whole(path, data, mode=_FOR_ALL, new=not overwrite)
        click.echo(str(path))
    click.echo(f"They run {' '.join(program)} on {job.name} beside them.")
    if for_system != "linux":
        click.echo("These have not been run on that system.")


def _this_system() -> str:
    return {"darwin": "macos", "win32": "windows"}.get(sys.platform, "linux")


def _at(job: Path, beside: str) -> Path:
    """The workbook beside the file that was double-clicked, whose path may be given as a URI."""
    if not beside:
        return job
    if beside.startswith("file:"):
        beside = url2pathname(urlsplit(beside).path) if os.name == "nt" else unquote(
            urlsplit(beside).path
        )  # fmt: skip
    return Path(beside).absolute().parent / job.name


# ---- what a double click does ----


def _run(job: Path, action: str) -> None:
    """One action, in words, with the window kept open; it ends with the exit code of what it ran."""
    click.echo(f"{ACTIONS[action].capitalize()}: {job.name}\n")
    outcome = _done(job, action)
    if outcome.question and _yes(f"\n{outcome.question}"):
        outcome = _done(job, action, sure=True)
    if outcome.folder is not None:
        with contextlib.suppress(OSError, subprocess.SubprocessError):
            _open(outcome.folder)
    with contextlib.suppress(EOFError, KeyboardInterrupt, OSError):
        input("\nPress Enter to close this window. ")
    sys.exit(outcome.code)


def _run_step(job: Path, action: str, step: str) -> None:
    """One step, in words for whoever asks the question; its last line is the outcome, as JSON."""
    outcome = _done(job, action, sure=step == DO)
    folder = None if outcome.folder is None else str(outcome.folder.absolute())
    click.echo(json.dumps({"question": outcome.question, "folder": folder}))
    sys.exit(outcome.code)


def _done(job: Path, action: str, sure: bool = False) -> Outcome:
    """An action as far as it goes without a yes, or with it; what went wrong is said."""
    try:
        if not job.is_file():
            raise FileError(str(job), None, "the workbook beside this file")
        outcome = {
            "issue": _issue,
            "request": _request,
            "prices": _prices,
            "compare": _compare,
            "changes": _changes,
        }[action](job, sure)
    except EstimateError as error:  # said before the window closes, not after
        click.echo(str(error), err=True)
        return Outcome(BAD_INPUT)
    if outcome.folder is not None:
        click.echo(f"\nThe files are in {outcome.folder}.")
    return outcome


def _issue(job: Path, sure: bool) -> Outcome:
    out = _folder(job, "issued")
    if sure:
        return _written(_told("issue", job, "--out", out), out)
    code = _told("issue", job, "--out", out, "--dry-run")
    question = "" if code else "Issue it now? It is recorded in the workbook. Nothing is sent."
    return Outcome(code, question)


def _request(job: Path, _: bool) -> Outcome:
    out = free_name(_folder(job, "price requests"))
    code = _told("request", job, "--out", out)
    click.echo("\nNothing was sent: look at the files, then send them yourself.")
    return _written(code, out)


def _prices(job: Path, sure: bool) -> Outcome:
    folder = _folder(job, "prices returned")
    answers = sorted(p for p in folder.glob("*.xlsx") if not p.name.startswith(("~$", ".")))
    if not answers:
        with contextlib.suppress(FileExistsError):
            folder.mkdir()
        click.echo(
            f"Put the workbooks that came back into the folder {folder}, then do this again."
        )
        return _written(0, folder)
    if sure:
        return _written(_told("prices", job, *answers), job.parent)
    code = _told("prices", job, *answers, "--show")
    usable = code in (0, FINDINGS)
    question = "Put these prices into the workbook now? The old one is kept beside it."
    return Outcome(code, question if usable else "")


def _compare(job: Path, _: bool) -> Outcome:
    return Outcome(_told("compare", job))


def _changes(job: Path, _: bool) -> Outcome:
    issued = sorted(
        job.parent.glob(f"{_plain(job.stem)} issued *{job.suffix}"), key=lambda p: p.stat().st_mtime
    )
    if not issued:
        click.echo("This job was not issued yet, so there is nothing to compare it with.")
        return Outcome(0)
    click.echo(f"Since {issued[-1].name}, the workbook as it was when that was issued:\n")
    return Outcome(_told("changes", issued[-1], job))


def _written(code: int, folder: Path) -> Outcome:
    """The outcome of what writes files, with their folder once they are there."""
    return Outcome(code, folder=folder if code in (0, FINDINGS) and folder.is_dir() else None)


def _plain(text: str) -> str:
    """A name as a pattern that means nothing but itself."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in text)


def _folder(job: Path, what: str) -> Path:
    return job.with_name(f"{job.stem} {what}")


def _told(*words: str | Path) -> int:
    """Run a command of this program here, so that it says its own words; its exit code."""
    try:
        main.main([str(w) for w in words], prog_name="estimator", standalone_mode=False)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    return 0


def _yes(question: str) -> bool:
    try:
        return click.confirm(question, default=False)
    except click.Abort:  # nobody is there to answer
        return False


def _open(folder: Path) -> None:
    """Open a folder in the system's own window; the second and third way have not been run."""
    if sys.platform == "win32":
        os.startfile(folder)
        return
    program = "open" if sys.platform == "darwin" else "xdg-open"
    subprocess.Popen([program, str(folder)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
