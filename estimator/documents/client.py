"""The client's document as figures: what of the job's ledger the client sees, and nothing else.

Every field that leaves is named here or in client_plan.py; nothing is copied and then removed.
"""

from collections.abc import Iterable
from math import fsum
from typing import Any

from ..errors import IssueError
from ..language import rounding
from ..language.ledger import Ledger, is_available
from ..model.reports import reasons
from ..revisions.changes import QUANTITIES, STAGES
from ..revisions.changes.pack_sizes import weight_of
from ..revisions.changes.words import noun
from .client_plan import (
    APART,
    ASSUMED,
    AT_MINIMUM,
    BUSINESS,
    CHANGES,
    COPIED,
    COUNTED,
    GAS,
    GOES_ON,
    HOLDS,
    HOUSEHOLDER,
    LINES_AT,
    OUT_OF_SCOPE,
    REASONED,
    REVERSED,
    RIGHTS,
    SCOPE,
    TABLES,
    VAT_STATUS,
    client_plan,
)
from .hold_points import hold_points
from .issue import Issue
from .rows import rows_in_use

Row = dict[str, Any]


def client_ledger(job: Ledger, issue: Issue) -> Ledger:
    """What the client sees of a job. Raises IssueError while the job has no total, saying why."""
    if not is_available(job.cell("quote_total")):
        raise IssueError(
            str(job.cell("job_title") or "the job"), "no total to quote", _mended(reasons(job))
        )
    lines = _lines(job, issue.level)
    if not lines:
        title = str(job.cell("job_title") or "the job")
        raise IssueError(title, "no line with a price", "a job that has something to price")
    at_minimum = job.cell("minimum_added") > 0
    charged, business = (_vat(job, c) for c in ("charged", "business"))
    rated = bool(charged or business)
    householder = job.cell("client_is_householder") == "yes"
    rows: dict[str, list[Row]] = {t.name: [] for t in TABLES}
    rows |= {
        LINES_AT[issue.level].name: lines,
        CHANGES.name: [{"words": c} for c in issue.changes],
        VAT_STATUS.name: [{c.name: _vat(job, c.name) for c in VAT_STATUS}],
        OUT_OF_SCOPE.name: rows_in_use(job, "out_of_scope", ("name", "words"), "name"),
        GOES_ON.name: rows_in_use(job, "overrides", ("gone_on", "reason"), "gone_on"),
        HOLDS.name: [{"name": h.name, "notice": h.notice} for h in hold_points(job)],
        COUNTED.name: _quantities(job) if issue.level == QUANTITIES else [],
        # With quantities, what is in the price stands among them, line by line.
        **{
            table.name: _scope(job, standing)
            for standing, table in SCOPE.items()
            if not (issue.level == QUANTITIES and standing == "in")
        },
    }
    there = {
        HOUSEHOLDER: householder,
        BUSINESS: not householder,
        APART: any(line["status"] == "provisional" for line in lines),
        AT_MINIMUM: at_minimum,
        REVERSED: bool(business),
        REASONED: bool(_vat(job, "reasoned")),
        ASSUMED: bool(job.cell("assumed_note")),
        GAS: bool(job.cell("gas_note")),
        RIGHTS: householder,
    }
    rows |= {table.name: [{}] for table, wanted in there.items() if wanted}
    typed = {item.name: job.cell(item.name) for item in COPIED} | {
        "quote_date": issue.date,
        "revision_mark": issue.revision,
        "changed_since": issue.changed_since,
        "vat_percent": job.cell("used_vat_percent") if rated else 0,
        "minimum_charge": job.cell("minimum_charge") if at_minimum else None,
    }
    if not there[REASONED]:
        typed["vat_reason"] = ""
    return Ledger(client_plan(issue.level, at_minimum), rows, typed)


def _mended(why: str) -> str:
    return f"a job whose total is refused by nothing ({why})" if why else "a job with a total"


def _vat(job: Ledger, column: str) -> Any:
    return job.figure("vat_statuses", int(job.cell("vat_row")), column)


def _lines(job: Ledger, level: str) -> list[Row]:
    """The lines of the quote, each with its stage; for the sums of stages, summed by stage and status."""
    counts = ("book_row", "drop", "quantity", "counted_in")
    columns = ("item", "stage_no", *counts, "status", "amount")
    lines = rows_in_use(job, "quote_lines", columns, "item")
    stages = job.column("stages", "name")
    _number([line for line in lines if line.pop("drop")])
    for line in lines:
        line["stage"] = stages[int(line["stage_no"]) - 1]
        counted_in, weight = line["counted_in"], weight_of(job, line.pop("book_row"))
        line["counted_in"] = noun(line["quantity"], counted_in, weight) or counted_in
    if level != STAGES:
        return [{k: v for k, v in line.items() if k != "stage_no"} for line in lines]
    sums: dict[tuple[str, str], list[float]] = {}
    for line in lines:
        sums.setdefault((line["stage"], line["status"]), []).append(line["amount"])
    return [
        {"stage": stage, "status": status, "amount": rounding.pence(fsum(amounts))}
        for (stage, status), amounts in sums.items()
    ]


def _number(deliveries: list[Row]) -> None:
    """Tell several deliveries apart, as no supplier may be named to a client."""
    if len(deliveries) > 1:
        for n, line in enumerate(deliveries, 1):
            line["item"] = f"{line['item']} ({n} of {len(deliveries)})"


def _scope(job: Ledger, standing: str) -> list[Row]:
    """One paragraph of what has that standing, or none."""
    counted = [r["counted"] for r in _scope_rows(job) if r["scope"] == standing]
    return [{"words": _paragraph(counted)}] if counted else []


def _paragraph(parts: Iterable[str]) -> str:
    return "; ".join(parts) + "."


def _quantities(job: Ledger) -> list[Row]:
    return [
        {
            "counted": r["counted"],
            "net": rounding.pence(r["net"]),
            "unit": r["unit"],
            "standing": r["scope"],
        }
        for r in _scope_rows(job)
    ]


def _scope_rows(job: Ledger) -> list[Row]:
    return rows_in_use(job, "scope_lines", ("scope", "counted", "net", "unit"), "counted")
