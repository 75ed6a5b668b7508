"""A bill of quantities: what a job measures net, by stage and by element, item by item.

Never packs, wastage or what anything costs. With `priced` a contractor finds two more columns,
rate and amount, and his amounts add up by formula.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count

from ..buying.lines import FIRM, LINES, STAGE_ROWS, STATUSES
from ..documents.declaration import Document, Listed, cell, column, copied, listed
from ..errors import IssueError
from ..language import first_given, number, rounding, rule, to_pence, total, worked
from ..language.ledger import Ledger
from ..language.units import AMOUNT, EACH, POUNDS, Amount, Column, Pounds
from ..model.reports import not_measured
from ..pricing.measures import COUNTS
from ..pricing.work import PRELIMS_AND_FEES, PROVISIONAL_SUM
from .measuring import (
    DOCUMENT,
    GENERAL,
    LINE_OF,
    MEASURED_AS,
    THICKNESS,
    WITH_THE_SHEET,
    Measured,
    of_filling,
    of_line,
    of_sheet,
    of_turn_up,
)

NOTE = (
    f"Quantities are net, as measured from the drawings: no laps, waste or packs. Clauses are those of {DOCUMENT}, from memory: confirm them "
    "in the document before the bill becomes part of a contract. Rates include labour, plant and "
    "fixing. The bill is not a design and does not show that the work meets the Building Regulations."
)
# Counts that buy nothing and are work of their own; others are part of an item above them.
WORK_OF_ITS_OWN = (
    "bricks_out",
    "made_good",
    "cleared",
    "uncounted",
    "open_perpends",
    "frame_perpends",
)
ELEMENTS = {
    "zones": "Floors", "edges": "Edges of floors", "floor_features": "Features of floors",
    "penetrations": "Pipes through floors", "old_vents": "Existing air bricks carried through",
    "walls": "Walls", "tie_ins": "Tie-ins to existing walls", "openings": "Openings",
    "abutments": "Roof abutments", "cut_ins": "Trays cut into existing walls",
    "tray_units": "Preformed units in trays", "parapets": "Parapets",
}  # fmt: skip
INCLUDED = "included with the membrane"
_NAMES = [str(row["name"]) for row in STAGE_ROWS]
_LETTERS = "ABCDEFG"  # of stages in the items' numbers: 1.1 and 1.10 would read alike as figures
PROVISIONAL = STATUSES[1]


@dataclass(frozen=True)
class Billing:
    """The job whose bill it is."""

    job: Ledger


@dataclass(frozen=True)
class Entry:
    """One item, before it has its number: where it belongs, what it is, how much of it."""

    stage: str
    element: str
    marks: tuple[str, ...]
    measured: Measured
    quantity: float
    standing: str


def entries(job: Ledger) -> list[Entry]:
    """Every item of a job in the order of the bill.

    Raises IssueError where something that is measured cannot be worked out.
    """
    against = not_measured(job)
    if against:
        raise IssueError("bill of quantities", against, "a job whose quantities are all known")
    found = [*_of_lines(job), *_of_turn_ups(job), *_of_counts(job), *_of_work(job)]
    order = {name: n for n, name in enumerate(ELEMENTS.values())}
    return sorted(found, key=lambda e: (_NAMES.index(e.stage), order.get(e.element, len(order))))


def _of_lines(job: Ledger) -> Iterator[Entry]:
    """One item for each line and each width or thickness in it."""
    materials, units, standings = (
        dict(zip(job.column("lines", "key"), job.column("lines", c), strict=True))
        for c in ("usual_material", "unit", "standing")
    )
    labels = _labels(job)
    grouped: dict[tuple[str, float], list[tuple[str, float]]] = {}
    for line in LINES:
        as_column, _ = MEASURED_AS.get(line.key, (None, ""))
        for n in _rows_of(job, line.key):
            at = int(job.rows["needs"][n - 1]["at"])
            net = job.figure("needs", n, "net")
            if not net:
                continue
            width = _in_tenths(job.figure("needs", n, "width"))
            if line.key in THICKNESS:
                width = _in_tenths(job.figure(line.source, at, THICKNESS[line.key]))
            much = job.figure(line.source, at, as_column) if as_column else net
            mark = str(job.figure("needs", n, "mark"))
            grouped.setdefault((line.key, width), []).append((mark, much))
    for (key, width), of in grouped.items():
        line, label = LINE_OF[key], labels[key]
        if key in THICKNESS:
            measured = of_filling(label, width)
        elif key == "dpm":
            measured = of_sheet(label)
        else:
            unit = MEASURED_AS[key][1] if key in MEASURED_AS else units[key]
            measured = of_line(line, label, width, materials[key], unit)
        yield Entry(
            _NAMES[line.stage - 1],
            ELEMENTS[line.source],
            tuple(dict.fromkeys(mark for mark, _ in of)),
            measured,
            sum(much for _, much in of) * measured.times,
            INCLUDED if key in WITH_THE_SHEET else standings[key],
        )


def _of_turn_ups(job: Ledger) -> Iterator[Entry]:
    """The membrane turned up at the edges of floors, by its height."""
    standing = dict(zip(job.column("lines", "key"), job.column("lines", "standing"), strict=True))
    grouped: dict[float, list[tuple[str, float]]] = {}
    mark_in_use = job.plan.tables["edges"].in_use("mark")
    names = (mark_in_use, "turn_up", "wall_crossed", "turned_length")
    for mark, turn_up, wall, length in zip(*(job.column("edges", c) for c in names), strict=True):
        # A wall that gas sheet crosses is measured with the sheet, by area.
        if length and turn_up > wall:
            grouped.setdefault(_in_tenths(turn_up - wall), []).append((str(mark), length))
    for height, of in grouped.items():
        measured = of_turn_up(_labels(job)["dpm"], height)
        yield Entry(
            _NAMES[0],
            ELEMENTS["edges"],
            tuple(mark for mark, _ in of),
            measured,
            sum(length for _, length in of) * measured.times,
            standing["dpm"],
        )


def _of_counts(job: Ledger) -> Iterator[Entry]:
    """Work that no product is bought for."""
    keys = job.column("measures", "key")
    standing = dict(zip(job.column("lines", "key"), job.column("lines", "standing"), strict=True))
    for of in COUNTS:
        much = job.figure("measures", keys.index(of.key) + 1, "measured")
        if of.key in WORK_OF_ITS_OWN and much:
            line = LINE_OF[of.sure_as]
            measured = Measured(of.label, of.unit, GENERAL)
            stage, element = _NAMES[line.stage - 1], ELEMENTS[line.source]
            yield Entry(stage, element, (), measured, much, standing[line.key])


def _of_work(job: Ledger) -> Iterator[Entry]:
    """Preliminaries and provisional sums, as items; labour and plant are in the rates."""
    columns = ("description", "kind", "mark")
    for description, kind, mark in zip(
        *(job.column("work_lines", c) for c in columns), strict=True
    ):
        if kind == "preliminaries":
            measured = Measured(str(description), "item", GENERAL)
            yield Entry(PRELIMS_AND_FEES, "Preliminaries", (str(mark),), measured, 1, FIRM)
        elif kind == PROVISIONAL_SUM:
            measured = Measured(f"Provisional sum: {description}", "sum", GENERAL)
            yield Entry(
                PRELIMS_AND_FEES, "Provisional sums", (str(mark),), measured, 1, PROVISIONAL
            )


def _labels(job: Ledger) -> dict[str, str]:
    """What each line is for, and of which grade in a radon or gas area."""
    columns = ("key", "label", "material", "usual_material")
    return {
        key: label if material == usual else f"{label}, gas grade"
        for key, label, material, usual in zip(
            *(job.column("lines", c) for c in columns), strict=True
        )
    }


def _rows_of(job: Ledger, line: str) -> list[int]:
    """The rows of the needs of one line, counted from 1."""
    return [n for n, row in enumerate(job.rows["needs"], 1) if row["line"] == line]


def _in_tenths(millimetres: float) -> float:
    """Widths that read the same are one item."""
    return float(rounding.to_places(millimetres, 1))


# ---- as a document ----

RATE = number("rate", "Rate", POUNDS, 0, 1_000_000, "For one unit, without VAT.", required=False)


@rule
def amount(quantity: Amount, rate: Pounds) -> Pounds:
    """What the item comes to. 0 while it has no rate."""
    return to_pence(quantity * first_given(rate, 0))


@rule
def bill_total(bill_item_amount: Column) -> Pounds:
    """What all items come to, without VAT."""
    return total(bill_item_amount)


def _is_billed(entry: Entry) -> bool:
    """Whether the contractor prices it."""
    return entry.standing in (FIRM, PROVISIONAL)


def _row(entry: Entry, reference: str) -> dict[str, str | float]:
    unit = entry.measured.unit
    exact = round(entry.quantity) if unit == EACH.sign else rounding.pence(entry.quantity)
    return {
        "reference": reference,
        "stage": entry.stage,
        "element": entry.element,
        "description": entry.measured.description,
        "marks": ", ".join(entry.marks),
        "quantity": exact,
        "unit": unit,
        "measured_by": entry.measured.rule,
        "standing": "" if entry.standing == FIRM else entry.standing,
    }


def _billed(of: Billing) -> list[dict[str, str | float]]:
    """The items that are priced, numbered within their stage."""
    numbers = {name: count(1) for name in _NAMES}
    return [
        _row(e, f"{_LETTERS[_NAMES.index(e.stage)]}{next(numbers[e.stage])}")
        for e in entries(of.job)
        if _is_billed(e)
    ]


def _not_billed(of: Billing) -> list[dict[str, str | float]]:
    return [_row(e, "") for e in entries(of.job) if not _is_billed(e)]


_COLUMNS = (
    column("reference", "Item"),
    column("stage", "Stage"),
    column("element", "Element"),
    column("description", "Description"),
    column("marks", "Where"),
    column("quantity", "Quantity", AMOUNT),
    column("unit", "Unit"),
    column("measured_by", "Measured by"),
    column("standing", "Standing"),
)
_NOT_BILLED: Listed[Billing] = listed(
    *("not_billed", "not_billed_item", "Measured, and not to be priced here"),
    *_COLUMNS[1:],
    rows=_not_billed,
)


def bill_of_quantities(priced: bool = False) -> Document[Billing]:
    """The bill as a document; `priced` with a rate to fill in, an amount by formula, and a total."""
    to_price = (RATE, worked(amount, "Amount")) if priced else ()
    return Document(
        lists=(
            listed(
                *("bill_items", "bill_item", "Items", *_COLUMNS, *to_price),
                rows=_billed,
            ),
            _NOT_BILLED,
        ),
        cells=(
            copied("job_title", "Job"),
            copied("site_address", "Site"),
            copied("prepared_by", "Prepared by"),
            copied("quote_date", "Date"),
            copied("drawings_used", "Drawings"),
            cell("bill_note", "How it is measured", lambda _: NOTE),
            *((worked(bill_total, "Total without VAT"),) if priced else ()),
        ),
    )


def csv_rows(bill: Ledger) -> list[Sequence[str | float]]:
    """A bill as the rows of a CSV file, its head first; a rate and what follows from it are blank."""
    head = [c.name for c in bill.plan.tables["bill_items"]]
    rows: list[Sequence[str | float]] = [head]
    for table in bill.plan.tables.values():
        names = {c.name for c in table} - {"rate", "amount"}
        columns = [bill.column(table.name, n) if n in names else None for n in head]
        for n in range(len(bill.rows[table.name])):
            rows.append(["" if c is None else c[n] for c in columns])
    return rows
