"""A workbook printed to PDF by LibreOffice, where it is installed, in a profile thrown away after."""

import os
import shlex
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

PROGRAM = "soffice"
PROGRAMS = (PROGRAM, "libreoffice")
SECONDS = 180


def to_pdf(workbook: Path, say: Callable[[str], None], seconds: float = SECONDS) -> Path | None:
    """The PDF of a workbook, written beside it; None where none could be made, and `say` why."""
    program = next((found for p in PROGRAMS if (found := shutil.which(p))), None)
    if program is None:
        say("No PDF: LibreOffice is not installed. Everything else is issued.")
        return None
    with tempfile.TemporaryDirectory(prefix="estimator-pdf-", ignore_cleanup_errors=True) as home:
        profile = f"-env:UserInstallation={Path(home, 'profile').as_uri()}"
        failure = _run([program, profile, *_printing(workbook)], seconds)
    path = workbook.with_suffix(".pdf")
    if failure is None and not _is_whole(path):
        failure = "wrote no whole PDF"
    if failure is None:
        return path
    path.unlink(missing_ok=True)
    say(f"No PDF: LibreOffice {failure}. Everything else is issued.")
    return None


def by_hand(workbook: Path) -> str:
    """The command line that makes the PDF of a workbook later, to be pasted as it is.

    It takes the person's own profile, so LibreOffice must not be open meanwhile.
    """
    return pasted([PROGRAM, *_printing(workbook.absolute())])


def pasted(words: Sequence[str]) -> str:
    """A command line that may be pasted as it is, names with blanks in quote marks."""
    return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)


def _printing(workbook: Path) -> list[str]:
    """What LibreOffice is told, so that it prints a workbook into a PDF beside it."""
    return [
        *("--headless", "--norestore", "--convert-to", "pdf:calc_pdf_Export"),
        *("--outdir", str(workbook.parent), str(workbook)),
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
