"""A job taken off and priced: the plan's lists laid out for it, and every figure worked out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..buying.cutting import CUTS
from ..buying.demands import DEMANDS
from ..buying.lines import LINES
from ..buying.materials import BY_SUPPLIER, GAS_GRADE, MATERIAL_ROWS, SUPPLIER_SLOTS
from ..checks import PRODUCT_CHECKS, SITE_CHECKS, check_rows
from ..errors import JobError
from ..guidance import hold_points
from ..guidance.allowances import allowance_rows, basis_rows, source_rows
from ..language import NOT_AVAILABLE, Input, Table
from ..language.ledger import AT, FROM, LINKS, Ledger
from ..language.percent import as_typed
from ..language.tables import POSITION
from ..pricing import refusals
from ..questionnaire.assumed import ASSUMED_ROWS
from ..questionnaire.offers import marks
from ..questionnaire.sources import questions_behind
from ..takeoff.bands import BANDS, STRIPS_HELD
from ..takeoff.layouts import LAYOUT_LINKS, ROLLS_LAID_OUT
from .faults import MOST_TOLD, ROWS_FOLLOWING, TO_FIX, WATCHED
from .job import Job
from .locations import Where
from .places import PLACES
from .plan import FILLED, SHIPPED_ROWS, TYPED_CELLS, figure_rows, plan
from .sound_rows import as_if_sound, is_cell_usable, is_sound, mark_of, offered_at, unusable_rows

Rows = list[dict[str, Any]]


@dataclass(frozen=True)
class Room:
    """How many spare rows each list gets beyond those filled, and how many spare lines are printed.

    `lines` are those of quote and orders, `counted` those of the scope and of each hold point.
    """

    spare: Mapping[str, int] = field(default_factory=dict)
    lines: int = 0
    counted: int = 4
    lengths: Mapping[str, int] = field(default_factory=dict)  # of lists in a workbook that is there
    laid_out: Mapping[str, int] = field(default_factory=dict)  # rows that other lists follow there

    def rows(self, table: str, filled: int) -> int:
        """Rows in all: in a workbook every list has at least two.

        In Gnumeric 1.12 what looks up a row in an area of one cell is #REF!.
        """
        if table in self.lengths:
            return self.lengths[table]
        return max(filled + self.spare.get(table, 0), 2 if self.spare else 0)

    def followed(self, table: str, filled: int) -> int:
        """Rows of a list for which the lists that follow it are laid out."""
        return self.laid_out.get(table, self.rows(table, filled))

    @property
    def kept(self) -> bool:
        """Whether rows that may be filled later are laid out too."""
        return bool(self.spare or self.lengths)


NO_ROOM = Room()
PRINTED = ("order_lines", "quote_lines", "scope_lines", *(t.name for t in hold_points.ITEMS))
USUAL_ROOM, BLANK_ROOM = (
    Room(
        {t.name: t.spare[n] for t in (*FILLED, BANDS, DEMANDS, CUTS) if any(t.spare)},
        lines,
        counted,
    )
    for n, (lines, counted) in enumerate(((5, 4), (24, 1000)))
)


def estimate(job: Job, room: Room = NO_ROOM) -> Ledger:
    """Every figure of the job. With room, the lists that follow others are laid out for spares."""
    rows: dict[str, Rows] = {
        "bases": basis_rows(job.bases),
        "allowances": allowance_rows(job.bases, job.override, job.own),
        **{name: [dict(r) for r in shipped] for name, shipped in SHIPPED_ROWS.items()},
        "materials": _materials(job),
        "lines": _lines(job),
        "totals": [{k: r[k] for k in ("key", "label", "unit")} for r in MATERIAL_ROWS],
        "sources": source_rows(job.bases),
        "figures_read": [dict(r) for r in figure_rows()],
        PLACES.name: [],  # written where the workbook is laid out
        WATCHED.name: _blank(
            1 + sum(bool(t.inputs) for t in plan().tables.values()) + ROWS_FOLLOWING
        ),
        TO_FIX.name: _blank(MOST_TOLD),
        "checks": check_rows(SITE_CHECKS, job.reasons),
        "product_checks": check_rows(PRODUCT_CHECKS, job.reasons),
        "hold_points": hold_points.hold_rows(job.own_notices),
    }
    rows |= {t.name: _filled(job, t, room) for t in FILLED}
    rows["assumed"] = [{**r, "figure_typed": job.assumed.get(str(r["key"]))} for r in ASSUMED_ROWS]
    for name in ("allowances", "materials", *(t.name for t in FILLED)):
        rows[name] = [_as_typed(plan().tables[name], r) for r in rows[name]]
    rows["suppliers"] += _blank(SUPPLIER_SLOTS - len(rows["suppliers"]))
    rows["layouts"] = _layouts(room.followed("zones", len(rows["zones"])))
    rows["needs"] = _needs({t.name: room.followed(t.name, len(rows[t.name])) for t in FILLED})
    rows[BANDS.name], rows[DEMANDS.name], rows[CUTS.name] = (
        [],
        [],
        [],
    )  # as many as there are: counted below
    rows["overrides"] = _blank(sum(c.can_stop for c in SITE_CHECKS))
    typed = {
        **{i.name: as_typed(i, job.particulars.get(i.name), {}) for i in TYPED_CELLS},
        refusals.ROWS_UNCHECKED.name: sum(
            not is_cell_usable(i, job.particulars.get(i.name)) for i in TYPED_CELLS
        ),
    }
    lengths = most_printed(rows)
    for table in ("order_lines", "quote_lines"):
        lengths[table] += room.lines
    if room.lines:
        lengths = {name: max(1, n) for name, n in lengths.items()}
    lengths |= {name: n for name, n in room.lengths.items() if name in lengths}
    ledger = _ledger(rows, typed, lengths)
    _lay_out(ledger, BANDS, _strips(ledger), room)
    _lay_out(ledger, DEMANDS, max(ledger.column("needs", "demand_no"), default=0), room)
    _lay_out(ledger, CUTS, _cuts(ledger), room)
    if job.uses_form:
        _count_unusable(ledger, typed)
    if not room.lines:
        return ledger
    for table in PRINTED:
        used = _used(ledger, table)
        if table in ("order_lines", "quote_lines"):
            shorten(ledger, table, used + room.lines)
        else:
            shorten(ledger, table, max(1, used + room.counted))
    return ledger


def most_printed(rows: Mapping[str, Sequence[Mapping[str, Any]]]) -> dict[str, int]:
    """How many rows of each printed list can be used at the most.

    No more are printed than the book has rows, the suppliers deliveries, and work lines.
    """
    return {
        "order_lines": len(rows["book"]),
        "quote_lines": len(rows["book"]) + SUPPLIER_SLOTS + len(rows["work_lines"]),
        "scope_lines": len(LINES),
        **{
            t.name: hold_points.inspected(n, rows["measures"])
            for n, t in enumerate(hold_points.ITEMS, 1)
        },
    }


def _count_unusable(ledger: Ledger, typed: dict[str, Any]) -> None:
    """Count the form's rows that cannot be used among what stands against a total.

    Which they are is told by what is typed and offered alone, so the count is put in before
    anything reads it.
    """
    count = typed[refusals.ROWS_UNCHECKED.name] + len(unusable_rows(ledger))
    typed[refusals.ROWS_UNCHECKED.name] = count
    assert ledger.cell(refusals.ROWS_UNCHECKED.name) == count, "read before it was known"


def _lay_out(ledger: Ledger, table: Table, count: float, room: Room) -> None:
    """Give a list as many rows as are needed, before anything reads it, and its spares."""
    ledger.rows[table.name].extend(_blank(room.rows(table.name, int(count))))  # type: ignore[attr-defined]


def _strips(ledger: Ledger) -> float:
    """Rows for the strips of floors that are no rectangle, in each width of sheet."""
    shaped = ledger.column("zones", "shaped_no")
    widths = ledger.cell("sheet_widths")
    if widths is NOT_AVAILABLE or NOT_AVAILABLE in shaped:
        return 0
    return STRIPS_HELD * float(max(shaped, default=0) * widths)


def _cuts(ledger: Ledger) -> float:
    """How many cuts there are; as many as there can be where that is not known."""
    demands, strips = ledger.cell("demands_cut"), ledger.cell("strips_cut")
    if demands is NOT_AVAILABLE or strips is NOT_AVAILABLE:
        return sum(len(ledger.rows[n]) for n in (DEMANDS.name, "zones", BANDS.name))
    return float(demands + strips)


def shorten(ledger: Ledger, table: str, rows: int) -> None:
    """Cut a printed list to so many rows, or leave it as long as it is.

    What is cut off is blank and counts as nothing wherever the list is read, so every other figure
    stays as it was worked out.
    """
    columns = [POSITION, *(c.name for c in ledger.plan.tables[table])]
    found = [ledger.column(table, name) for name in columns]
    if rows < len(ledger.rows[table]):
        assert len(ledger.rows[table]) == len(found[0])
        for column in (ledger.rows[table], *found):
            del column[rows:]  # type: ignore[attr-defined]
        assert all(len(ledger.column(table, name)) == rows for name in columns)


def rows_in_use(job: Job, where: Where, ledger: Ledger | None = None) -> dict[str, Rows]:
    """The rows of every list as the job uses them: what was typed, and what the form fills in.

    `ledger` is the job's, where it is there already. Raises JobError for a row of the form that
    was typed over but is not on this job.
    """
    ledger = ledger or estimate(job)
    found: dict[str, Rows] = {}
    for table in FILLED:
        found[table.name] = []
        columns = {i: ledger.column(table.name, table.in_use(i.name)) for i in table.inputs}
        for n, row in enumerate(ledger.rows[table.name]):
            mark = ledger.column(table.name, table.key_in_use)[n]
            if n < table.rows_offered:  # one that cannot be used has no mark there: it is told
                mark = mark_of(ledger, table, n)
            if mark != "":
                sound = ledger.column(table.name, table.key_in_use)[n] != ""
                values = {
                    i.name: _blank_or(
                        i, columns[i][n] if sound else as_if_sound(ledger, table, i, n)
                    )
                    for i in columns
                }
                values |= {i.name: mark for i in columns if i.name == table.key}
                # A figure that is asked for and cannot be given yet is not one that was left out.
                values |= {
                    i.name: NOT_AVAILABLE
                    for i in columns
                    if row.get(i.name) is None and offered_at(ledger, table, i, n) is NOT_AVAILABLE
                }
                found[table.name].append(values)
            elif any(v is not None for v in row.values()):
                offered = marks(table.name)[n]
                behind = questions_behind(ledger.plan, table.name, n + 1, table.key)
                blank = [i.label for i in behind if job.particulars.get(i.name) is None]
                more = f" (blank: {', '.join(blank)})" if blank else ""
                typed = next(i for i in table.inputs if row.get(i.name) is not None)
                raise JobError(
                    where.field(table.name, n + 1, {**row, table.key: offered}, typed.key),
                    row[typed.name],
                    f"nothing, until the answers of the form need the row {offered}{more}",
                )
    return found


def _blank_or(item: Input, value: Any) -> Any:
    """None for what is blank: no text, or no number (0 where a needed column has none)."""
    if value == "" or value is None:
        return None
    return None if value == 0 and not item.required and (item.least or 0) > 0 else value


def _used(ledger: Ledger, table: str) -> int:
    key = ledger.plan.tables[table].key
    return sum(value != "" for value in ledger.column(table, key))


def _ledger(
    rows: Mapping[str, Rows], typed: Mapping[str, Any], lengths: Mapping[str, int]
) -> Ledger:
    printed = {name: [dict[str, Any]() for _ in range(n)] for name, n in lengths.items()}
    return Ledger(plan(), {**rows, **printed}, typed, is_sound)


def _blank(count: int) -> Rows:
    """Rows in which nothing is typed."""
    return [{} for _ in range(count)]


def _filled(job: Job, table: Table, room: Room) -> Rows:
    """The rows a person filled in, and those the form fills: they stand first in their list."""
    rows = [dict(r) for r in job.rows[table.name]]
    if room.kept or job.uses_form:
        rows += [{} for _ in range(table.rows_offered - len(rows))]
    return rows


def _as_typed(table: Table, row: dict[str, Any]) -> dict[str, Any]:
    return {**row, **{i.name: as_typed(i, row[i.name], row) for i in table.inputs if i.name in row}}


def _materials(job: Job) -> Rows:
    suppliers = [r["name"] for r in job.rows["suppliers"]]
    rows = []
    for material in MATERIAL_ROWS:
        row = dict(material)
        key = str(row["key"])
        row["wastage_applies"] = job.wastage_applies.get(key, row["wastage_applies"])
        for n, supplier in enumerate(suppliers, 1):
            for name, columns in BY_SUPPLIER.items():
                percents: Mapping[str, Mapping[str, float]] = getattr(job, name)
                row[columns[n - 1].name] = percents.get(supplier, {}).get(key)
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
            "usual_material": line.material,
            "gas_material": GAS_GRADE.get(line.material, line.material),
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
