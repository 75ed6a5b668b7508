"""The command line: every command and option, each said once; those about prices in price_commands.py.

Nothing is imported here but the words: what a command does, in this room, is imported when it
runs. So help comes at once, and a command costs what it uses.
"""

from pathlib import Path

import click

from ..drawing.layer_names import UNITS, USUAL_LAYERS
from ..files.resources import DEMOS, JOB_TEMPLATE
from ..model.levels import LEVELS, QUANTITIES, STAGES
from . import price_commands
from .declaring import WORK, command, main
from .options import (
    A_FILE,
    A_FOLDER,
    AS_JSON,
    BASES,
    DRY_RUN,
    JOB_FILE,
    REPLACE,
    SEND,
    SENDER,
    SETTINGS,
)
from .starter_files import ACTIONS, STEPS, SYSTEMS

__all__ = ["WORK", "main", "price_commands"]


@command("making")
@click.option(
    "--out", type=A_FOLDER, default=Path(), show_default="the current folder",
    help="Folder for the workbook.",
)  # fmt: skip
@click.option(
    "--house", "which", type=click.Choice(list(DEMOS)), default=next(iter(DEMOS)), show_default=True,
    help="Which of the invented houses.",
)  # fmt: skip
def demo() -> None:
    """Write the workbook of an invented demo job. If demo.xlsx exists, it writes demo-2.xlsx."""


@command("making")
@click.argument("file", required=False, type=A_FILE)
@click.option(
    "--basis", metavar="NAME",
    help="Whose guidance: the name of a document, as `estimator new` lists them.  [default: you are "
         "asked]",
)  # fmt: skip
@click.option(
    "--from", "earlier", type=A_FILE, metavar="MINE.xlsx",
    help="An earlier job of yours: its suppliers, products, prices, labour lines and firm's details.",
)  # fmt: skip
@click.option("--out", type=A_FILE, help="The same as FILE.  [default: new.xlsx]")
@REPLACE
@click.option("--extension", is_flag=True, help="Ask some twenty questions about an extension.")
@click.option(
    "--answers", type=A_FILE,
    help="With --extension: a small job file that holds the answers, and whatever else is known.",
)  # fmt: skip
@BASES
def new() -> None:
    """Write a workbook to fill in: blank, or begun from a few answers about an extension.

    FILE is the workbook to write. A blank one has products without prices. Type the prices.
    """


@command("making")
@JOB_FILE
@click.option(
    "--out", type=A_FILE, help="The workbook to write.  [default: the job file's name, .xlsx]"
)
@REPLACE
@click.option(
    "--template", type=A_FILE, default=JOB_TEMPLATE, show_default="the one that comes with the "
        "program",
    help="A restyled template.",
)  # fmt: skip
@click.option(
    "--restore", is_flag=True, help="For a workbook: put back formulas that were typed over."
)
@click.option(
    "--afresh",
    is_flag=True,
    help="For a workbook: lay it out anew, and list what has no place in it.",
)
@click.option("--leave", is_flag=True, help="With --afresh: go on without what is listed.")
@BASES
def workbook() -> None:
    """Write the workbook of a job file (TOML), or bring a workbook (.xlsx) up to date in its place.

    The old file is kept beside the new one.
    """


@command("drawing")
@JOB_FILE
@click.option("--out", type=A_FOLDER, required=True, help="Folder for the files.")
@click.option("--floor", metavar="REF", help="Draw this floor only.  [default: all]")
@click.option("--wall", metavar="REF", help="Draw this wall only.  [default: all]")
@click.option("--roof", metavar="REF", help="Draw this roof only.  [default: all]")
@click.option("--cut-in", metavar="REF", help="Draw this tray cut in only.  [default: all]")
@click.option("--product", metavar="CODE", help="Draw how this is cut only.  [default: all]")
@click.option(
    "--kind",
    type=click.Choice(["svg", "dxf"]),
    help="Write this kind only. DXF needs the part layout.  [default: both]",
)
@REPLACE
@BASES
def draw() -> None:
    """Draw floors (plan, section, sheet), walls, roofs, trays cut in and rolls to scale, as SVG and DXF.

    A wall is drawn where it has openings or placed steps in its DPC, a tray cut in where it is level
    and counted, a roll where it is cut into whole pieces.
    """


@command("plan")
@click.argument("drawing", type=A_FILE)
@click.option(
    "--layers", "layers_file", type=A_FILE,
    help="Your own layers, a TOML file (docs/plan.md).  [default: "
    + ", ".join(name if name.lower().rstrip("s") == what.split(",")[0] else f"{name} ({what})"
                for name, what in USUAL_LAYERS.items()) + "]",
)  # fmt: skip
@click.option(
    "--units", type=click.Choice(list(UNITS)), help="Of the drawing.  [default: its own $INSUNITS]"
)
@click.option(
    "--out", type=A_FILE, help="A new job file (.toml) to write. It marks what you have to fill in."
)
@click.option(
    "--into", type=A_FILE, help="An existing job to add it to. The old file is kept beside it."
)
@click.option(
    "--like", metavar="FLOOR",
    help="With --into: the floor of the job whose build-up, levels and leaves new floors have.",
)  # fmt: skip
@click.option(
    "--replace", "overwrite", is_flag=True,
    help="Write over rows of the same refs in the job, or with --out over a file.",
)  # fmt: skip
@click.option("--show", is_flag=True, help="Only show what was understood, and write nothing.")
@AS_JSON
@BASES
def plan() -> None:
    """Read a drawing (DXF) into walked floors, wall runs and openings, and print them.

    With --out or --into they are written too. What the drawing does not show is listed, never
    assumed.
    """


