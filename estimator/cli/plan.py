"""The command that reads a drawing into walked floors, wall runs and openings: plan."""

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import click

from ..drawing.layers import read_layers, usual_layers
from ..drawing.rows import LISTS, Taken, taken
from ..drawing.understood import understood
from ..errors import FileError, JobError
from ..files.keeping import write_whole
from ..files.opening import file_bytes
from ..model.estimate import rows_in_use
from ..model.job_checks import check_job
from ..model.job_text import begun, row_text, with_rows
from ..model.locations import InJobFile
from ..model.plan import plan as plan_of
from .given import Given, given_job, say_differences
from .manners import BAD_INPUT, may_write, print_json
from .plan_words import as_data, in_words, wanting_in_words
from .updating import put


def plan(
    drawing: Path,
    layers_file: Path | None,
    units: str | None,
    out: Path | None,
    into: Path | None,
    like: str | None,
    overwrite: bool,
    show: bool,
    as_json: bool,
) -> None:
    """Read a drawing (DXF) into walked floors, wall runs and openings, and print them.

    With --out or --into they are written too. What no drawing shows is named, never assumed.
    """
    if out is not None and into is not None:
        raise FileError("--out", str(out), "--out for a new job, or --into for one that is there")
    if like is not None and into is None:
        raise FileError("--like", like, "a floor of a job, with --into")
    if out is not None and not show:
        may_write(out, overwrite, ".toml")
    layers = usual_layers() if layers_file is None else read_layers(layers_file)
    was = file_bytes(into, "a job", 2**28) if into is not None else b""
    job = given_job(into) if into is not None else None
    if job is not None:
        say_differences(job)
    found = understood(drawing, layers, units)
    rows = taken(found, job.job if job else None, like)
    if as_json:
        print_json(as_data(found, rows))
    else:
        for line in in_words(found, rows, into.name if into is not None else None):
            click.echo(line)
    for error in found.refused:
        click.echo(str(error), err=True)
    if found.refused:
        if out is not None or into is not None:
            click.echo("Nothing is written before the drawing is put right.", err=True)
        sys.exit(BAD_INPUT)
    if show:
        return
    if out is not None:
        write_whole(out, begun(drawing.name, _texts(rows)).encode(), new=not overwrite)
        click.echo(f"\n{out} written. {wanting_in_words(rows)}", err=as_json)
    elif into is not None and job is not None:
        _put_into(into, job, rows, was, overwrite, as_json)


def _texts(rows: Taken) -> dict[str, dict[str, str]]:
    """The rows as a job file has them, by list and mark."""
    tables = plan_of().tables
    return {
        name: {r["mark"]: row_text(tables[name], r, rows.wanted(name, r["mark"])) for r in found}
        for name, found in rows.rows.items()
        if found
    }


def _put_into(
    path: Path, given: Given, rows: Taken, was: bytes, overwrite: bool, quiet: bool
) -> None:
    """The rows into a job that is there. Raises FileError or JobError, and then nothing is written."""
    there = rows.there.get("zones", []) + [
        m for name in LISTS[2:] for m in rows.there.get(name, [])
    ]
    if there and not overwrite:
        raise FileError(str(path), ", ".join(there), "refs that are new to it, or --replace")
    needed = [w for w in rows.wanting if w.needed]
    if not needed:
        where = InJobFile(f"{path.name}, with the drawing")
        job = rows.job_of(given.job)
        check_job(replace(job, rows=rows_in_use(job, where)), where)
    if given.returned is None:
        text = with_rows(
            was.decode("utf-8-sig"), path.name, plan_of().tables, _texts(rows), rows.gone
        )
        put(path, None, text.encode(), was, quiet)
        click.echo(wanting_in_words(rows), err=quiet)
        return
    if needed:
        _refuse_wanting(path, [(w.table, w.mark, w.item.key) for w in needed])
    from ..workbook.filling import filled

    data = filled(given.returned, rows.rows, rows.gone)
    put(path, None, data, given.returned.sheets.package.data, quiet)


def _refuse_wanting(path: Path, needed: Sequence[tuple[str, str, str]]) -> None:
    table, mark, key = needed[0]
    more = f", and {len(needed) - 1} more fields" if len(needed) > 1 else ""
    raise JobError(
        f"{path.name}: {key} of {mark} in {table}{more}",
        None,
        "a row of that ref, typed there in full, or --like, a floor that has what is wanting",
    )
