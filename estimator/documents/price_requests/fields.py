"""A price request, declared: what we say, what the supplier fills in, and what is accepted.

Names and layout are a contract: a request that an earlier version wrote is read when it comes back.
"""

from dataclasses import dataclass, replace

from ...buying.book import BOOK
from ...buying.suppliers import SUPPLIERS
from ...language.tables import Input, Table, text
from ...language.units import EACH
from ..declaration import Document, Listed, cell, column, listed
from .asked import Request

LAYOUT, LAYOUT_NAME = 1, "price_request_layout"
COLUMN = "asked_"  # before a column's name, in the workbook's names for cells
NUMBER, SUPPLIER = "request_number", "request_supplier"
NOT_AGREED = "to be agreed"  # where deliveries go, while no postcode is known
OTHER = "other_"  # before the name of a measure: of what is offered instead


def _of(table: Table, column: str, name: str, label: str, help: str) -> Input:
    """A cell with the limits of a typed column of ours; it may always be left blank."""
    item = table.column(column)
    assert isinstance(item, Input)
    help = help if item.unit.text else f"{help} A number, without words."
    return replace(item, name=name, label=label, help=help, required=False)


def _other(column: str, label: str, help: str) -> Input:
    return _of(BOOK, column, OTHER + column, label, help)


PRICE = _of(BOOK, "price", "price", "Price of a pack", "For one pack as asked, without VAT.")
OTHERS = (
    _other("description", "Description", "What you sell instead, in your own words."),
    _other("width", "Width", "Of a roll or length. Of sheet: unfolded."),
    _other("length", "Length", "Of a roll or length."),
    _other("pieces", "Pieces", "In one pack."),
    _other("weight", "Weight", "Of one bag, or the step of a loose load."),
    _other("thickness", "Thickness", "Of sheet."),
    _other("made_of", "Made of", "Of a DPC or a tray."),
    _other("price", "Price of a pack", "For one pack of what you offer instead, without VAT."),
)
FILLED_IN = (PRICE, *OTHERS)
DELIVERY = _of(SUPPLIERS, "delivery", "delivery_charge", "Delivery charge",
               "For one drop, without VAT. 0: none.")  # fmt: skip
FREE_OVER = _of(SUPPLIERS, "free_over", "delivery_free_over", "Free over",
                "Goods from this much up are delivered free. Blank: no change.")  # fmt: skip
VALID = text("prices_valid_until", "Prices hold until", "A date, as 31 March 2026.", required=False)
NOTE = text("supplier_note", "Note", "Anything we should know, on one line.", required=False)
TERMS = (DELIVERY, FREE_OVER, VALID, NOTE)


@dataclass(frozen=True)
class Asking:
    """What one supplier is asked, by whom, and where to deliver."""

    request: Request
    said_by: str
    deliver_to: str


LINES: Listed[Asking] = listed(
    *("asked_lines", "asked_line", "Asked for"),
    column("code", "Code"),
    column("material", "Material"),
    column("description", "Description"),
    column("pack", "A pack is"),
    column("packs", "Packs needed", EACH),
    *FILLED_IN,
    rows=lambda of: [vars(line) for line in of.request.lines],
)
PRICE_REQUEST: Document[Asking] = Document(
    lists=(LINES,),
    cells=(
        cell(NUMBER, "Request", lambda of: of.request.number),
        cell(SUPPLIER, "To", lambda of: of.request.supplier),
        cell("request_from", "From", lambda of: of.said_by),
        cell("request_deliver_to", "Deliver to", lambda of: of.deliver_to),
        *TERMS,
    ),
)
ASKED = tuple(c.item.name for c in LINES.columns)
COLUMNS = tuple(c.name for c in LINES.table)
CELLS = tuple(PRICE_REQUEST.plan.cells)
