"""The client's document: everything that a client may see of a job, and nothing else.

Lines are figures; the sums, VAT and total are the quote's own rules over them, so the client's
copy goes on adding up by the formulas of the estimator's. What those rules read of the
estimator's (counts against the quote, the minimum charge where it does not bite) is bound here.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import zip_longest
from math import fsum
from typing import Any

from ..errors import IssueError
from ..language import count_of, less, rounding, rule, same, sum_of, to_pence, where, worked
from ..language.ledger import Ledger, is_available
from ..language.units import (
    AMOUNT,
    EACH,
    FLAG,
    PERCENT,
    POUNDS,
    Column,
    Each,
    Pounds,
    Text,
    TextColumn,
)
from ..model.reports import reasons
from ..pricing import quote, vat
from ..pricing.terms import COMPANY_NUMBER, PAYMENT, REFERENCES, VAT_NUMBER
from ..revisions.changes import LINES, QUANTITIES, STAGES
from ..revisions.changes.words import noun
from .declaration import (
    Document,
    JobRow,
    Listed,
    Row,
    cell,
    column,
    copied,
    in_use,
    listed,
    part,
    rows_in_use,
)
from .drawings import FOR_CLIENT, room_for
from .heads import ABOUT
from .hold_points import told
from .issue import Issue, Issuing


@rule
def stage_sum(
    stage: Text,
    position: Each,
    quote_line_stage: TextColumn,
    quote_line_position: Column,
    quote_line_amount: Column,
) -> Pounds:
    """What a stage comes to, on its first line. 0 on the others."""
    return where(
        less(0, count_of(same(quote_line_stage, stage), less(quote_line_position, position))),
        0,
        to_pence(sum_of(quote_line_amount, same(quote_line_stage, stage))),
    )


_STAGE, _ITEM = column("stage", "Stage"), column("item", "Item")
_PRICE = (column("status", "Status"), column("amount", "Price", POUNDS))
_COUNT = (column("quantity", "Quantity", EACH), column("counted_in", "of"))
_WORDS = column("words", "In words")
_SUM = worked(stage_sum, "Stage")
# The lines of the price: one list for each level; the other two are left out.
LINES_AT = {STAGES: "stage_lines", LINES: "priced_lines", QUANTITIES: "counted_lines"}


def _lines_at(
    at: str, level: str, *columns: Any, rows: Callable[[Issuing], Iterable[Row]]
) -> Listed[Issuing]:
    """The lines of the price at a level; the rules of the quote read those of the level shown."""
    return listed(
        *(LINES_AT[at], "quote_line" if at == level else f"{at}_line", f"Price by {at}", *columns),
        rows=lambda of: rows(of) if of.issue.level == at else (),
        numbered=at != STAGES,
    )


def _scope(name: str, standing: str) -> Listed[Issuing]:
    """What has that standing, two to a line; the words above it are the template's."""

    def rows(of: Issuing) -> list[Row]:
        # With quantities, what is in the price stands among them, line by line.
        if of.issue.level == QUANTITIES and standing == "in":
            return []
        counted = [r["counted"] for r in _scoped(of) if r["scope"] == standing]
        half = (len(counted) + 1) // 2  # read down the left column, then down the right one
        pairs = zip_longest(counted[:half], counted[half:], fillvalue="")
        return [{"words": one, "beside": other} for one, other in pairs]

    beside = column("beside", "And")
    return listed(name, f"{name}_words", standing, _WORDS, beside, rows=rows)


