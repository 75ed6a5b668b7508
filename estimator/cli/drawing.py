"""The command that draws each floor of a job, plan and section, into files of their own: draw."""

from pathlib import Path

import click

from ..documents.names import safe, told_apart
from ..errors import FileError
from ..files.keeping import write_whole
from ..model.estimate import estimate
from ..pens.dxf import as_dxf
from ..pens.floors import each_floor
from ..pens.svg import as_svg
from ..pens.views import PLAN, SECTION
from .given import given_job, say_differences
from .manners import may_write

KINDS = {"svg": as_svg, "dxf": as_dxf}


def draw(job: Path, out: Path, floor: str | None, kind: str | None, overwrite: bool) -> None:
    """Draw each floor to scale, plan and section, as pictures (SVG) and drawings (DXF)."""
    read = given_job(job)
    say_differences(read)
    floors = dict(each_floor(estimate(read.job)))
    marks = list(floors)
    if floor is not None and floor.lower() not in [m.lower() for m in marks]:
        raise FileError("--floor", floor, f"one of {', '.join(marks)}" if marks else "a floor")
    chosen = [m for m in marks if floor is None or m.lower() == floor.lower()]
    files: dict[str, bytes] = {}
    for mark, stem in zip(chosen, told_apart([safe(m) for m in chosen]), strict=True):
        for view in (PLAN, SECTION):
            for ending, pen in KINDS.items():
                if kind in (None, ending):
                    files[f"{stem} - {view.name}.{ending}"] = pen(view, floors[mark])
    out.mkdir(parents=True, exist_ok=True)
    for name in files:
        may_write(out / name, overwrite, Path(name).suffix)
    for name, data in files.items():
        write_whole(out / name, data, new=not overwrite)
        click.echo(str(out / name))
    if not files:
        click.echo("The job has no floor yet: nothing is drawn.")
