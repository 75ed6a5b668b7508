"""The command that draws floors, walls, roofs, trays cut in and rolls into files of their own: draw."""

from pathlib import Path

import click

from ..documents.names import safe, told_apart
from ..errors import FileError
from ..files.keeping import write_whole
from ..model.estimate import estimate
from ..pens.dxf import HOW, as_dxf, has_writer
from ..pens.subjects import Subject, each
from ..pens.svg import as_svg
from ..pens.views import CUT_IN, CUTTING, ELEVATION, PLAN, ROOF, SECTION, STRIPS
from .given import given_job, say_differences
from .manners import may_write

KINDS = {"svg": as_svg, "dxf": as_dxf}
_NEEDED = {
    "floor": "a floor",
    "wall": "a wall run that has openings",
    "roof": "a roof against a new wall",
    "cut_in": "a level tray cut into an old wall",
    "product": "a product that is cut in whole pieces",
}
OPTIONS = {
    "floor": (PLAN, SECTION, STRIPS),
    "wall": (ELEVATION,),
    "roof": (ROOF,),
    "cut_in": (CUT_IN,),
    "product": (CUTTING,),
}


def draw(
    job: Path,
    out: Path,
    floor: str | None,
    wall: str | None,
    roof: str | None,
    cut_in: str | None,
    product: str | None,
    kind: str | None,
    overwrite: bool,
) -> None:
    """Draw floors, walls, roofs, trays cut in and what rolls are cut into, as pictures (SVG) and drawings (DXF)."""
    read = given_job(job)
    say_differences(read)
    ledger = estimate(read.job)
    kinds = [kind] if kind else [k for k in KINDS if k != "dxf" or has_writer()]
    named = {"floor": floor, "wall": wall, "roof": roof, "cut_in": cut_in, "product": product}
    only = {name: mark for name, mark in named.items() if mark is not None}
    files: dict[str, bytes] = {}
    for name in only or OPTIONS:
        subjects = list(each(ledger, OPTIONS[name]))
        if name in only:
            subjects = _named(name, only[name], subjects)
        stems = told_apart([safe(mark) for mark, *_ in subjects])
        for stem, (_, figures, views) in zip(stems, subjects, strict=True):
            for view in views:
                for ending in kinds:
                    files[f"{stem} - {view.name}.{ending}"] = KINDS[ending](view, figures)
    out.mkdir(parents=True, exist_ok=True)
    for file in files:
        may_write(out / file, overwrite, Path(file).suffix)
    for file, data in files.items():
        write_whole(out / file, data, new=not overwrite)
        click.echo(str(out / file))
    if not files:
        click.echo("The job has no floor yet: nothing is drawn.")
    elif kind is None and "dxf" not in kinds:
        click.echo(f"No DXF was written: for drawings in DXF {HOW}.", err=True)


def _named(option: str, mark: str, subjects: list[Subject]) -> list[Subject]:
    """Those of that mark; a mark that none has is told."""
    chosen = [subject for subject in subjects if subject[0].lower() == mark.lower()]
    if not chosen:
        marks = ", ".join(subject[0] for subject in subjects)
        there = _NEEDED[option]
        raise FileError(
            f"--{option.replace('_', '-')}", mark, f"one of {marks}" if marks else there
        )
    return chosen
