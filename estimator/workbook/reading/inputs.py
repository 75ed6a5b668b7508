"""What a person typed in a workbook, read back field by field into a job."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from ...buying.lines import LINES
from ...buying.materials import BY_SUPPLIER
from ...errors import JobError
from ...files.xlsx.cells import NOTHING, Failed, Sheets, Stored, place
from ...files.xlsx.opening import Package, open_package
from ...language.ledger import Ledger
from ...language.tables import Input, Table
from ...model.estimate import Room, estimate, most_printed, rows_in_use
from ...model.job import (
    FORM_MODEL,
    PART_MODELS,
    PART_PARTICULARS_MODEL,
    ROW_MODELS,
    Job,
    blank_job,
    checked_number,
    is_name,
    row_from,
)
from ...model.job_checks import as_spelled, check_given, check_job
from ...model.places import SCHEMA
from ...model.plan import FILLED, PARTICULARS, bases, plan
from ...model.rectangles import with_rectangle
from ...model.spelling import as_listed, one_line
from ...questionnaire.answers import INPUTS as FORM_INPUTS
from ...questionnaire.offers import marks
from ...revisions.defaults import unusual, usual_status, usual_wastage_applies
from ..layout import Layout
from .addresses import layout_of, open_ours
from .earlier import unasked_columns
from .house import house_listed
from .locations import SECTIONS, InWorkbook
from .shape import check_around, check_offered, front_rows, is_default, reached
from .shipped import SHIPPED, limited
from .value import typed_value

Row = dict[str, Any]
NO_ROW: Mapping[str, Any] = {}


@dataclass
class Returned:
    """A workbook as it came back. `laid` is its job with each row where it stands in its sheet."""

    path: Path
    sheets: Sheets
    schema: int
    layout: Layout
    where: InWorkbook
    job: Job
    laid: Job
    room: Room
    notes: list[str] = field(default_factory=list)
    linked: list[str] = field(default_factory=list)  # typed cells whose formula reads other cells
    unknown: list[str] = field(default_factory=list)  # what this version has no place for
    regrown: list[str] = field(default_factory=list)  # lists longer or shorter than when written
    taken: list[str] = field(default_factory=list)  # what an earlier layout does not ask, as taken
    _laid: Ledger | None = field(default=None, repr=False)
    _figures: Ledger | None = field(default=None, repr=False)

    @property
    def is_earlier(self) -> bool:
        """Whether its cells are not where those of this program are: they cannot be compared."""
        return self.schema != SCHEMA

    def laid_ledger(self) -> Ledger:
        """Every figure of the job, its lists as long as they are in the workbook; made once."""
        if self._laid is None:
            self._laid = estimate(self.laid, self.room)
        return self._laid

    def figures(self) -> Ledger:
        """Every figure of what was typed, wherever the workbook has room for it; made once.

        That is the ledger of the sheets, unless they do not reach all that was typed.
        """
        if self._figures is None:
            reached = not (self.is_earlier or self.regrown)
            self._figures = self.laid_ledger() if reached else estimate(self.job)
            if reached and _is_cut_short(self._figures):
                self._figures = estimate(self.job)
        return self._figures

    def stored(self, table: str, column: str, row: int) -> Stored:
        """What a cell of a list holds; rows as the sheet counts them."""
        span = self.layout.typed(table)
        if column not in span.letters:  # a column that an earlier layout does not have
            return NOTHING
        at = place(f"{span.letters[column]}{row}")
        return self.sheets.cells(span.sheet).get(at, NOTHING)

    def worked(self, table: str, column: str, n: int) -> Stored:
        """What a cell of a list holds where it is worked out, in its nth row, counted from 1."""
        span = self.layout.spans[table]
        at = place(f"{span.letters[column]}{span.first + n - 1}")
        return self.sheets.cells(span.sheet).get(at, NOTHING)

    def named(self, name: str) -> Stored:
        """What a named cell holds."""
        sheet, address = self.layout.cell(name)
        return self.sheets.cells(sheet).get(place(address.replace("$", "")), NOTHING)


def read_back(path: Path) -> Returned:
    """The job in one of our workbooks, as it was edited.

    Raises FileError for a file that is not ours, JobError for a cell that cannot be used.
    """
    return read_package(open_package(path))


def read_package(package: Package) -> Returned:
    """As read_back, from a file that is open."""
    path = package.path
    sheets, schema = open_ours(package)
    layout, unknown = layout_of(sheets, plan(), schema)
    where = InWorkbook(path.name, plan(), layout)
    empty = Job({}, {}, house=house_listed(sheets, layout, path.name))
    returned = Returned(path, sheets, schema, layout, where, empty, empty, Room(), unknown=unknown)
    _read(returned)
    return returned


def read_checked(path: Path) -> Returned:
    """As read_back; what was typed must also agree, row with row. Raises JobError if it does not."""
    returned = read_back(path)
    check_agreed(returned)
    return returned


def check_agreed(returned: Returned) -> None:
    """Raises JobError for rows that do not agree, or that other sheets do not reach."""
    job = returned.job
    check_given(job, returned.where)
    ledger = None if returned.is_earlier or returned.regrown else returned.laid_ledger()
    used = rows_in_use(job, returned.where, ledger)
    check_job(replace(job, rows=used), returned.where)


def _is_cut_short(ledger: Ledger) -> bool:
    """Whether a printed list may leave something out: it has no free row, and could need more."""
    for table, most in most_printed(ledger.rows).items():
        keys = ledger.column(table, ledger.plan.tables[table].key)
        if len(keys) < most and (not keys or keys[-1] != ""):
            return True
    return False


def _read(returned: Returned) -> None:
    returned._laid = returned._figures = None
    particulars = _particulars(returned)
    returned.where.answers = particulars
    asked = any(particulars.get(i.name) is not None for i in FORM_INPUTS)
    laid: dict[str, list[Row]] = {}
    rows: dict[str, list[Row]] = {}
    for table in FILLED:
        if table.name not in returned.layout.spans:  # a list this file does not have yet
            laid[table.name] = rows[table.name] = []
            continue
        laid[table.name] = _rows(returned, table, asked)
        held = len(marks(table.name)) if asked else 0
        head, rest = laid[table.name][:held], laid[table.name][held:]
        rows[table.name] = [*head, *(r for r in rest if r)]
    # Figures that stand beside the lists that come with the program.
    kept = {s: _entries(returned, *SECTIONS[s]) for s in SECTIONS}
    applies = unusual(kept["wastage_applies"], usual_wastage_applies())
    job = Job(
        particulars,
        rows,
        override=kept["allowances.override"],
        own=kept["allowances.own"],
        line_suppliers=kept["lines"],
        line_status=unusual(kept["line_status"], usual_status()),
        reasons={**kept["reasons"], **_entries(returned, "product_checks", "reason")},
        own_notices=kept["hold_points"],
        wastage=_percents(returned, "wastage", laid["suppliers"]),
        discounts={
            supplier: found
            for supplier, found in _percents(returned, "discounts", laid["suppliers"]).items()
            if found
        },
        wastage_applies={k: int(v) for k, v in applies.items()},
        assumed=kept["assumed"],
        house=returned.job.house,
    )
    returned.job, more = with_rectangle(as_spelled(job), returned.schema)
    returned.laid = with_rectangle(as_spelled(replace(job, rows=laid)), returned.schema)[0]
    if more:
        returned.taken.append(
            f"{returned.path.name} is of layout version {returned.schema}, whose form filled in a "
            f"rectangle, typed over in part: the rest of it is typed now too, in {' and '.join(more)}."
        )
    returned.room = _room(returned)


def _particulars(returned: Returned) -> Row:
    found: Row = {}
    for model, inputs in ((PART_PARTICULARS_MODEL, PARTICULARS), (FORM_MODEL, FORM_INPUTS)):
        names = {i.key: i.name for i in inputs}
        entry = {
            i.key: value
            for i in inputs
            if i.name in returned.layout.cells
            and (
                value := typed_value(
                    returned, returned.named(i.name), i, None, returned.where.named(i.name)
                )
            )
            is not None
        }
        found |= row_from(model, inputs, entry, returned.where.of_named(names))
    started = blank_job(bases()[0].name).particulars
    for item in PARTICULARS:  # a cell that an earlier layout does not have, as in a new workbook
        if item.name not in returned.layout.cells and item.required:
            found[item.name] = started[item.name]
            _take(returned, item.label, started[item.name])
    return found


def _take(returned: Returned, what: str, value: Any) -> None:
    shown = "blank" if value is None else f"{value:g}" if isinstance(value, float | int) else value
    returned.taken.append(
        f"{returned.path.name} is of layout version {returned.schema}, "
        f"which does not ask for {what}: taken as {shown}."
    )


def _rows(returned: Returned, table: Table, asked: bool) -> list[Row]:
    """The rows of a list as they stand in the sheet, blank ones as {}; none after the last."""
    own_marks = marks(table.name, returned.schema)
    newer = len(marks(table.name)) - len(own_marks)
    unasked = unasked_columns(returned, table)
    if asked and table.name not in returned.layout.fronts:
        check_offered(returned, table, own_marks)
    at_row = returned.where.rows.setdefault(table.name, {})
    found: list[Row] = []
    for n, row in enumerate(front_rows(returned, table).values()):
        entry: Row = {}
        for i in table.inputs:
            stored, place_of = returned.stored(table.name, i.name, row), returned.where.cell
            if is_default(returned, table, i, stored, row):
                continue
            value = typed_value(
                returned, stored, i, table, place_of(table.name, row, i.name), entry
            )
            if value is not None:
                entry[i.key] = value
        offered = asked and n < len(own_marks)
        if entry and not offered:
            entry |= unasked
        found.append(_row(returned, table, row, entry, offered))
        mark = found[-1].get(table.key) or (own_marks[n] if offered else None)
        if offered:
            typed = frozenset(i.name for i in table.inputs if i.key in entry)
            returned.where.over[table.name, own_marks[n]] = typed
        if mark is not None:
            if mark in at_row:
                other = returned.where.cell(table.name, at_row[mark], table.key)
                raise JobError(
                    returned.where.cell(table.name, row, table.key),
                    mark,
                    f"a ref used once ({other.partition(': ')[2]} has it already)",
                )
            at_row[mark] = row
    check_around(returned, table)
    for item in table.inputs if any(found) else ():
        if item.key in unasked:
            _take(returned, f"{item.label} ({table.title})", unasked[item.key])
    if asked:  # rows that the form fills today, and did not then, stand before one's own
        found[len(own_marks) : len(own_marks)] = [{}] * newer
    held = len(own_marks) + newer
    while found and not found[-1] and not (asked and len(found) <= held):
        found.pop()
    return found


def _row(returned: Returned, table: Table, row: int, entry: Row, offered: bool) -> Row:
    if not entry:
        return {}
    names = {i.key: i.name for i in table.inputs}
    model = (PART_MODELS if offered else ROW_MODELS)[table.name]
    return row_from(
        model,
        table.inputs,
        entry,
        lambda key: returned.where.cell(table.name, row, names.get(key, table.key)),
    )


def _entries(returned: Returned, table: str, column: str) -> dict[str, Any]:
    """What is typed in a column beside a list that comes with the program, by each row's key."""
    if table not in returned.layout.spans:
        return {}
    found = {}
    item = plan().tables[table].column(column)
    if isinstance(item, Input):
        for key, row, its_own in _keyed(returned, table, item):
            where = returned.where.cell(table, row, column)
            stored = returned.stored(table, column, row)
            if key not in SHIPPED[table]:
                if stored.value not in (None, "") and not its_own.required:
                    n = next(
                        n for n, r in front_rows(returned, plan().tables[table]).items() if r == row
                    )
                    at = returned.where.behind(table, n, plan().tables[table].key)
                    raise JobError(at, key, "the row's own key: the list is not for typing")
                continue
            value = _entry_value(returned, stored, its_own, plan().tables[table], where)
            if value is not None:
                found[key] = value
    return found


