"""The command that tells what differs between two states of a job."""

from pathlib import Path

import click

from ..revisions.changes import Change, State
from ..revisions.changes import changes as all_changes
from .given import given_job, say_differences
from .manners import print_json

_HEADS = {
    "inputs": "What was changed",
    "quantities": "Quantities",
    "price": "Price, as quoted",
    "document": "The document",
}


def changes(old: Path, new: Path, client: bool, detail: str, as_json: bool) -> None:
    """Print what differs between two states of a job: inputs, quantities, price, document."""
    given = [given_job(path) for path in (old, new)]
    for one in given:
        say_differences(one)
    before, after = (State(one.job, one.ledger) for one in given)
    found = [c for c in all_changes(before, after) if not client or c.shown_at(detail)]
    if as_json:
        print_json([c.as_data() for c in found])
        return
    if not found:
        click.echo("Nothing that a client may read has changed." if client else "Nothing changed.")
    for part, head in _HEADS.items():
        of_part = [c for c in found if c.part == part]
        if of_part:
            click.echo(f"\n{head}:")
        for change in of_part:
            click.echo(_line(change, client))
    if not client and any(not c.for_client for c in found):
        click.echo('\n"own" stands before what no client is shown.')


def _line(change: Change, client: bool) -> str:
    mark = "" if client else "     " if change.for_client else "own  "
    return f"  {mark}{change.sentence}"
