"""A workbook that comes back, brought up to date in its place or laid out anew."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import click

from ..errors import FileError
from ..files.keeping import replace_keeping, write_whole
from ..guidance import house
from ..model.estimate import USUAL_ROOM, estimate
from ..workbook.build import build
from ..workbook.reading.comparison import Difference, by_row, told
from ..workbook.reading.inputs import Returned, read_back, read_checked
from ..workbook.reading.unplaced import left_behind
from ..workbook.refresh import refreshed
from .manners import may_write
from .summary import print_summary

MOST_SAID = 60  # lines of what would be left behind


def bring_up_to_date(
    path: Path,
    out: Path | None,
    overwrite: bool,
    template: Path | None,
    restore: bool,
    leave: bool,
) -> None:
    """Refresh a workbook, or with a template lay it out anew; the old file is kept."""
    if out is not None:
        may_write(out, overwrite)
    if template is None:
        returned = read_back(path)
        data, changed = refreshed(returned, restore)
        say_what_changed(by_row(changed))
        if changed or out is not None:
            put(path, out, data, returned.sheets.package.data, overwrite=overwrite)
    else:
        if out is None and path.suffix.lower() != ".xlsx":
            raise FileError(str(path), path.suffix, "--out with a name ending in .xlsx too")
        returned = read_checked(path)
        data = _afresh(returned, template, leave)
        put(path, out, data, returned.sheets.package.data, overwrite=overwrite)
    for name in returned.regrown:
        where = returned.layout.typed(name).sheet
        if template is None:
            click.echo(
                f"{where} has more or fewer rows than other sheets were laid out for: "
                "rows past those do not count. --afresh lays all out anew.",
                err=True,
            )
    print_summary(returned.figures())


def _afresh(returned: Returned, template: Path, leave: bool) -> bytes:
    job = replace(returned.job, house=house.given())  # with what came into the folder since
    built = build(estimate(job, USUAL_ROOM), template, USUAL_ROOM)
    lost = left_behind(returned, built.values())
    if lost:
        click.echo("Laid out anew, the workbook would lose:", err=True)
        for line in lost[:MOST_SAID]:
            click.echo(f"  {line}", err=True)
        if len(lost) > MOST_SAID:
            click.echo(f"  and {len(lost) - MOST_SAID} more", err=True)
        if not leave:
            raise FileError(
                str(returned.path), f"{len(lost)} things without a place", "--leave too"
            )
    click.echo("Fonts, colours and widths are those of the template.", err=True)
    return built.as_file()


def say_what_changed(found: list[Difference]) -> None:
    """What was put right: all that a person had changed, and the first of the rest."""
    if not found:
        click.echo("Every cell is as worked out. Nothing was changed.")
        return
    click.echo("Brought up to date:")
    for line in told(found):
        click.echo(f"  {line}")


def put(
    path: Path,
    out: Path | None,
    data: bytes,
    was: bytes,
    quiet: bool = False,
    overwrite: bool = True,
) -> None:
    """Write the new file in its place, the old one kept beside it; or elsewhere."""
    if out is not None:
        write_whole(out, data, new=not overwrite)
        click.echo(f"{out} written.", err=quiet)
        return
    stamp = datetime.now().strftime("%Y-%m-%d %H%M")
    kept = path.with_name(f"{path.stem} before {stamp}{path.suffix}")
    kept = replace_keeping(path, data, kept, was)
    click.echo(f"{path} written. The file as it was is kept as {kept.name}.", err=quiet)
