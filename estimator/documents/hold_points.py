"""The hold points of one job: who is told, what to look for, what is counted at each."""

from dataclasses import dataclass
from typing import Any

from ..language import rounding
from ..language.ledger import Ledger
from ..model.plan import HOLD_BLOCKS
from .rows import rows_in_use

_FIRM, _PROVISIONAL = "firm", "provisional"
# Shown on every job: each is a notice, whether anything is counted there or not.
ALWAYS = ("before start", "foundations", "completion")


@dataclass(frozen=True)
class HoldPoint:
    """One hold point as the job has it.

    `items` are what, quantity and unit, net as measured, and its standing where it is not simply ours.
    """

    name: str
    table: str
    look_for: str
    notice: str
    source: str
    items: tuple[dict[str, Any], ...]


def hold_points(job: Ledger) -> list[HoldPoint]:
    """In site order: those where something is counted, and the notices of every job."""
    found = []
    for name, table, (look, tell, source) in HOLD_BLOCKS:
        items = rows_in_use(job, table, ("measure_row", "what", "quantity", "unit"), "what")
        for item in items:
            item["quantity"] = rounding.pence(item["quantity"])
            item["standing"] = _standing(job, int(item.pop("measure_row")))
        if items or name in ALWAYS:
            words = [str(job.cell(c)) for c in (look, tell, source)]
            title = f"{name[:1].upper()}{name[1:]}"
            found.append(HoldPoint(title, table, words[0], words[1], words[2], tuple(items)))
    return found


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