def client(level: str, at_minimum: bool) -> Document[Issuing]:
    """What the client sees at a level; a minimum charge only where the lines come to less."""
    no_problems: dict[str, Any] = {"problem_count": 0}
    no_minimum: dict[str, Any] = {} if at_minimum else {"minimum_charge": 0}
    none_added: dict[str, Any] = {} if at_minimum else {"minimum_added": 0}
    return Document(
        lists=(
            part("firm", "Whose document it is", lambda of: of.job.cell("firm_name")),
            listed(
                *("details", "detail", "What it refers to, and its terms"),
                *(column("label", "What"), _WORDS),
                rows=_details,
            ),
            part("for_householder", "The sum, total first", _householder),
            part("for_business", "The sum, before VAT first", lambda of: not _householder(of)),
            listed(
                *("changes", "change", "Changed since the last revision", _WORDS),
                rows=lambda of: [{"words": c} for c in of.issue.changes],
            ),
            _lines_at(STAGES, level, _STAGE, *_PRICE, rows=_stages),
            _lines_at(LINES, level, _STAGE, _ITEM, *_PRICE, _SUM, rows=_lines),
            _lines_at(QUANTITIES, level, _STAGE, _ITEM, *_COUNT, *_PRICE, _SUM, rows=_lines),
            part("set_apart", "Firm and provisional lines apart", _any_provisional),
            part("at_minimum", "Minimum charge", _at_minimum),
            part("vat_reversed", "Reverse charge", lambda of: _vat(of)["business"]),
            listed(
                *("vat_statuses", "vat_kind", "VAT"),
                column("name", "VAT status"),
                column("charged", "Charged", FLAG),
                column("business", "Accounted for by the customer", FLAG),
                column("sentence", "What that means"),
                rows=lambda of: [_vat(of)],
                ended=True,  # Gnumeric does not look up in one cell: the line under it makes two
            ),
            part("vat_reasoned", "Reason for the rate", lambda of: _vat(of)["reasoned"]),
            part("sizes_assumed", "Assumed figures", lambda of: of.job.cell("assumed_note")),
            part("gas_area", "Radon or gas", lambda of: of.job.cell("gas_note")),
            _scope("included", "in"),
            _scope("provisionals", "provisional"),
            _scope("by_others", "by others"),
            _scope("excluded", "excluded"),
            listed(
                *("out_of_scope", "left_out", "Not in this document"),
                *(column("name", "Not in this document"), _WORDS),
                rows=in_use("out_of_scope", "name"),
            ),
            listed(
                *("counted_quantities", "counted_quantity", "Quantities"),
                column("counted", "What is counted"),
                column("net", "Net", AMOUNT, lambda row: rounding.pence(row["net"])),
                column("unit", "Unit"),
                column("standing", "In the price", of="scope"),
                rows=lambda of: _scoped(of) if of.issue.level == QUANTITIES else [],
            ),
            listed(
                *("overrides", "overridden", "Kept although a check is short"),
                column("gone_on", "Kept although a check is short"),
                column("reason", "Reason"),
                rows=in_use("overrides", "gone_on"),
            ),
            listed(
                *("hold_points", "hold", "Hold points"),
                column("name", "Hold point"),
                column("notice", "To be told"),
                rows=told,
            ),
            part("cancellation_rights", "Right to cancel", _householder),
            room_for(*FOR_CLIENT),
        ),
        cells=(
            *ABOUT,
            copied("firm_name", "Firm"),
            cell("firm_contact", "Address and telephone", _contact),
            cell("firm_registration", "Company and VAT number", _registration),
            cell("acceptance_words", "Acceptance", _acceptance),
            copied("document_word", "Document"),
            copied("document_promise", "What it promises"),
            cell("price_covers", "The price covers", _covers),
            copied("client_name", "Client"),
            copied("quote_valid", "Valid"),
            copied("document_title", "Guidance"),
            copied("document_binds", "What it is"),
            copied("vat_total_label", "The total is called"),
            copied("assumed_note", "Assumed"),
            copied("gas_note", "Radon or gas"),
            cell("changed_since", "Changed since revision", lambda of: of.issue.changed_since),
            cell("vat_reason", "Reason for the rate", _vat_reason),
            cell("vat_percent", "VAT rate", _vat_percent, PERCENT),
            cell("minimum_charge", "Our minimum charge",
                 lambda of: of.job.cell("minimum_charge") if _at_minimum(of) else None, POUNDS),
            worked(quote.firm_sum, "Firm lines", **no_problems),
            worked(quote.provisional_sum, "Provisional lines", **no_problems),
            worked(quote.quote_sum, "All lines", **no_problems),
            worked(quote.minimum_added, "To the minimum charge", **no_minimum),
            worked(quote.quote_net, "Sum without VAT", **none_added),
            worked(vat.quote_vat, "VAT", vat_row=1),
            worked(vat.vat_accounted, "VAT the customer accounts for", vat_row=1),
            worked(quote.quote_total, "Total with VAT"),
        ),
    )  # fmt: skip


