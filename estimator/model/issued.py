"""What was issued to the client: one row for each issue of the quote, and whether it still holds.

The rows are written when a quote is issued and may be put right by hand. They are a record: no
quantity and no price reads them.
"""

from ..language import *

MOST = 100_000_000  # pounds
DOCUMENTS = ("Quotation", "Estimate")

REVISIONS = Table(
    "revisions",
    "issued",
    "Revisions",
    (
        text("revision", "Revision", "A, B, C ... or your own, each used once. The latest comes "
                                     "last."),
        text("date", "Date", "As it was printed."),
        text("basis", "Guidance", "Whose guidance was followed."),
        text("document", "Document", choices=DOCUMENTS),
        number("net", "Without VAT", POUNDS, 0, MOST),
        number("vat", "VAT", POUNDS, 0, MOST),
        number("total", "Total", POUNDS, 0, MOST),
        text("digest", "Inputs", "A check number over everything typed. It shows later whether "
                                 "anything was changed. Blank for an issue recorded by hand.", required=False),
        text("note", "Note", "For yourself, never sent.", required=False),
    ),
    key="revision",
    grows=True,
    spare=(6, 10),
    since=2,
)  # fmt: skip


@rule
def last_issue_no(issued_revision: TextColumn, issued_position: Column) -> Each:
    """The row of the last issue. 0 while there is none."""
    return largest_of(issued_position, 1 - same(issued_revision, ""))


@rule
def last_issued(last_issue_no: Each, issued_revision: TextColumn) -> Text:
    """The revision that was issued last."""
    return where(less(0, last_issue_no), beside(issued_revision, last_issue_no), "not issued yet")


@rule
def last_issued_on(last_issue_no: Each, issued_date: TextColumn) -> Text:
    """The date it bore."""
    return where(less(0, last_issue_no), beside(issued_date, last_issue_no), "")


@rule
def last_issued_total(last_issue_no: Each, issued_total: Column) -> Pounds:
    """The total it bore."""
    return available(less(0, last_issue_no), beside(issued_total, last_issue_no))


@rule
def moved_since(last_issued_total: Pounds, quote_total: Pounds) -> Pounds:
    """How far the total has moved since: more, or below 0 for less."""
    return to_pence(quote_total - last_issued_total)


@rule
def issue_state(last_issued_total: Pounds, quote_total: Pounds) -> Text:
    """Whether the total has moved since the last issue."""
    return where(
        given(last_issued_total),
        where(
            given(quote_total),
            where(
                less(apart(quote_total, last_issued_total), 0.005),
                "The total is as it was issued.",
                "The total has moved since it was issued.",
            ),
            "There is no total now to compare with the one issued.",
        ),
        "",
    )


CELLS = (
    worked(last_issue_no, "Last row of Revisions"),
    worked(last_issued, "Issued last"),
    worked(last_issued_on, "Dated"),
    worked(last_issued_total, "Its total"),
    worked(moved_since, "Moved since"),
    worked(issue_state, "Since then"),
)
