"""The command line: every command and option, each said once.

Nothing is imported here but the words: what a command does, in this room, is imported when it
runs. So help comes at once, and a command costs what it uses.
"""

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from .. import __version__
from ..drawing.layer_names import UNITS, USUAL_LAYERS
from ..files.resources import JOB_TEMPLATE, REQUEST_TEMPLATE
from ..model.levels import LEVELS, QUANTITIES, STAGES
from .start import WHOLE, WIDTH

A_FILE, A_FOLDER = (
    click.Path(path_type=Path, dir_okay=False),
    click.Path(path_type=Path, file_okay=False),
)

AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a program to read.")
JOB_FILE = click.argument("job", type=A_FILE)
BASES = click.option(
    "--bases", "house", type=A_FOLDER, envvar="ESTIMATOR_BASES", show_envvar=True,
    help="Folder of your firm's own basis files.",
)  # fmt: skip
REPLACE = click.option(
    "--replace", "overwrite", is_flag=True, help="Write over a file that is there."
)
SENDER = click.option("--from", "sender", default=None, help="Your own address, for the drafts.")
SETTINGS = click.option(
    "--settings", "settings_file", default=None, type=A_FILE,
    help="Mail settings, a TOML file (docs/mail.md).  [default: environment variables]",
)  # fmt: skip
SEND = click.option(
    "--send", "sending", is_flag=True, help="Send the messages, over TLS, by your mail settings."
)
DRY_RUN = click.option(
    "--dry-run",
    is_flag=True,
    help="Log in to the mail server and print what would be sent; send nothing. All files are "
    "written as usual.",
)


@click.group()
@click.version_option(__version__, prog_name="estimator")
def main() -> None:
    """Damp-proofing materials: taken off, checked and priced in a live workbook."""


# Where the work of each command is: a module of this room, and a function of it that takes
# everything that was given by name.
WORK: dict[str, tuple[str, str]] = {}


def _command(module: str) -> Callable[[Callable[..., None]], click.Command]:
    """A command whose work is the function of its own name in that module."""

    def declared(words: Callable[..., None]) -> click.Command:
        name = words.__name__
        WORK[name] = (module, name)

        def run(house: Path | None = None, **given: Any) -> None:
            from .manners import in_one_sentence

            def work() -> None:
                done: Callable[..., None] = getattr(import_module(f".{module}", __package__), name)
                if house is None:
                    done(**given)
                    return
                from ..guidance.house import from_folder

                with from_folder(house):
                    done(**given)

            in_one_sentence(work)()

        run.__doc__ = words.__doc__
        if hasattr(words, "__click_params__"):
            run.__click_params__ = words.__click_params__  # type: ignore[attr-defined]
        return main.command(name)(run)

    return declared


@_command("making")
@click.option(
    "--out", type=A_FOLDER, default=Path(), show_default="the current folder",
    help="Folder for the workbook.",
)  # fmt: skip
def demo() -> None:
    """Write the workbook of the invented demo job. If demo.xlsx exists, it writes demo-2.xlsx."""


@_command("making")
@click.argument("file", required=False, type=A_FILE)
@click.option(
    "--basis", metavar="NAME",
    help="Whose guidance: the name of a document, as `estimator new` lists them.  [default: it is asked]",
)  # fmt: skip
@click.option(
    "--from", "earlier", type=A_FILE, metavar="MINE.xlsx",
    help="An earlier job of yours: its suppliers, products, prices, labour lines and firm's details.",
)  # fmt: skip
@click.option("--out", type=A_FILE, help="The same as FILE.  [default: new.xlsx]")
@REPLACE
@click.option("--extension", is_flag=True, help="Ask the one-page form for an extension.")
@click.option(
    "--answers", type=A_FILE,
    help="With --extension: a small job file that holds the answers, and whatever else is known.",
)  # fmt: skip
@BASES
def new() -> None:
    """Write a workbook to fill in: blank, or begun with the one-page form for an extension.

    FILE is the workbook to write. A blank one has products without prices; type the prices.
    """


