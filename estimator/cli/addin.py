"""The command that writes the functions for a spreadsheet program, and the menu for Calc: addin."""

from collections.abc import Sequence
from pathlib import Path

import click

from ..files.keeping import refuse_open_elsewhere, write_whole
from ..hosts.calc.extension import extension
from ..hosts.calc.menu import ACTION, STEP, WORKBOOK, Menu
from ..hosts.calc.sample import sample
from ..hosts.excel.workbook import excel_workbook
from ..hosts.names.workbook import names_workbook
from ..workbook.layout import SCHEMA_NAME
from ..workbook.reading.addresses import OURS
from .manners import may_write
from .starter_files import ACTIONS, RECORDED, STEPS, own_program, with_bases


def addin(
    out: Path | None,
    sample_path: Path | None,
    excel_path: Path | None,
    names_path: Path | None,
    overwrite: bool,
) -> None:
    """Write the rules as functions for your own sheets. In LibreOffice Calc they come with a menu."""
    if out is None and excel_path is None and names_path is None:
        out = Path("damp-functions.oxt")
    asked = ((out, ".oxt", "--out"), (sample_path, ".xlsx", "--sample"),
             (excel_path, ".xlsm", "--excel"), (names_path, ".xlsx", "--names"))  # fmt: skip
    for path, ending, option in asked:
        if path is not None:
            may_write(path, overwrite, ending, option)
            refuse_open_elsewhere(path)
    workbook = excel_workbook() if excel_path is not None else b""
    if out is not None:
        program = own_program()
        more = with_bases(click.get_current_context().params.get("house"))
        write_whole(out, extension(calc_menu(program, more)))
        click.echo(f"Wrote {out}. docs/install-calc.md says how to install it.")
        click.echo(f"Its menu runs {' '.join(program)}.")
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


def calc_menu(program: Sequence[str], more: Sequence[str] = ()) -> Menu:
    """The menu for LibreOffice Calc; `program` are the words that start this program, `more` the
    options that it has as well."""
    return Menu(
        [*program, "starters", WORKBOOK, "--run", ACTION, "--step", STEP, *more],
        STEPS,
        ACTIONS,
        RECORDED,
        SCHEMA_NAME,
        OURS,
    )
