"""The plan of the client's document: its lists, and totals by the rules that made the quote.

Lines are figures; the sums, VAT and total are the quote's own rules over them, so the client's
copy goes on adding up by the formulas of the estimator's. What those rules read of the
estimator's (counts against the quote, the minimum charge where it does not bite) is bound here.
"""

from typing import Any

from ..language import (
    Fixed,
    Item,
    Plan,
    Table,
    count_of,
    less,
    rule,
    same,
    sum_of,
    to_pence,
    where,
    worked,
)
from ..language.tables import WholeColumn, Worked
from ..language.units import (
    AMOUNT,
    EACH,
    FLAG,
    PERCENT,
    POUNDS,
    TEXT,
    Column,
    Each,
    Pounds,
    Text,
    TextColumn,
)
from ..pricing.quote import (
    firm_sum,
    minimum_added,
    provisional_sum,
    quote_net,
    quote_sum,
    quote_total,
)
from ..pricing.vat import quote_vat, vat_accounted
from ..revisions.changes import LINES, QUANTITIES, STAGES


@rule
def stage_sum(
    stage: Text, position: Each, stages: TextColumn, positions: Column, amounts: Column
) -> Pounds:
    """What a stage comes to, on its first line; 0 on the others."""
    return where(
        less(0, count_of(same(stages, stage), less(positions, position))),
        0,
        to_pence(sum_of(amounts, same(stages, stage))),
    )


def _stage_sum(table: str) -> Worked:
    columns = (("stages", "stage"), ("positions", "position"), ("amounts", "amount"))
    bound: dict[str, Any] = {name: WholeColumn(table, c) for name, c in columns}
    return worked(stage_sum, "Stage", **bound)


def _list(
    name: str, one: str, title: str, *columns: Item, numbered: bool = False, ended: bool = False
) -> Table:
    key = columns[0].name if columns else "mark"
    return Table(name, one, title, columns, key=key, guarded=False, numbered=numbered, grows=ended)


_STAGE = Fixed("stage", "Stage", TEXT)
_ITEM = Fixed("item", "Item", TEXT)
_STATUS = Fixed("status", "Status", TEXT)
_AMOUNT = Fixed("amount", "Price", POUNDS)
_WORDS = Fixed("words", "In words", TEXT)

