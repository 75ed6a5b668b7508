"""Files to double-click that run this program on the workbook they stand beside, in words only.

What is in them for each system: a desktop entry (Desktop Entry Specification 1.5) for Linux, a
shell script (.command) for macOS, a batch file (.cmd) for Windows. Only the first has been run; the
second is a plain POSIX shell script and was run as one, the third was read and never run.

Each file names the workbook by its name alone and is told where it stands itself, so that a folder
that is copied for another job works on its own copy.
"""

import os
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path

from ..errors import FileError

# What each starter does, as it is called on the command line and in the file's name.
ACTIONS = {
    "issue": "issue quote",
    "request": "ask for prices",
    "prices": "read prices",
    "compare": "compare suppliers",
    "changes": "what changed",
}
# Those that change the workbook, after a yes.
RECORDED = ("issue", "prices")
# An action in two steps, for whoever asks the question between them: all that needs no yes, the rest.
STEPS = SHOW, DO = "show", "do"
SYSTEMS = ("linux", "macos", "windows")
ENDINGS = dict(zip(SYSTEMS, (".desktop", ".command", ".cmd"), strict=True))
_NOT_RUN = "has not been run"


def own_program() -> list[str]:
    """The words that start this program from anywhere, as it was started now."""
    started = Path(sys.argv[0])
    if started.stem == "estimator" and started.is_file():
        return [os.path.abspath(started)]
    return [os.path.abspath(sys.executable), "-m", "estimator.cli"]


def with_bases(house: Path | None) -> list[str]:
    """The option that has a firm's own bases read, from anywhere; nothing where there are none."""
    return [] if house is None else ["--bases", os.path.abspath(house)]


def starter(
    system: str, program: Sequence[str], workbook: str, action: str, more: Sequence[str] = ()
) -> bytes:
    """The file's content. `program` are the words that start this program, `workbook` a bare name,
    `more` the options that the command has as well.

    Raises FileError for a path that such a file cannot hold.
    """
    for text in (*program, workbook, *more):
        if any(sign in text for sign in "\0\r\n"):
            raise FileError("starters", text, "a path without line ends")
    return {"linux": _desktop, "macos": _command, "windows": _batch}[system](
        program, workbook, action, more
    )


def _desktop(program: Sequence[str], workbook: str, action: str, more: Sequence[str]) -> bytes:
    if "=" in program[0]:  # the specification allows none in what is run first
        program = ["/bin/sh", "-c", 'exec "$0" "$@"', *program]
    words = [*program, "starters", f"./{workbook}", "--run", action, *more, "--beside"]
    # The field code must stand outside quotes: it is replaced by the path of this file.
    line = " ".join([*map(_desktop_word, words), "%k"])
    title = f"{ACTIONS[action]}: {workbook}"
    return (
        "[Desktop Entry]\nType=Application\nVersion=1.5\n"
        f"Name={_desktop_text(title[:1].upper() + title[1:])}\n"
        f"Exec={_desktop_text(line)}\nTerminal=true\n"
    ).encode()


def _desktop_word(word: str) -> str:
    """An argument of Exec: in quotes, with what the specification names escaped in them."""
    for sign in '\\"`$':
        word = word.replace(sign, f"\\{sign}")
    return f'"{word}"'.replace("%", "%%")


def _desktop_text(text: str) -> str:
    """A value of type string: a backslash is written twice."""
    return text.replace("\\", "\\\\")


def _command(program: Sequence[str], workbook: str, action: str, more: Sequence[str]) -> bytes:
    words = [*program, "starters", f"./{workbook}", "--run", action, *more, "--beside"]
    return (
        "#!/bin/sh\n"
        f"# {ACTIONS[action].capitalize()}. On macOS this file {_NOT_RUN}.\n"
        'here=$(dirname -- "$0") && cd -- "$here" || exit 1\n'
        f'{shlex.join(words)} "$PWD/$(basename -- "$0")"\n'
    ).encode()


def _batch(program: Sequence[str], workbook: str, action: str, more: Sequence[str]) -> bytes:
    for text in (*program, workbook, *more):
        if '"' in text:
            raise FileError("starters", text, "a path without quote marks, as Windows has them")
    words = [*program, "starters", f".\\{workbook}", "--run", action, *more, "--beside"]
    # In quotes only % means something to cmd, while delayed expansion is off.
    line = " ".join('"' + word.replace("%", "%%") + '"' for word in words)
    lines = [
        "@echo off",
        "setlocal DisableDelayedExpansion",
        "chcp 65001 >nul",
        f"rem {ACTIONS[action].capitalize()}. On Windows this file {_NOT_RUN}.",
        'pushd "%~dp0" || exit /b 1',
        f'{line} "%~f0"',
        "popd",
    ]
    return ("\r\n".join(lines) + "\r\n").encode()
