"""Commands about prices, suppliers and wastage, every option said once. As in main.py, nothing but
the words is imported.
"""

import click

from ..files.resources import REQUEST_TEMPLATE
from .declaring import command
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


@command("cheapest")
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


@command("cutting")
@JOB_FILE
@click.option("--take", "taking", is_flag=True, help="Write the rolls that save into the job.")
@click.option("--undo", "undoing", is_flag=True, help="Take the cutting plan out of the job.")
@AS_JSON
@BASES
def cut() -> None:
    """Print how whole pieces are cut from the cheapest rolls, proven, and what that saves."""


@command("pricing")
@JOB_FILE
@click.option(
    "--out", required=True, type=A_FOLDER,
    help="Folder for the workbooks and the e-mail drafts. It is made if it is not there.",
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
    "--to",
    "to",
    multiple=True,
    metavar="SUPPLIER=ADDRESS",
    help="A supplier's address. Give it once for each supplier.",
)
@click.option(
    "--template", type=A_FILE, default=REQUEST_TEMPLATE, show_default="the one that comes with "
        "the program",
    help="A restyled template.",
)  # fmt: skip
@click.option("--replace", "overwrite", is_flag=True, help="Write over files that are there.")
@SEND
@DRY_RUN
@SETTINGS
@BASES
def request() -> None:
    """Write for each supplier a workbook to be filled in with prices, and an e-mail draft.

    With --send the drafts are sent too. Every supplier then needs an address.
    """


@command("pricing")
@JOB_FILE
@click.argument("returned", nargs=-1, required=True, type=A_FILE)
@click.option(
    "--changed-since", is_flag=True,
    help="Take the prices although the job was changed after the request.",
)  # fmt: skip
@click.option("--show", is_flag=True, help="Only show what would change, and write nothing.")
@AS_JSON
@BASES
def prices() -> None:
    """Read the price requests that came back, and put what they change into the workbook.

    The old workbook is kept beside it. A job file is not changed: its prices are in its CSV file.
    Exit code 1 when a row cannot be used.
    """


@command("pricelist")
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
    --take. With it the old file (the workbook, or a job file's CSV file) is kept beside the new one.
    Exit code 1 when a row cannot be used.
    """


@command("used")
@JOB_FILE
@click.argument("used_list", metavar="[LIST]", required=False, type=A_FILE)
@click.option("--out", type=A_FILE, help="The list to fill in, .csv.")
@click.option(
    "--keep", type=A_FILE, metavar="RECORD.csv",
    help="Your office's record. A filled-in list is added to it. It is made if it is not there.",
)  # fmt: skip
@REPLACE
@BASES
def used() -> None:
    """Write a list to fill in with the packs used and sent back, or read one that is filled in.

    It holds what wastage is added to. A list that comes back may be .csv, .xlsx, .xls or .ods.
    """


@command("used")
@click.argument("record", type=A_FILE)
@click.argument("job", required=False, type=A_FILE)
@AS_JSON
@BASES
def wastage() -> None:
    """Print what wastage came to over jobs, from your office's record. No figure is changed.

    With JOB: beside what that job counts on.
    """