# The lines of the price: one list for each level; the other two are left out.
LINES_AT = {
    STAGES: _list("stage_lines", "stage_line", "Price by stage", _STAGE, _STATUS, _AMOUNT),
    LINES: _list(
        *("priced_lines", "priced_line", "Price line by line"),
        *(_STAGE, _ITEM, _STATUS, _AMOUNT, _stage_sum("priced_lines")),
        numbered=True,
    ),
    QUANTITIES: _list(
        *("counted_lines", "counted_line", "Price and quantity line by line"),
        *(_STAGE, _ITEM, Fixed("quantity", "Quantity", EACH), Fixed("counted_in", "of", TEXT)),
        *(_STATUS, _AMOUNT, _stage_sum("counted_lines")),
        numbered=True,
    ),
}
VAT_STATUS = _list(
    "vat_statuses",
    "vat_kind",
    "VAT",
    Fixed("name", "VAT status", TEXT),
    Fixed("charged", "Charged", FLAG),
    Fixed("business", "Accounted for by the customer", FLAG),
    Fixed("sentence", "What that means", TEXT),
    ended=True,  # Gnumeric does not look up in a range of one cell: the line under it makes two
)
CHANGES = _list("changes", "change", "Changed since the last revision", _WORDS)
# What each standing covers, in one paragraph; the words above each are the template's.
SCOPE = {
    standing: _list(name, f"{name}_words", standing, _WORDS)
    for standing, name in (
        ("in", "included"),
        ("provisional", "provisionals"),
        ("by others", "by_others"),
        ("excluded", "excluded"),
    )
}
COUNTED = _list(
    "counted_quantities",
    "counted_quantity",
    "Quantities",
    Fixed("counted", "What is counted", TEXT),
    Fixed("net", "Net", AMOUNT),
    Fixed("unit", "Unit", TEXT),
    Fixed("standing", "In the price", TEXT),
)
OUT_OF_SCOPE = _list(
    *("out_of_scope", "left_out", "Not in this document"),
    *(Fixed("name", "Not in this document", TEXT), _WORDS),
)
GOES_ON = _list(
    *("overrides", "overridden", "Goes on in spite of a finding"),
    *(Fixed("gone_on", "Goes on in spite of", TEXT), Fixed("reason", "Reason", TEXT)),
)
HOLDS = _list(
    *("hold_points", "hold", "Hold points"),
    *(Fixed("name", "Hold point", TEXT), Fixed("notice", "To be told", TEXT)),
)
# Parts that are there or not. Their words, and the places in them, are the template's.
HOUSEHOLDER, BUSINESS, APART, AT_MINIMUM = (
    _list(name, f"{name}_part", title)
    for name, title in (
        ("for_householder", "The sum, total first"),
        ("for_business", "The sum, before VAT first"),
        ("set_apart", "Firm and provisional lines apart"),
        ("at_minimum", "Minimum charge"),
    )
)
REVERSED, REASONED, ASSUMED, GAS, RIGHTS = (
    _list(name, f"{name}_part", title)
    for name, title in (
        ("vat_reversed", "Reverse charge"),
        ("vat_reasoned", "Reason for the rate"),
        ("sizes_assumed", "Assumed figures"),
        ("gas_area", "Radon or gas"),
        ("cancellation_rights", "Right to cancel"),
    )
)
TABLES = (
    *(HOUSEHOLDER, BUSINESS, CHANGES, *LINES_AT.values(), APART, AT_MINIMUM, REVERSED, VAT_STATUS),
    *(REASONED, ASSUMED, GAS, *SCOPE.values(), OUT_OF_SCOPE, COUNTED, GOES_ON, HOLDS, RIGHTS),
)
# Shown as they stand in the estimator's workbook, whatever the level.
COPIED = tuple(
    Fixed(name, label, TEXT)
    for name, label in (
        ("document_word", "Document"),
        ("document_promise", "What it promises"),
        ("price_covers", "The price covers"),
        ("job_title", "Job"),
        ("client_name", "Client"),
        ("site_address", "Site"),
        ("prepared_by", "Prepared by"),
        ("quote_valid", "Valid"),
        ("document_title", "Guidance"),
        ("document_binds", "Whom it binds"),
        ("vat_reason", "Reason for the rate"),
        ("vat_total_label", "The total is called"),
        ("assumed_note", "Assumed"),
        ("gas_note", "Radon or gas"),
    )
)
OF_THE_ISSUE = tuple(
    Fixed(name, label, TEXT)
    for name, label in (
        ("quote_date", "Date"),
        ("revision_mark", "Revision"),
        ("changed_since", "Changed since revision"),
    )
)


def client_plan(level: str, at_minimum: bool) -> Plan:
    """The plan for a level; where the minimum charge does not bite it is not in the document."""
    lines = LINES_AT[level].name
    amounts: dict[str, Any] = {
        "problem_count": 0,
        "quote_line_amount": WholeColumn(lines, "amount"),
    }
    statuses: dict[str, Any] = {"quote_line_status": WholeColumn(lines, "status")}
    least: dict[str, Any] = {} if at_minimum else {"minimum_charge": 0}
    added: dict[str, Any] = {} if at_minimum else {"minimum_added": 0}
    return Plan(
        TABLES,
        cells=(
            *COPIED,
            *OF_THE_ISSUE,
            Fixed("vat_percent", "VAT rate", PERCENT),
            Fixed("minimum_charge", "Our minimum charge", POUNDS),
            worked(firm_sum, "Firm lines", **amounts, **statuses),
            worked(provisional_sum, "Provisional lines", **amounts, **statuses),
            worked(quote_sum, "All lines", **amounts),
            worked(minimum_added, "To the minimum charge", **least),
            worked(quote_net, "Sum without VAT", **added),
            worked(quote_vat, "VAT", vat_row=1),
            worked(vat_accounted, "VAT the customer accounts for", vat_row=1),
            worked(quote_total, "Total with VAT"),
        ),
        keyed={},
    )
