"""A workbook that a command is given: read, held against what is worked out, and what is said."""

import shlex
from pathlib import Path

import click

from ..model.places import SCHEMA
from ..workbook.reading.comparison import STALE, by_row, differences, laid_ledger, told
from ..workbook.reading.inputs import Returned, read_checked
from .given import Given


def given_workbook(path: Path) -> Given:
    """The job in a workbook, its figures, and what it shows otherwise. Raises as read_checked."""
    returned = read_checked(path)
    # Cells of an earlier layout stand elsewhere, so only what was typed is read.
    found = [] if returned.is_earlier else differences(returned, laid_ledger(returned))
    return Given(returned.job, returned.figures(), returned, tuple(by_row(found)))


def say_what_differs(given: Given, returned: Returned) -> None:
    """What the workbook shows otherwise than what is worked out, and what was read as it stands."""
    for note in (*returned.notes, *returned.taken):
        click.echo(note, err=True)
    path = returned.path
    if returned.is_earlier:
        click.echo(
            f"{path.name} is of layout version {returned.schema}, and this program writes "
            f"version {SCHEMA}: what was typed is read, but not compared with what it shows. To lay it "
            f"out anew: estimator workbook --afresh {shlex.quote(str(path))}",
            err=True,
        )
    if not given.different:
        return
    click.echo(
        f"{path.name} shows figures or words that do not follow from what is typed in it. "
        "All that is printed here follows from what is typed.",
        err=True,
    )
    for line in told(given.different):
        click.echo(f"  {line}", err=True)
    only_stale = all(d.kind == STALE for d in given.different)
    saved = (
        "Recalculate it in a spreadsheet program and save it, or bring" if only_stale else "Bring"
    )
    click.echo(f"{saved} it up to date with: estimator workbook {shlex.quote(str(path))}", err=True)
