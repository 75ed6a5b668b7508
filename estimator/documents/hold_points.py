"""The hold points of one job: which of them concern it, and what is counted at each."""

from collections import defaultdict
from dataclasses import replace

from ..language import rounding
from ..language.ledger import Ledger
from ..model.plan import HOLD_BLOCKS
from .declaration import JobRow, Row, rows_in_use
from .issue import Issuing

_FIRM, _PROVISIONAL = "firm", "provisional"
# Shown on every job: each is a notice, whether anything is counted there or not.
ALWAYS = ("before start", "foundations", "completion")


def told(of: Issuing) -> list[Row]:
    """Those that concern the job, in site order, and who is to be told at each."""
    return [
        {"name": f"{name[:1].upper()}{name[1:]}", "notice": of.job.cell(tell)}
        for name, table, (_, tell, _) in HOLD_BLOCKS
        if counted(of.job, name, table)
    ]


def counted(job: Ledger, name: str, table: str) -> list[Row]:
    """What is counted at a hold point, net as measured, with its standing where it is not simply ours.

    Nothing where it does not concern the job; one blank row where it does all the same.
    """
    rows: list[Row] = [_counted(row) for row in rows_in_use(job, table, "what")]
    return rows or ([defaultdict(lambda: None)] if name in ALWAYS else [])


def _counted(row: JobRow) -> JobRow:
    standing = _standing(row.job, int(row["measure_row"]))
    return replace(row, other={"quantity": rounding.pence(row["quantity"]), "standing": standing})


def _standing(job: Ledger, measure_row: int) -> str:
    """By others, excluded or provisional; nothing for what is firm.

    A count of its own (layers, weeps) is at most as sure as the line it goes with; who does it is
    not said by that line, which is of a material.
    """
    line = int(job.figure("measures", measure_row, "line_no"))
    if line:
        standing = str(job.figure("lines", line, "standing"))
        return "" if standing == _FIRM else standing
    return _PROVISIONAL if job.figure("measures", measure_row, "provisional") else ""
