"""A workbook refreshed in place: our own cells brought up to date, all else left as it is."""

from collections.abc import Iterable, Mapping
from typing import Any

from .. import __version__
from ..errors import FileError, JobError
from ..files.xlsx.cells import At, place
from ..files.xlsx.opening import package_of
from ..files.xlsx.patching import Put, patched
from ..model.places import PLACES, SCHEMA
from ..model.plan import FILLED, plan
from .cell_text import as_stored
from .layout import VERSION_NAME
from .reading.comparison import (
    CHANGED,
    FIXED,
    TYPED_OVER,
    UNWIRED,
    Difference,
    differences,
    laid_ledger,
)
from .reading.inputs import Returned, check_agreed, read_package
from .text_door import FORBIDDEN, MOST, escaped

Field = tuple[str, int, str]  # list, row of the sheet, column


def held_back(returned: Returned, found: Iterable[Difference]) -> list[Difference]:
    """What a person changed in cells that are not for typing, and that is not restored unasked."""
    same_program = returned.sheets.names.get(VERSION_NAME, "").strip('"') == __version__
    theirs = {TYPED_OVER, CHANGED, FIXED} if same_program else {TYPED_OVER}
    return [d for d in found if d.kind in theirs]


def refreshed(returned: Returned, restore: bool = False) -> tuple[bytes, list[Difference]]:
    """The file with every cell of ours as it should be, and what was changed in it.

    Raises FileError when formulas were typed over or changed and are not to be restored, when the
    layout is of another version, or when the sheet could not count what was typed; JobError for
    rows that do not agree, whose total the sheet refuses.
    """
    refuse_other_layout(returned)
    check_agreed(returned)
    refuse_beyond_reach(returned)
    found = differences(returned, laid_ledger(returned))
    held = [] if restore else held_back(returned, found)
    if held:
        more = f" and {len(held) - 1} more" if len(held) > 1 else ""
        raise FileError(
            held[0].where,
            f"{held[0].kind}{more}",
            "the formulas as written: --restore puts them back, and what was typed there is lost",
        )
    puts: dict[str, dict[At, Put]] = {}
    for difference in found:
        sheet, row, column = difference.at
        puts.setdefault(sheet, {})[row, column] = _put(difference, returned)
    return patched(returned.sheets, puts), found


def refuse_other_layout(returned: Returned) -> None:
    """Raises FileError for a workbook of an earlier layout, whose cells are not where ours would be."""
    if returned.schema != SCHEMA or set(returned.where.plan.tables) - set(returned.layout.spans):
        raise FileError(
            str(returned.path),
            f"layout version {returned.schema}",
            f"version {SCHEMA}: --afresh lays it out anew",
        )


def refuse_beyond_reach(returned: Returned) -> None:
    """Raises FileError for a filled row that other sheets were not laid out for, and for a list
    that comes with the program and has more or fewer rows than it came with."""
    for name in returned.regrown:
        most = returned.layout.reached.get(name)
        span = returned.layout.typed(name)
        for n, row in enumerate(returned.laid.rows.get(name, ()), 1):
            if most is not None and n > most and row:
                where = returned.where.cell(name, span.first + n - 1, plan().tables[name].key)
                found = f"row {n} of {most} that other sheets were laid out for"
                raise FileError(where, found, "a row before it, or --afresh, which lays out more")
    rows = laid_ledger(returned).rows
    typed_in = {table.name for table in FILLED}
    for name, span in returned.layout.spans.items():
        if name not in (*typed_in, PLACES.name) and len(rows[name]) != span.last - span.first + 1:
            raise FileError(
                f"{returned.path.name}: {plan().tables[name].title} on {span.sheet}",
                f"{span.last - span.first + 1} rows",
                f"{len(rows[name])}, as they were written, or --afresh, which lays it out anew",
            )


def _put(difference: Difference, returned: Returned) -> Put:
    content = difference.content
    if content.formula is None:
        return constant(content.value)
    kind, text = as_stored(content.value)
    formula = content.formula
    if difference.kind not in (UNWIRED, TYPED_OVER, CHANGED):
        # The file's own spelling is kept where only the result was out of date.
        sheet, row, column = difference.at
        formula = returned.sheets.cells(sheet)[row, column].formula or formula
    return Put(formula, kind, text)


def constant(value: Any) -> Put:
    """A number or a text as it is put into a cell; None and the empty text make it blank."""
    if value is None or value == "":
        return Put(None, None, None)
    if isinstance(value, str):
        if len(value) > MOST or FORBIDDEN.search(value):
            raise JobError("a text", value, f"up to {MOST} characters, without control characters")
        return Put(None, "str", escaped(value))
    kind, text = as_stored(value)
    return Put(None, kind, text)


def with_typed(
    returned: Returned, fields: Mapping[Field, Any], named: Mapping[str, Any] | None = None
) -> Returned:
    """The workbook with those cells typed in, read again; its results are not yet brought up to date.

    Raises as read_package for a value that cannot stand there.
    """
    puts: dict[str, dict[At, Put]] = {}
    for (table, row, column), value in fields.items():
        span = returned.layout.typed(table)
        at = place(f"{span.letters[column]}{row}")
        puts.setdefault(span.sheet, {})[at] = constant(value)
    for name, value in (named or {}).items():
        sheet, address = returned.layout.cell(name)
        puts.setdefault(sheet, {})[place(address.replace("$", ""))] = constant(value)
    data = patched(returned.sheets, puts)
    return read_package(package_of(returned.path, data))
