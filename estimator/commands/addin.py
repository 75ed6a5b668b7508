"""The command that writes the functions for a spreadsheet program: addin."""

from pathlib import Path

import click

from ..addin.extension import extension, write_whole
from ..addin.sample import sample
from .manners import REPLACE, in_one_sentence, may_write


@click.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    default=Path("damp-functions.oxt"),
    show_default=True,
    help="The extension to write.",
)
@click.option(
    "--sample",
    "sample_path",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Also write a workbook (.xlsx) that shows every function at work.",
)
@REPLACE
@in_one_sentence
def addin(out: Path, sample_path: Path | None, overwrite: bool) -> None:
    """Write the functions as an extension for LibreOffice Calc."""
    may_write(out, overwrite, ".oxt")
    if sample_path is not None:
        may_write(sample_path, overwrite, option="--sample")
    write_whole(out, extension())
    click.echo(f"Wrote {out}. docs/install-calc.md says how to install it.")
    if sample_path is not None:
        write_whole(sample_path, sample())
        click.echo(f"Wrote {sample_path}. Everything in it is invented.")
