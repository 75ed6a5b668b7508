"""A job taken off and priced: the plan's lists laid out for it, and every figure worked out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from . import guards
from .allowances import allowance_rows, basis_rows, source_rows
from .buying.lines import LINES
from .buying.materials import MATERIAL_ROWS, SUPPLIER_SLOTS
from .checks import PRODUCT_CHECKS, SITE_CHECKS, check_rows
from .job import Job
from .plan import FILLED, SHIPPED_ROWS, bases, plan
from .rules.evaluate import AT, FROM, LINKS, Ledger
from .takeoff.layouts import LAYOUT_LINKS, ROLLS_LAID_OUT

Rows = list[dict[str, Any]]
SPARE_SCOPE = 4  # spare rows of the list of what is not in the price


@dataclass(frozen=True)
class Room:
    """How many spare rows each list gets beyond those filled, and how many spare lines are printed."""

    spare: Mapping[str, int] = field(default_factory=dict)
    lines: int = 0

    def rows(self, table: str, filled: int) -> int:
        """Rows in all: in a workbook every list has at least one."""
        return max(filled + self.spare.get(table, 0), 1 if self.spare else 0)


NO_ROOM = Room()
USUAL_ROOM, BLANK_ROOM = (
    Room({t.name: t.spare[n] for t in FILLED if t.grows}, lines=lines)
    for n, lines in enumerate((4, 24))
)


def estimate(job: Job, room: Room = NO_ROOM, unchecked: int = 0) -> Ledger:
    """Every figure of the job. With room, the lists that follow others are laid out for spares.

    `unchecked` counts what is still to be filled in, for a job that did not come from a file.
    """
    rows: dict[str, Rows] = {
        "bases": basis_rows(bases()),
        "allowances": allowance_rows(bases(), job.override, job.own),
        **{name: [dict(r) for r in shipped] for name, shipped in SHIPPED_ROWS.items()},
        "materials": _materials(job),
        "lines": _lines(job),
        "totals": [{k: r[k] for k in ("key", "label", "unit")} for r in MATERIAL_ROWS],
        "sources": source_rows(bases()),
        "checks": check_rows(SITE_CHECKS, job.reasons),
        "product_checks": check_rows(PRODUCT_CHECKS, job.reasons),
    }
    rows |= {t.name: [dict(r) for r in job.rows[t.name]] for t in FILLED}
    rows["suppliers"] += [{} for _ in range(SUPPLIER_SLOTS - len(rows["suppliers"]))]
    rows["layouts"] = _layouts(room.rows("zones", len(rows["zones"])))
    rows["needs"] = _needs({t.name: room.rows(t.name, len(rows[t.name])) for t in FILLED})
    rows["overrides"] = [{} for c in SITE_CHECKS if c.can_stop]
    typed = {**job.particulars, guards.ROWS_UNWIRED.name: 0, guards.ROWS_UNCHECKED.name: unchecked}
    # No more lines can be printed than the book has rows, and the suppliers deliveries.
    lines = len(rows["book"]) + SUPPLIER_SLOTS
    ledger = _ledger(rows, typed, lines, len(LINES))
    if not room.lines:
        return ledger
    used = sum(item != "" for item in ledger.column("quote_lines", "item"))
    left = sum(item != "" for item in ledger.column("scope_lines", "counted"))
    return _ledger(rows, typed, used + room.lines, left + SPARE_SCOPE)


def _ledger(rows: Mapping[str, Rows], typed: Mapping[str, Any], lines: int, scope: int) -> Ledger:
    lengths = {"order_lines": lines, "quote_lines": lines, "scope_lines": scope}
    printed = {name: [dict[str, Any]() for _ in range(n)] for name, n in lengths.items()}
    return Ledger(plan(), {**rows, **printed}, typed)


def _materials(job: Job) -> Rows:
    suppliers = [r["name"] for r in job.rows["suppliers"]]
    rows = []
    for material in MATERIAL_ROWS:
        row = dict(material)
        key = str(row["key"])
        row["wastage_applies"] = job.wastage_applies.get(key, row["wastage_applies"])
        for n, supplier in enumerate(suppliers, 1):
            row[f"wastage_{n}"] = job.wastage.get(supplier, {}).get(key)
        rows.append(row)
    return rows


def _lines(job: Job) -> Rows:
    units = {r["key"]: r["unit"] for r in MATERIAL_ROWS}
    return [
        {
            "key": line.key,
            "label": line.label,
            "group": line.group,
            "status": job.line_status.get(line.key, line.status),
            "stage_no": line.stage,
            "material": line.material,
            "unit": units[line.material],
            "supplier": job.line_suppliers.get(line.key),
        }
        for line in LINES
    ]


def _needs(lengths: Mapping[str, int]) -> Rows:
    return [
        {
            "line": line.key,
            "line_no": line_no,
            AT: at,
            "cut_whole": int(line.cut_whole),
            FROM: line.source,
            LINKS: line.links,
        }
        for line_no, line in enumerate(LINES, 1)
        for at in range(1, lengths[line.source] + 1)
    ]


def _layouts(zones: int) -> Rows:
    return [
        {AT: at, "roll_no": roll, FROM: "zones", LINKS: LAYOUT_LINKS}
        for at in range(1, zones + 1)
        for roll in range(1, ROLLS_LAID_OUT + 1)
    ]