@command("reading")
@JOB_FILE
@AS_JSON
@BASES
def quantities() -> None:
    """Print net, laid and ordered quantities, the orders, and the price."""


@command("reading")
@JOB_FILE
@click.option("--all", "listing_all", is_flag=True, help="Print those not applicable too.")
@AS_JSON
@BASES
def check() -> None:
    """Print the detail checks. Exit code 1 when any of them still needs an answer."""


@command("reading")
@JOB_FILE
@AS_JSON
@BASES
def compare() -> None:
    """Print the whole list from each supplier, and what each guidance document would order and cost."""


@command("addin")
@click.option(
    "--out", type=A_FILE, show_default="damp-functions.oxt",
    help="The extension for LibreOffice Calc to write. With --names or --excel only if you name "
         "it.",
)  # fmt: skip
@click.option(
    "--sample", "sample_path", type=A_FILE,
    help="Also write a workbook (.xlsx) that shows every function at work.",
)  # fmt: skip
@click.option(
    "--excel", "excel_path", type=A_FILE,
    help="Write a macro-enabled workbook (.xlsm) for Excel on Windows instead. Not yet run there.",
)  # fmt: skip
@click.option(
    "--names", "names_path", type=A_FILE,
    help="Write a workbook (.xlsx) with the functions as names instead, with nothing to install. "
         "Not yet run in Excel.",
)  # fmt: skip
@REPLACE
@BASES
def addin() -> None:
    """Write the rules as functions for your own sheets. In LibreOffice Calc they come with a menu."""


@command("exporting")
@JOB_FILE
@click.option("--out", type=A_FILE, required=True, help="The bill to write, .xlsx or .csv.")
@click.option(
    "--priced", is_flag=True, help="With columns for rate and amount, blank for a contractor."
)
@REPLACE
@BASES
def bill() -> None:
    """Write a bill of quantities: net, by stage and element. No prices, packs or wastage."""


@command("exporting")
@JOB_FILE
@click.option("--out", type=A_FILE, required=True, help="The calendar file to write, .ics.")
@REPLACE
@BASES
def calendar() -> None:
    """Write the planned days of hold points as a calendar file (.ics)."""


@command("exporting")
@JOB_FILE
@click.option(
    "--json", "figures_file", type=A_FILE, help="File for every list and named cell, with units."
)
@click.option(
    "--orders", type=A_FOLDER, help="Folder for the orders, one CSV file for each supplier."
)
@REPLACE
@BASES
def export() -> None:
    """Write a job's figures, or its orders, for other programs to read.

    The figures hold your costs: they are not for clients or suppliers.
    """


@command("comparing")
@click.argument("old", type=A_FILE)
@click.argument("new", type=A_FILE)
@click.option("--client", is_flag=True, help="Only what a client may read.")
@click.option(
    "--detail", type=click.Choice(LEVELS), default=QUANTITIES, show_default=True,
    help="With --client: what the client's quote shows: sums of stages, lines, or lines with quantities.",
)  # fmt: skip
@AS_JSON
@BASES
def changes() -> None:
    """Print what differs between two states of a job: inputs, quantities, price, document."""


@command("issuing")
@JOB_FILE
@click.option(
    "--out", type=A_FOLDER, required=True,
    help="Folder for the documents. It is made if it is not there.",
)  # fmt: skip
@click.option(
    "--level", type=click.Choice(LEVELS), default=STAGES, show_default=True,
    help="What the client sees: sums of stages, lines, or lines with quantities.",
)  # fmt: skip
@click.option("--revision", help="Letter of the revision, or your own.  [default: the next letter]")
@click.option("--date", "issued_on", help="Date to print.  [default: the date on Start]")
@click.option(
    "--since", type=A_FILE,
    help="An earlier issue of the job. The quote then says what has changed.",
)  # fmt: skip
@click.option("--again", is_flag=True, help="Write the last revision's documents once more.")
@click.option("--to", "to", multiple=True, help="The client's e-mail address.")
@SENDER
@SEND
@DRY_RUN
@SETTINGS
@BASES
def issue() -> None:
    """Issue a workbook's quote: client's copy, order lists, sheet for site, PDFs, drafts.

    The issue is recorded in the workbook. A copy from before the issue is kept beside it.
    """


@command("starters")
@click.argument("job", type=A_FILE)
@click.option(
    "--system", type=click.Choice(SYSTEMS), show_default="this one",
    help="Whose starters: .desktop, .command or .cmd files.",
)  # fmt: skip
@REPLACE
@click.option("--run", "action", type=click.Choice(ACTIONS), hidden=True)
@click.option("--step", type=click.Choice(STEPS), hidden=True)
@click.option("--beside", hidden=True, default="")
@BASES
def starters() -> None:
    """Write files to double-click beside a workbook: issue, ask for prices, read them, compare, changes."""


@command("pages")
@click.argument("topic", required=False)
def help() -> None:
    """Print a page of the documentation, or without a topic the list of pages."""


if __name__ == "__main__":
    main()
