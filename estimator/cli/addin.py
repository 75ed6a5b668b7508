"""The command that writes the functions for a spreadsheet program: addin."""

from pathlib import Path

import click

from ..files.keeping import refuse_open_elsewhere, write_whole
from ..hosts.calc.extension import extension
from ..hosts.calc.sample import sample
from ..hosts.excel.workbook import excel_workbook
from ..hosts.names.workbook import names_workbook
from .manners import may_write


def addin(
    out: Path | None,
    sample_path: Path | None,
    excel_path: Path | None,
    names_path: Path | None,
    overwrite: bool,
) -> None:
    """Write the rules as functions for your own sheets."""
    others = excel_path is not None or names_path is not None
    if out is None and (not others or sample_path is not None):
        out = Path("damp-functions.oxt")
    asked = ((out, ".oxt", "--out"), (sample_path, ".xlsx", "--sample"),
             (excel_path, ".xlsm", "--excel"), (names_path, ".xlsx", "--names"))  # fmt: skip
    for path, ending, option in asked:
        if path is not None:
            may_write(path, overwrite, ending, option)
            refuse_open_elsewhere(path)
    workbook = excel_workbook() if excel_path is not None else b""
    if out is not None:
        write_whole(out, extension())
        click.echo(f"Wrote {out}. docs/install-calc.md says how to install it.")
    if sample_path is not None:
        write_whole(sample_path, sample())
        click.echo(f"Wrote {sample_path}. Everything in it is invented.")
    if excel_path is not None:
        write_whole(excel_path, workbook)
        click.echo(
            f"Wrote {excel_path}. docs/install-excel.md says what it needs. Not run in Excel."
        )
    if names_path is not None:
        write_whole(names_path, names_workbook())
        click.echo(f"Wrote {names_path}. Its first sheet says how to use it. Not run in Excel.")
