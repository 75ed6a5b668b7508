"""What the estimator is told before an issue is written; nothing of it refuses the issue."""

from datetime import date
from pathlib import Path

from ..buying.price_ages import price_old
from ..documents.dates import date_warning
from ..documents.issue import Issue
from ..documents.pdf import pasted
from ..language.days import day_number, day_of
from ..model import reports
from ..model.estimate import estimate
from ..revisions.changes import QUANTITIES, at_profit_of, dearer_by_profit
from .figures import as_given
from .given import Given
from .mailing import warn_of_name
from .manners import given_and_asked, state_said, warn, warn_listing


def today() -> date:
    """The day on which it is issued."""
    return date.today()


def warn_before_issue(given: Given, planned: Issue, job: Path) -> None:
    """Say which checks ask something, and whether the quote's date will do."""
    _warn_of_checks(given, job)
    sentence = date_warning(planned.date, str(given.ledger.cell("quote_valid")), today())
    if sentence:
        warn(sentence)
    _warn_of_old_prices(given)
    warn_of_name(given.ledger.column("order_lines", "supplier"))


def _warn_of_old_prices(given: Given) -> None:
    """Say which prices will be older than the office's limit on the day of the issue."""
    limit, ledger = given.job.particulars.get("price_limit"), given.ledger
    if not limit:
        return
    now = day_number(today())
    packs = dict(zip(ledger.column("book", "code"), ledger.column("book", "packs"), strict=False))
    old = [
        f"{row['code']} ({row['description']}): of {day_of(row['priced_on'])}"
        for row in given.job.rows["book"]
        if price_old(packs[row["code"]], row["priced_on"], limit, now)
    ]
    if old:
        prices = "1 price is" if len(old) == 1 else f"{len(old)} prices are"
        warn_listing(
            f"{prices} older than the {as_given(limit or 0)} days that prices are good for. The quote goes out "
            "all the same:",
            old,
            "Prices shows the day of each",
        )


def warn_of_profit(old: Given, new: Given, planned: Issue, paths: tuple[Path, Path]) -> None:
    """Say which lines the client will see dearer, where only markup or margin has made them so.

    Only a quote with quantities shows the price of each line beside as many packs as before.
    """
    at_old_profit = at_profit_of(old.job, new.job) if planned.level == QUANTITIES else None
    if at_old_profit is None:
        return
    lines = [*dearer_by_profit(old.ledger, new.ledger, estimate(at_old_profit))]
    if lines:
        were = "1 line costs" if len(lines) == 1 else f"{len(lines)} lines cost"
        warn_listing(
            f"The client will see that {were} more since revision {planned.changed_since} with "
            "nothing else changed: only your markup or margin was.",
            lines,
            pasted(["estimator", "changes", *map(str, paths)]),
        )


def _warn_of_checks(given: Given, job: Path) -> None:
    asking = reports.findings(reports.checks(given.ledger))
    if asking:
        ask = "1 detail check needs" if len(asking) == 1 else f"{len(asking)} detail checks need"
        warn_listing(
            f"{ask} an answer. The quote goes out all the same:",
            [f"{_place(given, row)}{_in_one_line(row)}" for row in asking],
            pasted(["estimator", "check", str(job)]),
        )


def _place(given: Given, row: reports.Record) -> str:
    """The row of the sheet on which the check stands."""
    assert given.returned is not None
    for table in ("checks", "product_checks"):
        keys = given.ledger.column(table, "key")
        if row["check"] in keys:
            sheet = given.returned.layout.typed(table).sheet
            return f"{sheet}, row {given.returned.where.row_of(table, row['check'])}: "
    raise AssertionError(row["check"])


def _in_one_line(row: reports.Record) -> str:
    reason = ", your reason is given" if row["reason"] else ""
    return f"{row['what']}: {state_said(row)}{reason}; {given_and_asked(row)}"