def client_ledger(job: Ledger, issue: Issue) -> Ledger:
    """What the client sees of a job. Raises IssueError while the job has no total, saying why."""
    title = str(job.cell("job_title") or "the job")
    if not is_available(job.cell("quote_total")):
        why = reasons(job)
        mended = f"a job with nothing to fix ({why})" if why else "a job with a total"
        raise IssueError(title, "no total to quote", mended)
    of = Issuing(job, issue)
    found = client(issue.level, _at_minimum(of)).ledger(of)
    if not found.rows[LINES_AT[issue.level]]:
        raise IssueError(title, "no line with a price", "a job that has something to price")
    return found


def _details(of: Issuing) -> list[Row]:
    """The particulars of the quote that somebody gave, each with its label."""
    return [
        {"label": i.label, "words": of.job.cell(i.name)}
        for i in (*REFERENCES, PAYMENT)
        if of.job.cell(i.name)
    ]


def _contact(of: Issuing) -> str:
    given = (of.job.cell(name) for name in ("firm_address", "firm_telephone"))
    return ", telephone ".join(str(words) for words in given if words)


def _registration(of: Issuing) -> str:
    given = ((i.label, of.job.cell(i.name)) for i in (COMPANY_NUMBER, VAT_NUMBER))
    return ", ".join(f"{label} {words}" for label, words in given if words)


def _acceptance(of: Issuing) -> str:
    """What the client signs: which document it is, so that no other revision is meant."""
    word, number = str(of.job.cell("document_word")).lower(), of.job.cell("quote_number")
    which = f"{word} {number}" if number else word
    which = f"{which}, revision {of.issue.revision} of {of.issue.date}"
    if word == "estimate":
        return (
            f"I have read this {which}. Please go ahead with the work. I know that provisional "
            "lines may change."
        )
    return f"I accept this {which}. Please go ahead with the work."


def _covers(of: Issuing) -> str:
    """What the price is for; work and fees by name where the lines of the price do not name them."""
    said = str(of.job.cell("price_covers"))
    named = [str(line["item"]) for line in _lines(of) if line["work_row"]]
    if of.issue.level != STAGES or not named:
        return said
    counted, work = "the materials counted here", f"this work and these fees: {'; '.join(named)}"
    return said.replace(quote.MATERIALS_LISTED, counted).replace(quote.WORK_LISTED, work)


def _householder(of: Issuing) -> bool:
    return bool(of.job.cell("client_is_householder") == "yes")


def _at_minimum(of: Issuing) -> bool:
    return bool(of.job.cell("minimum_added") > 0)


def _vat(of: Issuing) -> JobRow:
    """The VAT status that the job has."""
    return JobRow(of.job, "vat_statuses", int(of.job.cell("vat_row")))


def _vat_reason(of: Issuing) -> Any:
    return of.job.cell("vat_reason") if _vat(of)["reasoned"] else ""


def _vat_percent(of: Issuing) -> Any:
    rated = _vat(of)["charged"] or _vat(of)["business"]
    return of.job.cell("used_vat_percent") if rated else 0


def _scoped(of: Issuing) -> list[JobRow]:
    return rows_in_use(of.job, "scope_lines", "counted")


def _any_provisional(of: Issuing) -> bool:
    return any(line["status"] == "provisional" for line in _lines(of))


def _lines(of: Issuing) -> list[JobRow]:
    """The lines of the quote, each with its stage.

    Several deliveries are told apart by number, as no supplier may be named to a client.
    """
    lines, stages = rows_in_use(of.job, "quote_lines", "item"), of.job.column("stages", "name")
    drops = [line.row for line in lines if line["drop"]]

    def shown(line: JobRow) -> JobRow:
        item, counted_in = line["item"], line["counted_in"]
        if line["drop"] and len(drops) > 1:
            item = f"{item} ({drops.index(line.row) + 1} of {len(drops)})"
        counted_in = noun(line["quantity"], counted_in) or counted_in
        stage = stages[int(line["stage_no"]) - 1]
        return replace(line, other={"item": item, "stage": stage, "counted_in": counted_in})

    return [shown(line) for line in lines]


def _stages(of: Issuing) -> list[Row]:
    """The lines summed by stage and status."""
    sums: dict[tuple[str, str], list[float]] = {}
    for line in _lines(of):
        sums.setdefault((line["stage"], line["status"]), []).append(line["amount"])
    return [
        {"stage": stage, "status": status, "amount": rounding.pence(fsum(amounts))}
        for (stage, status), amounts in sums.items()
    ]