@_command("making")
@JOB_FILE
@click.option(
    "--out", type=A_FILE, help="The workbook to write.  [default: the job file's name, .xlsx]"
)
@REPLACE
@click.option(
    "--template", type=A_FILE, default=JOB_TEMPLATE, show_default="the shipped one",
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


@_command("drawing")
@JOB_FILE
@click.option("--out", type=A_FOLDER, required=True, help="Folder for the files.")
@click.option("--floor", metavar="MARK", help="Draw this floor only.  [default: all floors]")
@click.option(
    "--kind",
    type=click.Choice(["svg", "dxf"]),
    help="Write this kind of file only.  [default: both]",
)
@REPLACE
@BASES
def draw() -> None:
    """Draw each floor to scale, plan and section, as pictures (SVG) and drawings (DXF)."""


@_command("plan")
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
    "--out", type=A_FILE, help="A new job file (.toml) to write; it marks what you have to fill in."
)
@click.option(
    "--into", type=A_FILE, help="An existing job to add it to; the old file is kept beside it."
)
@click.option(
    "--like", metavar="FLOOR",
    help="With --into: the floor of the job whose build-up, levels and leaves new floors have.",
)  # fmt: skip
@click.option(
    "--replace", "overwrite", is_flag=True,
    help="Write over rows of the same marks in the job, or with --out over a file.",
)  # fmt: skip
@click.option("--show", is_flag=True, help="Only show what was understood; write nothing.")
@AS_JSON
@BASES
def plan() -> None:
    """Read a drawing (DXF) into walked floors, wall runs and openings, and print them.

    With --out or --into they are written too. What the drawing does not show is listed, never
    assumed.
    """


@_command("reading")
@JOB_FILE
@AS_JSON
@BASES
def quantities() -> None:
    """Print net, laid and ordered quantities, the orders, and the price."""


@_command("reading")
@JOB_FILE
@AS_JSON
@BASES
def check() -> None:
    """Print every detail check. Exit code 1 when any of them still needs an answer."""


@_command("reading")
@JOB_FILE
@AS_JSON
@BASES
def compare() -> None:
    """Print the whole list from each supplier, and what each basis would order, cost and come to."""


@_command("cheapest")
@JOB_FILE
@click.option(
    "--suppliers",
    "most_suppliers",
    type=click.IntRange(1),
    help="Buy from this many suppliers at the most.",
)
@click.option("--take", "taking", is_flag=True, help="Write the mix into the job's lines.")
@click.option("--undo", "undoing", is_flag=True, help="Put back what was there before --take.")
@AS_JSON
@BASES
def cheapest() -> None:
    """Print the cheapest mix of suppliers, proven, what it saves, and which lines move.

    With --take the old file is kept beside the new one. Exit code 1 when no mix can be ordered.
    """


@_command("pricing")
@JOB_FILE
@click.option(
    "--out", required=True, type=A_FOLDER,
    help="Folder for the workbooks and the e-mail drafts; it is made if it is not there.",
)  # fmt: skip
@click.option(
    "--whole-list", is_flag=True, help="Ask every supplier to price all of the job that it stocks."
)
@click.option(
    "--deliver-to",
    default=None,
    help="Place of delivery, as suppliers read it.  [default: the postcode district]",
)
@SENDER
@click.option(
    "--to", "to", multiple=True, metavar="SUPPLIER=ADDRESS", help="A supplier's address; repeat it."
)
@click.option(
    "--template", type=A_FILE, default=REQUEST_TEMPLATE, show_default="the shipped one",
    help="A restyled template.",
)  # fmt: skip
@click.option("--replace", "overwrite", is_flag=True, help="Write over files that are there.")
@SEND
@DRY_RUN
@SETTINGS
@BASES
def request() -> None:
    """Write for each supplier a workbook to be filled in with prices, and an e-mail draft.

    With --send the drafts are sent too; every supplier then needs an address.
    """


