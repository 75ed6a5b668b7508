"""What all commands share: one sentence for a mistake, when a file may be written."""

import contextlib
import errno
import json
import os
import sys
import tempfile
import traceback
from collections.abc import Callable, Sequence
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from .. import __version__
from ..errors import EstimateError, FileError
from ..files.keeping import WRITTEN

if TYPE_CHECKING:
    from ..model.reports import Record

FINDINGS, BAD_INPUT, OWN_MISTAKE = 1, 2, 3
MOST_LISTED = 8  # things in a warning: more would hide it


def in_one_sentence(command: Callable[..., None]) -> Callable[..., None]:
    """A person's mistake ends in one sentence and exit code 2, ours in one and exit code 3.

    Neither ends in a traceback; that of a mistake of ours is kept in a file, to be sent to us.
    """

    @wraps(command)
    def guarded(*args: Any, **options: Any) -> None:
        already = len(WRITTEN)
        try:
            command(*args, **options)
            sys.stdout.flush()  # so that what cannot be printed is found here
        except EstimateError as error:
            click.echo(str(error), err=True)
            sys.exit(BAD_INPUT)
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise  # the command line's own
        except OSError as error:
            if error.errno not in (errno.ENOSPC, errno.EIO) or error.filename:
                _stop(error, already)
            with contextlib.suppress(OSError, ValueError):  # what is left of it cannot go out
                os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            click.echo(
                f"Output: found {error.strerror}; accepted: a place that takes it.", err=True
            )
            sys.exit(BAD_INPUT)
        except Exception as error:
            _stop(error, already)

    return guarded


def _stop(error: Exception, already: int) -> NoReturn:
    """End with the sentence about a mistake of ours."""
    click.echo(_own_mistake(error, [p for p in WRITTEN[already:] if p.exists()]), err=True)
    sys.exit(OWN_MISTAKE)


def _own_mistake(error: Exception, written: Sequence[Path]) -> str:
    """The sentence about an exception that no mistake in a file should lead to."""
    files = ", ".join(str(p) for p in written)
    outcome = f"Written before it: {files}" if written else "Nothing was written"
    kind = type(error).__name__
    try:
        handle, name = tempfile.mkstemp(prefix="estimator-mistake-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as stream:
            stream.write(f"estimator {__version__}, Python {sys.version}\n")
            stream.write("".join(traceback.format_exception(error)))
    except OSError:
        return f"A mistake in this program ({kind}). {outcome}. Tell its makers how to repeat it."
    return (
        f"A mistake in this program ({kind}). {outcome}. "
        f"Send its makers the file {name}, and if you may the job it happened with."
    )


def may_write(path: Path, overwrite: bool, ending: str = ".xlsx", option: str = "--out") -> None:
    """Refuse to write a file where one stands, or where there is no folder."""
    if path.suffix != ending:
        raise FileError(option, str(path), f"a name ending in {ending}")
    if path.exists() and not overwrite:
        raise FileError(str(path), "a file of that name", "a new name, or --replace")
    if not path.parent.is_dir():
        raise FileError(str(path.parent), None, "a folder that exists")


def warn(sentence: str) -> None:
    """Say something that is not what was asked for, and refuses nothing."""
    click.echo(sentence, err=True)


def warn_listing(sentence: str, lines: Sequence[str], where: str) -> None:
    """The same with what it is about, a line each; `where` the rest can be read, beyond the first."""
    warn(sentence)
    for line in lines[:MOST_LISTED]:
        warn(f"  {line}")
    if len(lines) > MOST_LISTED:
        warn(f"  and {len(lines) - MOST_LISTED} more: {where}")


def print_json(found: object) -> None:
    """Print what a program may read."""
    click.echo(json.dumps(found, indent=2, ensure_ascii=False))


def state_said(row: "Record") -> str:
    """The state of a check; where it is not given, with what the quantities assume meanwhile."""
    from .figures import as_given

    if row["state"] == "not given" and isinstance(row["assumed"], int | float):
        return f"not given (assumed {as_given(row['assumed'])})"
    return row["state"] or "no figure"


def given_and_asked(row: "Record") -> str:
    """What a detail check found, what is asked, and by whom."""
    from ..checks import NOT_GIVEN
    from .figures import as_given

    given, asked = (
        "no figure" if v is None or isinstance(v, str) else f"{as_given(v)} {row['unit']}"
        for v in (row["given"], row["asked"])
    )
    given = "not entered" if row["state"] == NOT_GIVEN else f"given {given}"
    return f"{given}, asked {asked} by {row['by']}"
