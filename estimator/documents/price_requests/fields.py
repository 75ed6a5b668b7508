"""The cells of a price request: what we say, what the supplier fills in, and what is accepted."""

from dataclasses import replace

from ...buying.book import BOOK
from ...buying.suppliers import SUPPLIERS
from ...language.tables import Input, Table, text

LAYOUT, LAYOUT_NAME = 1, "price_request_layout"
COLUMN = "asked_"  # before a column's name, in the workbook's names for cells
NUMBER, SUPPLIER = "request_number", "request_supplier"
NOT_AGREED = "to be agreed"  # where deliveries go, while no postcode is known
SAID = (NUMBER, SUPPLIER, "request_from", "request_deliver_to")

ASKED = ("code", "material", "description", "pack", "packs")
OTHER = "other_"  # before the name of a measure: of what is offered instead


def _of(table: Table, column: str, name: str, label: str, help: str) -> Input:
    """A cell with the limits of a typed column of ours; it may always be left blank."""
    item = table.column(column)
    assert isinstance(item, Input)
    return replace(item, name=name, label=label, help=help, required=False)


def _other(column: str, label: str, help: str) -> Input:
    return _of(BOOK, column, OTHER + column, label, help)


PRICE = _of(BOOK, "price", "price", "Price of a pack", "For one pack as asked, without VAT.")
OTHERS = (
    _other("description", "Description", "What you sell instead, in your own words."),
    _other("width", "Width", "Of a roll or length; of sheet, unfolded."),
    _other("length", "Length", "Of a roll or length."),
    _other("pieces", "Pieces", "In one pack."),
    _other("weight", "Weight", "Of one bag, or the step of a loose load."),
    _other("thickness", "Thickness", "Of sheet."),
    _other("made_of", "Made of", "Of a DPC or a tray."),
    _other("price", "Price of a pack", "For one pack of what you offer instead, without VAT."),
)
FILLED_IN = (PRICE, *OTHERS)
DELIVERY = _of(SUPPLIERS, "delivery", "delivery_charge", "Delivery charge",
               "For one drop, without VAT; 0 for none.")  # fmt: skip
FREE_OVER = _of(SUPPLIERS, "free_over", "delivery_free_over", "Free over",
                "Goods from this much up are delivered free; blank: no change.")  # fmt: skip
VALID = text("prices_valid_until", "Prices hold until", "A date, as 31 March 2026.", required=False)
NOTE = text("supplier_note", "Note", "Anything we should know, on one line.", required=False)
TERMS = (DELIVERY, FREE_OVER, VALID, NOTE)

COLUMNS = (*ASKED, *(item.name for item in FILLED_IN))
CELLS = (*SAID, *(item.name for item in TERMS))