@_command("pricing")
@JOB_FILE
@click.argument("returned", nargs=-1, required=True, type=A_FILE)
@click.option(
    "--changed-since", is_flag=True,
    help="Take the prices although the job was changed after the request.",
)  # fmt: skip
@click.option("--show", is_flag=True, help="Only show what would change; write nothing.")
@AS_JSON
@BASES
def prices() -> None:
    """Read the price requests that came back, and put what they change into the workbook.

    The old workbook is kept beside it. A job file is not changed: its prices are in its CSV file.
    Exit code 1 when a row cannot be used.
    """


@_command("pricelist")
@JOB_FILE
@click.argument("price_list", metavar="LIST", type=A_FILE)
@click.option(
    "--map", "map_file", required=True, type=A_FILE,
    help="How this supplier's lists are read, a TOML file of yours (docs/prices.md). One that is not there is proposed and written.",
)  # fmt: skip
@click.option(
    "--supplier", metavar="NAME",
    help="Whose list it is, for the proposal.  [default: whom the list names]",
)  # fmt: skip
@click.option("--take", "taking", is_flag=True, help="Put the prices into the price book.")
@AS_JSON
@BASES
def pricelist() -> None:
    """Read a merchant's own price list (csv, xlsx, xls, ods) against the price book, row by row.

    It shows what is understood, what changes, and what is new or gone. Nothing is taken without
    --take; then the old file (the workbook, or a job file's CSV file) is kept beside the new one.
    Exit code 1 when a row cannot be used.
    """


@_command("addin")
@click.option(
    "--out", type=A_FILE, show_default="damp-functions.oxt",
    help="The extension for LibreOffice Calc to write.",
)  # fmt: skip
@click.option(
    "--sample", "sample_path", type=A_FILE,
    help="Also write a workbook (.xlsx) that shows every function at work.",
)  # fmt: skip
@click.option(
    "--excel", "excel_path", type=A_FILE,
    help="Write a macro-enabled workbook (.xlsm) for Excel on Windows instead; not yet run there.",
)  # fmt: skip
@click.option(
    "--names", "names_path", type=A_FILE,
    help="Write a workbook (.xlsx) with the functions as names instead: nothing to install; not yet run in Excel.",
)  # fmt: skip
@REPLACE
def addin() -> None:
    """Write the rules as functions for your own sheets."""


@_command("comparing")
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


@_command("issuing")
@JOB_FILE
@click.option(
    "--out", type=A_FOLDER, required=True,
    help="Folder for the documents; it is made if it is not there.",
)  # fmt: skip
@click.option(
    "--level", type=click.Choice(LEVELS), default=STAGES, show_default=True,
    help="What the client sees: sums of stages, lines, or lines with quantities.",
)  # fmt: skip
@click.option("--revision", help="Mark of the revision.  [default: the next letter]")
@click.option("--date", "issued_on", help="Date to print.  [default: the date on Start]")
@click.option(
    "--since", type=A_FILE,
    help="An earlier issue of the job; the quote then says what has changed.",
)  # fmt: skip
@click.option("--again", is_flag=True, help="Write the last revision's documents once more.")
@click.option("--to", "to", multiple=True, help="The client's e-mail address.")
@SENDER
@SEND
@DRY_RUN
@SETTINGS
@BASES
def issue() -> None:
    """Issue a workbook's quote: the client's copy, its PDF, order lists, the sheet for site, a draft.

    The issue is recorded in the workbook. A copy from before the issue is kept beside it.
    """


def help_pages() -> dict[str, str]:
    """The page of help of the program and of each command, as printed 80 columns wide."""
    whole = click.Context(main, info_name=WHOLE, terminal_width=WIDTH - 2)
    pages = {WHOLE: whole}
    for name, command in main.commands.items():
        pages[name] = click.Context(command, parent=whole, info_name=name)
    return {name: context.get_help() + "\n" for name, context in pages.items()}


if __name__ == "__main__":
    main()
