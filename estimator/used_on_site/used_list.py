"""A list of what was ordered, to fill in with what was used of it, and the list that comes back.

Only what wastage is added to is on it: what is counted by the piece or cut in whole pieces is not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..documents import safe_csv
from ..documents.declaration import rows_in_use
from ..errors import FileError, JobError
from ..files.opening import figure
from ..language.ledger import Ledger
from ..language.rounding import six_places
from ..model.reports import not_measured, not_ordered
from ..price_lists.sheets import Cell, Sheet

USED, RETURNED = "packs_used", "packs_returned"
_IN_FILE = ("job", "supplier", "code", "description", "packs", "each_holds", "unit", "laid")
COLUMNS = (*_IN_FILE, USED, RETURNED)
A_LIST = "the list that `estimator used JOB --out` writes, with its headings"


@dataclass(frozen=True)
class Ordered:
    """A line of the orders: amounts in the unit of its material."""

    supplier: str
    code: str
    description: str
    material: str
    unit: str
    packs: float
    holds: float
    laid: float


@dataclass(frozen=True)
class Used:
    """What one line came to on site: packs as they were delivered, used and sent back."""

    line: Ordered
    packs: float
    used: float
    returned: float

    @property
    def delivered_amount(self) -> float:
        """What was delivered, in the unit of the material."""
        return six_places(self.packs * self.line.holds)

    @property
    def returned_amount(self) -> float:
        """What was sent back, in the unit of the material."""
        return six_places(self.returned * self.line.holds)

    @property
    def used_amount(self) -> float:
        """What was used, in the unit of the material."""
        return six_places(self.used * self.line.holds)


def ordered_lines(job: Ledger) -> list[Ordered]:
    """The lines of the orders that wastage is added to.

    Raises JobError where the orders do not hold all that is to be bought.
    """
    against = "; ".join(filter(None, (not_measured(job), not_ordered(job))))
    if against:
        raise JobError("orders", against, "a job whose orders hold all that is to be bought")
    materials = list(
        zip(*(job.column("materials", c) for c in ("label", "wastage_seen")), strict=True)
    )
    found = []
    for row in rows_in_use(job, "order_lines", "supplier"):
        material, unused = materials[int(row["material_row"]) - 1]
        if not unused and row["laid"] > 0:
            found.append(
                Ordered(
                    supplier=str(row["supplier"]),
                    code=str(row["code"]),
                    description=str(row["description"]),
                    material=material,
                    unit=str(row["unit"]),
                    packs=six_places(row["packs"]),
                    holds=six_places(row["content"]),
                    laid=six_places(row["laid"]),
                )
            )
    return found


def to_fill_in(job: Ledger) -> bytes:
    """The list as a CSV file. Raises JobError where it would have no line."""
    lines = ordered_lines(job)
    if not lines:
        raise JobError("orders", None, "a job that orders something to which wastage is added")
    title = str(job.cell("job_title"))
    rows = [
        (title, x.supplier, x.code, x.description, x.packs, x.holds, x.unit, x.laid, "", "")
        for x in lines
    ]
    return safe_csv.written([COLUMNS, *rows])


def filled_in(job: Ledger, sheets: Sequence[Sheet]) -> list[Used]:
    """The lines of a list that say what was used or sent back.

    Used and not sent back are taken from what was delivered where only one is filled in. Raises
    FileError for another job's list, a line that the job does not order, or a figure that cannot be.
    """
    lines = {(x.supplier, x.code): x for x in ordered_lines(job)}
    title, found = str(job.cell("job_title")), {}
    sheet, head, at = _headed(sheets)
    for number, cells in sheet.rows:
        if number <= head:
            continue
        said = {c: cells[n] if n < len(cells) else "" for c, n in at.items()}
        texts = {c: _text(said[c]) for c in ("job", "supplier", "code")}
        if not any(_text(said[c]) for c in (*texts, USED, RETURNED)):
            continue
        if texts["job"] != title:
            raise FileError(sheet.place(number, at["job"]), texts["job"], f"the job, {title}")
        key = texts["supplier"], texts["code"]
        if key not in lines:
            raise FileError(
                sheet.place(number, at["code"]), " from ".join(reversed(key)),
                "a product that this job orders and wastage is added to",
            )  # fmt: skip
        if key in found:
            raise FileError(sheet.place(number, at["code"]), key[1], "each product once")
        found[key] = _used(lines[key], said, at, sheet, number)
    return [used for used in found.values() if used is not None]


def _used(
    line: Ordered, said: Mapping[str, Cell], at: Mapping[str, int], sheet: Sheet, number: int
) -> Used | None:
    def packs(column: str) -> float | None:
        text, place = _text(said[column]), sheet.place(number, at[column])
        if not text:
            return None
        try:
            value = figure(text)
        except ValueError:
            value = -1.0
        if not 0 <= value <= 1_000_000:
            raise FileError(place, said[column], "packs, a figure from 0, or blank")
        return value

    holds = packs("each_holds")
    if holds is None or abs(holds - line.holds) > 1e-6:
        raise FileError(
            sheet.place(number, at["each_holds"]), said["each_holds"],
            f"{line.holds:g} {line.unit}, as the job has it: write the list again if it changed",
        )  # fmt: skip
    delivered, used, returned = packs("packs"), packs(USED), packs(RETURNED)
    if used is None and returned is None:
        return None
    if not delivered:
        raise FileError(sheet.place(number, at["packs"]), said["packs"], "the packs delivered")
    back = returned or 0.0
    if back > delivered or (used is not None and used + back > delivered + 1e-6):
        raise FileError(
            sheet.place(number, at[USED if used is not None else RETURNED]),
            said[USED if used is not None else RETURNED],
            f"used and sent back together up to the {delivered:g} packs delivered: "
            "if more came, correct packs",
        )  # fmt: skip
    return Used(line, delivered, delivered - back if used is None else used, back)


def _headed(sheets: Sequence[Sheet]) -> tuple[Sheet, int, dict[str, int]]:
    """The first sheet with all headings, their row, and the place of each column."""
    for sheet in sheets:
        for number, cells in sheet.rows:
            at = {_text(cell).lower(): n for n, cell in enumerate(cells)}
            if all(c in at for c in COLUMNS):
                return sheet, number, {c: at[c] for c in COLUMNS}
    raise FileError(sheets[0].file, "no such headings", A_LIST)


def _text(cell: Cell) -> str:
    """A cell as text; the apostrophe that our CSV puts before a text taken away."""
    if isinstance(cell, float | int) and not isinstance(cell, bool):
        return f"{cell:.15g}"
    return str(cell).strip().removeprefix("'")
