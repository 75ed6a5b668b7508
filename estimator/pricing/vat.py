"""VAT as a status with its printed sentence, not a bare rate."""

from typing import Any

from ..language import *
from ..language.percent import cell_in_use

STANDARD_RATE = 20  # gov.uk, VAT for builders
STANDARD, LOWER, REVERSE, UNREGISTERED = (
    "standard",
    "zero or reduced",
    "reverse charge",
    "not registered",
)

VAT_STATUSES = Table(
    "vat_statuses",
    "vat_kind",
    "VAT statuses",
    (
        Fixed("name", "VAT status", TEXT),
        Fixed("charged", "VAT is charged", FLAG),
        Fixed("carried", "Cost carries VAT", FLAG),
        Fixed("reasoned", "A reason is asked", FLAG),
        Fixed("business", "Only between businesses", FLAG),
        Fixed("rate", "Its rate, where it has one", PERCENT),
        Fixed("total_label", "Its total is called", TEXT),
        Fixed("sentence", "Sentence printed", TEXT),
    ),
    key="name",
    guarded=False,
)


def _status(name: str, flags: str, sentence: str) -> dict[str, Any]:
    columns = ("charged", "carried", "reasoned", "business")
    rate = STANDARD_RATE if name == STANDARD else None
    label = "Total with VAT" if "charged" in flags else "Total, no VAT charged"
    words: dict[str, Any] = {"name": name, "sentence": sentence, "rate": rate, "total_label": label}
    return words | {c: int(c in flags) for c in columns}


# The kinds of work: HMRC Notice 708, as its index was read.
VAT_STATUS_ROWS = (
    _status(STANDARD, "charged",
            "VAT at the standard rate is charged: the usual rate for extending a house."),
    _status(LOWER, "charged reasoned",
            "VAT is charged at a zero or reduced rate for the reason given. The rate holds only "
            "for the kinds of work that HMRC Notice 708 names, and only if its conditions are "
            "met."),
    _status(REVERSE, "business",
            "Domestic reverse charge: the customer accounts to HMRC for the VAT shown. Do not pay "
            "it to us."),
    _status(UNREGISTERED, "carried",
            "We are not registered for VAT: none is charged and none can be reclaimed from us."),
)  # fmt: skip


@rule
def vat_row(vat_status: Text, vat_kind_name: TextColumn, vat_kind_position: Column) -> Each:
    """The VAT status's place in the list."""
    return sum_of(vat_kind_position, same(vat_kind_name, vat_status))


@rule
def cost_factor(vat_row: Each, supplier_vat_percent: Percent, vat_kind_carried: Column) -> Amount:
    """Cost for each pound of price: more where the suppliers' VAT cannot be reclaimed."""
    return 1 + read_at(vat_row, vat_kind_carried) * supplier_vat_percent / 100


@rule
def quote_vat(
    quote_net: Pounds, vat_percent: Percent, vat_row: Each, vat_kind_charged: Column
) -> Pounds:
    """VAT charged, rounded once on the sum."""
    return to_pence(quote_net * vat_percent / 100 * read_at(vat_row, vat_kind_charged))


@rule
def vat_accounted(
    quote_net: Pounds, vat_percent: Percent, vat_row: Each, vat_kind_business: Column
) -> Pounds:
    """VAT that the customer accounts for under the reverse charge: shown, not payable to us."""
    return to_pence(quote_net * vat_percent / 100 * read_at(vat_row, vat_kind_business))


@rule
def vat_sentence(vat_row: Each, vat_kind_sentence: TextColumn) -> Text:
    """The sentence that the VAT status prints."""
    return read_at(vat_row, vat_kind_sentence)


@rule
def vat_total_label(vat_row: Each, vat_kind_total_label: TextColumn) -> Text:
    """What the total is called: with VAT, or without any charged."""
    return read_at(vat_row, vat_kind_total_label)


@rule
def vat_unreasoned(vat_row: Each, vat_reason: Text, vat_kind_reasoned: Column) -> Flag:
    """1 where a zero or reduced rate is used and no reason is given."""
    return where(both(same(read_at(vat_row, vat_kind_reasoned), 1), is_blank(vat_reason)), 1, 0)


@rule
def vat_status_rate(vat_row: Each, vat_kind_rate: Column) -> Percent:
    """The one rate that the status has. 0 where it has none of its own."""
    return read_at(vat_row, vat_kind_rate)


@rule
def vat_off_status(vat_percent: Percent, vat_status_rate: Percent) -> Flag:
    """1 where the status has one rate, and the rate is another."""
    return where(both(less(0, vat_status_rate), less(0, apart(vat_percent, vat_status_rate))), 1, 0)


@rule
def vat_rate_differs(
    vat_row: Each,
    vat_percent: Percent,
    vat_off_status: Flag,
    vat_kind_reasoned: Column,
    vat_kind_business: Column,
) -> Flag:
    """1 where the rate is not one its status can have.

    The standard rate is one figure. A reduced rate lies below it. A reverse charge has a rate.
    """
    return where(
        either(
            same(vat_off_status, 1),
            either(
                both(
                    same(read_at(vat_row, vat_kind_reasoned), 1),
                    at_most(STANDARD_RATE, vat_percent),
                ),
                both(same(read_at(vat_row, vat_kind_business), 1), same(vat_percent, 0)),
            ),
        ),
        1,
        0,
    )


@rule
def vat_to_householder(
    vat_row: Each, client_is_householder: Text, vat_kind_business: Column
) -> Flag:
    """1 where the reverse charge is used and the client is a householder."""
    return where(
        both(same(read_at(vat_row, vat_kind_business), 1), same(client_is_householder, "yes")), 1, 0
    )


INPUTS = (
    text("vat_status", "VAT", choice_of="vat_statuses.name", default=STANDARD),
    number("vat_percent", "VAT rate", PERCENT, 0, 50, "The rate of the VAT status.",
           default=STANDARD_RATE),
    number("supplier_vat_percent", "Suppliers' VAT rate", PERCENT, 0, 50,
           "What the suppliers charge: part of the cost where it cannot be reclaimed.",
           default=STANDARD_RATE),
    text("vat_reason", "Reason for the rate", "Needed for a zero or reduced rate, and printed on the quote.",
         required=False),
    text("client_is_householder", "Client is a householder", choices=("yes", "no"), default="yes",
         help="A householder is never charged by reverse charge."),
)  # fmt: skip
CELLS = (
    *(cell_in_use(i) for i in INPUTS if i.unit is PERCENT),
    worked(vat_row, "VAT status no."),
    worked(vat_status_rate, "Rate of the VAT status"),
    worked(vat_off_status, "VAT rate other than its status's one"),
    worked(cost_factor, "Cost for each pound"),
    worked(vat_sentence, "VAT"),
    worked(vat_total_label, "The total is called"),
    worked(quote_vat, "VAT"),
    worked(vat_accounted, "VAT the customer accounts for"),
)
COUNTS = (
    worked(vat_unreasoned, "Zero or reduced VAT without its reason"),
    worked(vat_rate_differs, "VAT rate that does not belong to its status"),
    worked(vat_to_householder, "Reverse charge to a householder"),
)