def _keyed(returned: Returned, table: str, item: Input) -> list[tuple[str, int, Input]]:
    """Key, row of the sheet and the input with its own limits, for each row of a shipped list."""
    listed = plan().tables[table]
    at_row: dict[str, int] = {}
    found = []
    for n, row in front_rows(returned, listed).items():
        stored = returned.worked(table, listed.key, n)
        where = returned.where.behind(table, n, listed.key)
        if not isinstance(stored.value, str) or isinstance(stored.value, Failed):
            raise JobError(where, stored.value, "the row's own key: the list is not for typing")
        if stored.value in at_row:
            raise JobError(where, stored.value, f"a key used once (row {at_row[stored.value]} too)")
        at_row[stored.value] = row
        found.append((stored.value, row, limited(item, table, stored.value)))
    returned.where.rows[table] = at_row
    return found


def _entry_value(returned: Returned, stored: Stored, item: Input, table: Table, where: str) -> Any:
    value = as_listed(typed_value(returned, stored, item, table, where), item.choices)
    if value is None and item.required:
        raise JobError(where, None, item.accepted)
    if isinstance(value, str) and not item.choices and not is_name(item, table):
        value = one_line(value) or None
    if value is not None and not item.unit.text:
        try:
            checked_number(value, item)
        except ValueError as error:
            raise JobError(where, value, str(error)) from None
    return value


