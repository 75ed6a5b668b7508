"""A job in the one form that a workbook can hold: what is as usual, or blank, is not said."""

from dataclasses import replace
from typing import Any

from estimator.buying.lines import LINES
from estimator.model.job import Job
from estimator.model.plan import SHIPPED_ROWS


def canonical(job: Job) -> Job:
    """The same job without blanks, and without choices that are those of the program."""
    status = {line.key: line.status for line in LINES}
    applies = {r["key"]: r["wastage_applies"] for r in SHIPPED_ROWS["materials"]}
    suppliers = [str(r["name"]) for r in job.rows["suppliers"]]
    return replace(
        job,
        particulars=_given(job.particulars),
        rows={name: [_given(r) for r in rows] for name, rows in job.rows.items()},
        line_status={k: v for k, v in job.line_status.items() if v != status[k]},
        wastage={s: dict(job.wastage.get(s, {})) for s in suppliers},
        discounts={s: dict(found) for s, found in job.discounts.items() if found},
        wastage_applies={k: v for k, v in job.wastage_applies.items() if v != applies[k]},
    )


def _given(row: Any) -> dict[str, Any]:
    return {k: v for k, v in row.items() if v is not None}
