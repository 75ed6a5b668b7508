"""Workbooks printed to PDF by LibreOffice, where it is installed, in a profile thrown away after."""

import os
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

PROGRAM = "soffice"
SECONDS = 180


def where_installed() -> tuple[str, ...]:
    """Where LibreOffice's own installers put the program, none of which need be on PATH.

    From memory; on Windows and macOS it was not run.
    """
    if os.name == "nt":
        roots = (os.environ.get(v) for v in ("ProgramW6432", "ProgramFiles", "ProgramFiles(x86)"))
        return tuple(rf"{root}\LibreOffice\program\soffice.exe" for root in roots if root)
    if sys.platform == "darwin":
        folders = (Path("/Applications"), Path.home() / "Applications")
        return tuple(str(f / "LibreOffice.app/Contents/MacOS/soffice") for f in folders)
    return tuple(sorted(map(str, Path("/opt").glob("libreoffice*/program/soffice")), reverse=True))


PROGRAMS = (PROGRAM, "libreoffice", *where_installed())


def to_pdf(
    workbooks: Sequence[Path], say: Callable[[str], None], seconds: float = SECONDS
) -> tuple[Path, ...]:
    """The PDF of each workbook of a folder, written beside it; none where one could not be made,
    and `say` why."""
    program = _program()
    if program is None:
        say("No PDF: LibreOffice is not installed. Everything else is issued.")
        return ()
    with tempfile.TemporaryDirectory(prefix="estimator-pdf-", ignore_cleanup_errors=True) as home:
        profile = f"-env:UserInstallation={Path(home, 'profile').as_uri()}"
        failure = _run([program, profile, *_printing(workbooks)], seconds)
    paths = tuple(beside(workbook) for workbook in workbooks)
    if failure is None and not all(_is_whole(path) for path in paths):
        failure = "wrote no whole PDF"
    if failure is None:
        return paths
    for path in paths:
        path.unlink(missing_ok=True)
    say(f"No PDF: LibreOffice {failure}. Everything else is issued.")
    return ()


def beside(workbook: Path) -> Path:
    """The PDF of a workbook: beside it, under its name."""
    return workbook.with_suffix(".pdf")


def by_hand(workbooks: Sequence[Path]) -> str:
    """The command line that makes the PDFs of workbooks later, to be pasted as it is.

    It takes the person's own profile, so LibreOffice must not be open meanwhile.
    """
    return pasted([_program() or PROGRAM, *_printing([w.absolute() for w in workbooks])])


def pasted(words: Sequence[str]) -> str:
    """A command line that may be pasted as it is, names with blanks in quote marks."""
    return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)


def _program() -> str | None:
    """LibreOffice, on PATH or where its installers put it."""
    return next((found for p in PROGRAMS if (found := shutil.which(p))), None)


def _printing(workbooks: Sequence[Path]) -> list[str]:
    """What LibreOffice is told, so that it prints workbooks of one folder into PDFs beside them."""
    return [
        *("--headless", "--norestore", "--convert-to", "pdf:calc_pdf_Export"),
        *("--outdir", str(workbooks[0].parent), *map(str, workbooks)),
    ]


def _run(command: list[str], seconds: float) -> str | None:
    """Run it to its end, or end it; what went wrong, if anything did."""
    try:
        running = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as error:
        return f"did not start ({error.strerror})"
    try:
        code = running.wait(seconds)
    except BaseException as error:
        _end(running)
        if isinstance(error, subprocess.TimeoutExpired):
            return f"had not finished after {seconds:g} seconds"
        raise
    return None if code == 0 else f"ended with code {code}"


def _end(running: "subprocess.Popen[bytes]") -> None:
    """End the program, and what it started itself."""
    if hasattr(os, "killpg"):
        os.killpg(running.pid, signal.SIGKILL)
    else:
        running.kill()
    running.wait()


def _is_whole(path: Path) -> bool:
    """Whether a file begins and ends as a PDF does (ISO 32000-1, 7.5.2 and 7.5.5)."""
    if not path.is_file():
        return False
    data = path.read_bytes()
    return data.startswith(b"%PDF-") and b"%%EOF" in data[-1024:]