def _percents(returned: Returned, name: str, suppliers: list[Row]) -> dict[str, dict[str, float]]:
    """What is typed of each material for each supplier: wastage, or trade discounts."""
    found: dict[str, dict[str, float]] = {str(r["name"]): {} for r in suppliers if r}
    for n, item in enumerate(BY_SUPPLIER[name]):
        percents = _entries(returned, "materials", item.name)
        if n < len(suppliers) and suppliers[n]:
            found[str(suppliers[n]["name"])] = percents
        elif percents:
            key, value = next(iter(percents.items()))
            row = returned.where.rows["materials"][key]
            where = returned.where.cell("materials", row, item.name)
            raise JobError(where, value, item.accepted)
    return found


def _room(returned: Returned) -> Room:
    """As many rows as the workbook has, and as many followers as it was written with."""
    lengths = {name: span.last - span.first + 1 for name, span in returned.layout.spans.items()}
    listed = _numbers(returned, "layouts") if "layouts" in lengths else ()
    laid_out = {"zones": [returned.worked("layouts", "roll_no", n).value for n in listed].count(1)}
    rows = _numbers(returned, "needs") if "needs" in lengths else ()
    keys = [returned.worked("needs", "line", n).value for n in rows]
    sources = {line.key: line.source for line in LINES}
    for key in dict.fromkeys(keys):
        if key in sources:
            laid_out[sources[key]] = keys.count(key)
    for table in FILLED:
        if table.name in lengths:
            apart = returned.layout.is_apart
            said = laid_out.get(table.name, None if apart else reached(returned, table))
            returned.layout.reached[table.name] = lengths[table.name] if said is None else said
    returned.regrown = [
        name for name, count in laid_out.items() if lengths.get(name, count) != count
    ]
    returned.regrown += [
        name
        for name in returned.layout.fronts
        if len(returned.laid.rows.get(name, ())) > lengths[name] and name not in returned.regrown
    ]
    return Room(lengths=lengths, laid_out=laid_out)


def _numbers(returned: Returned, table: str) -> range:
    span = returned.layout.spans[table]
    return range(1, span.last - span.first + 2)
