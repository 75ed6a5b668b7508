"""The hold points of one job: who is told, what to look for, what is counted at each."""

from dataclasses import dataclass
from typing import Any

from ..plan import HOLD_BLOCKS
from ..rules import whole
from ..rules.evaluate import Ledger
from .rows import rows_in_use

# Shown on every job: each is a notice, whether anything is counted there or not.
ALWAYS = ("before start", "foundations", "completion")


@dataclass(frozen=True)
class HoldPoint:
    """One hold point as the job has it; `items` are what, quantity and unit, net as measured."""

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
        items = rows_in_use(job, table, ("what", "quantity", "unit"), "what")
        for item in items:
            item["quantity"] = whole.pence(item["quantity"])
        if items or name in ALWAYS:
            words = [str(job.cell(c)) for c in (look, tell, source)]
            title = f"{name[:1].upper()}{name[1:]}"
            found.append(HoldPoint(title, table, words[0], words[1], words[2], tuple(items)))
    return found
