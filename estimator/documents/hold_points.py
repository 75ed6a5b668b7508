"""The hold points of one job: which of them concern it, and what is counted at each."""

from collections import defaultdict
from dataclasses import replace

from ..buying.lines import HOLD_POINTS, LINTELS
from ..language import rounding
from ..language.ledger import Ledger
from ..language.wording import in_metres
from ..model.plan import HOLD_BLOCKS
from ..pricing.measures import MEASURE_ROWS
from .declaration import JobRow, Row, rows_in_use
from .issue import Issuing

_FIRM, _PROVISIONAL = "firm", "provisional"
AT_LINTELS = HOLD_POINTS[LINTELS - 1]
_TRAYS = next(n for n, m in enumerate(MEASURE_ROWS, 1) if m["key"] == "trays")
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
    if rows and name == AT_LINTELS:
        rows += map(_opening, rows_in_use(job, "openings", "mark"))
    return rows or ([defaultdict(lambda: None)] if name in ALWAYS else [])


def _opening(row: JobRow) -> JobRow:
    """One opening, or those alike: how long its tray is, with how many stop ends and weeps.

    Of every opening, whether it has a place, and so is on an elevation, or not.
    """
    number = row["number"]
    head = f"{row['mark']}, {row['kind']} in {row['wall']}{', each' if number > 1 else ''}"
    said = {
        "what": f"{head}: {_over_head(row) if row['with_tray'] else row['note']}",
        "quantity": number,
        "unit": "nr",
        "standing": _standing(row.job, _TRAYS),
    }
    return replace(row, other=said)


def _over_head(row: JobRow) -> str:
    """The tray over one of these openings, its stop ends and its weeps."""
    tray = f"tray {in_metres(row['tray_length'])} m" if row["trays"] else "its lintel is the tray"
    weeps = int(row["weeps_each"])
    ends = int(row["stop_ends"] / row["with_tray"])
    return f"{tray}, {ends} stop ends, {weeps} weep{'' if weeps == 1 else 's'}"


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
