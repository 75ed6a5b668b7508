"""A LibreOffice with the extension installed, driven step by step, by a user who is not root."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from estimator.cli.addin import calc_menu
from estimator.cli.starter_files import own_program
from estimator.hosts.calc.extension import extension
from estimator.hosts.calc.menu import Menu

from .hosts import SYSTEM_PYTHON, need, need_uno

NOBODY = 65534
ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
<prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>"""
DRIVERS = ("addin_driver.py", "calc_driver.py")


class Calc:
    """One running LibreOffice. A step is the name of a method of tests/addin_driver.py."""

    def __init__(self, home: Path, process: "subprocess.Popen[str]") -> None:
        self.home, self.process = home, process

    def do(self, *steps: Any) -> list[Any]:
        """The answers to these steps."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(steps) + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        assert answer, "the driver ended: its words are in the test's output"
        found: list[Any] = json.loads(answer)
        return found

    def evaluate(self, sheet: str, rows: list[list[Any]]) -> list[list[Any]]:
        """What a fresh sheet of the open workbook shows for these cells, from A1 down."""
        width, height = max(len(r) for r in rows), len(rows)
        area = f"A1:{_letters(width)}{height}"
        return list(self.do(["put", sheet, 0, 0, rows], ["read", sheet, area])[1])


def _letters(column: int) -> str:
    found = ""
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


def own_menu() -> Menu:
    """The menu as the program makes it here."""
    return calc_menu(own_program())


def own_extension() -> bytes:
    """The extension as the program makes it here."""
    return extension(own_menu())


def as_user(home: Path, reading_all: bool = False) -> list[str]:
    """How a command begins that is to be run with that home, and not as root.

    What is in `home`/bin is found before other programs. With `reading_all` that user may read what
    only root may, and so run this program wherever root keeps it.
    """
    path = f"{home / 'bin'}{os.pathsep}{_outside_the_environment()}"
    begin = ["env", f"HOME={home}", f"TMPDIR={home}", f"PATH={path}"]
    if os.geteuid() != 0:
        return begin
    need("setpriv")
    drop = ["setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups"]
    if reading_all:
        drop += ["--inh-caps=+dac_read_search", "--ambient-caps=+dac_read_search"]
    return [*drop, *begin]


def _outside_the_environment() -> str:
    """Where programs are looked for, without the Python that runs the tests.

    LibreOffice would take that for its own, and ends where its `uno` is not to be found there.
    """
    own = Path(sys.executable).parent
    return os.pathsep.join(p for p in os.environ["PATH"].split(os.pathsep) if Path(p) != own)


def give(path: Path) -> None:
    """Let the user who is not root have a folder and all that is in it."""
    if os.geteuid() == 0:
        for found in (path, *path.rglob("*")):
            os.chown(found, NOBODY, NOBODY, follow_symlinks=False)


@contextmanager
def fresh_home() -> Iterator[Path]:
    """An empty home of that user: outside pytest's own folders, which only root may enter."""
    home = Path(tempfile.mkdtemp(prefix="damp", dir="/tmp"))
    try:
        give(home)
        yield home
    finally:
        shutil.rmtree(home, ignore_errors=True)


def install(home: Path, content: bytes) -> None:
    """Install an extension into a throw-away profile.

    unopkg was once seen to end in a segmentation fault on a busy machine: then once more, from new.
    """
    need("unopkg")
    (home / "damp.oxt").write_bytes(content)
    give(home)
    profile = f"-env:UserInstallation=file://{home}/profile"
    command = [*as_user(home), "unopkg", "add", profile, str(home / "damp.oxt")]
    done = subprocess.run(command, cwd=home, capture_output=True, text=True, check=False)
    if "Segmentation fault" in done.stderr:
        shutil.rmtree(home / "profile", ignore_errors=True)
        done = subprocess.run(command, cwd=home, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@contextmanager
def calc(
    installed: bool = True,
    recalculate: bool = True,
    content: bytes | None = None,
    reading_all: bool = False,
) -> Iterator[Calc]:
    """LibreOffice in a home of its own, with the extension (or another) or without."""
    need_uno()
    with fresh_home() as home:
        user = home / "profile" / "user"
        user.mkdir(parents=True)
        if recalculate:
            (user / "registrymodifications.xcu").write_text(ALWAYS_RECALCULATE)
        for name in DRIVERS:
            shutil.copy(Path(__file__).with_name(name), home)
        give(home)
        if installed:
            install(home, content or own_extension())
        begin = as_user(home, reading_all)
        command = [*begin, SYSTEM_PYTHON, "addin_driver.py", str(home / "profile")]
        process = subprocess.Popen(
            command, cwd=home, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        try:
            yield Calc(home, process)
        finally:
            assert process.stdin is not None
            process.stdin.close()
            process.wait(timeout=60)
