"""Every field a person may type in is changed once: that field differs in the job, and no other.

At the level of the cells as read, for all of them; test_returned.py edits the file itself.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from estimator.errors import EstimateError
from estimator.files.xlsx.cells import Stored, address_of, place
from estimator.files.xlsx.opening import package_of
from estimator.language.tables import POSITION, Fixed, Input, Worked
from estimator.model.plan import FILLED, TYPED_CELLS, plan
from estimator.workbook.reading.comparison import FIXED, TYPED_OVER, differences, laid_ledger
from estimator.workbook.reading.inputs import Returned, _read, read_package
from estimator.workbook.reading.locations import SECTIONS

from .raw_package import demo

SECTION_FIELDS = {
    "lines": "line_suppliers", "line_status": "line_status", "reasons": "reasons",
    "hold_points": "own_notices", "wastage_applies": "wastage_applies",
    "allowances.override": "override", "allowances.own": "own", "assumed": "assumed",
}  # fmt: skip


@pytest.fixture(scope="module")
def whole() -> Returned:
    return read_package(package_of(Path("job.xlsx"), demo()[1]))


def flat(found: Returned) -> dict[tuple[Any, ...], Any]:
    """Every field of the job by its place: rows by their number."""
    job, fields = found.job, {}
    fields |= {("named", k): v for k, v in job.particulars.items()}
    for table, rows in job.rows.items():
        fields |= {(table, n, k): v for n, row in enumerate(rows) for k, v in row.items()}
    for section in SECTION_FIELDS.values():
        fields |= {(section, k): v for k, v in getattr(job, section).items()}
    for name in ("wastage", "discounts"):
        given = getattr(job, name).items()
        fields |= {(name, s, k): v for s, e in given for k, v in e.items()}
    return fields


def another(item: Input, now: Any) -> Any:
    """A value of the same kind that may stand there; None where only a blank or a name may."""
    if item.choices:
        return next(c for c in item.choices if c != now)
    if item.unit.text:
        return f"Changed {now or ''}".strip()
    if item.limits_in:
        return None
    least, most = item.least or 0, item.most if item.most is not None else 1
    whole = [v for v in (least, most, least + 1) if v != now]
    return float(whole[0])


def again(found: Returned) -> None:
    found.where.rows.clear()
    found.notes.clear()
    _read(found)


def after(found: Returned, sheet: str, at: tuple[int, int], value: Any) -> dict[Any, Any]:
    """The fields of the job with that one cell changed, read again from the cells."""
    cells = found.sheets.cells(sheet)
    assert isinstance(cells, dict)
    kept = cells.get(at)
    try:
        cells[at] = Stored(value, None, value if isinstance(value, float) else None)
        again(found)
        return flat(found)
    finally:
        cells.pop(at) if kept is None else cells.update({at: kept})


def changed(one: Mapping[Any, Any], other: Mapping[Any, Any]) -> set[Any]:
    return {k for k in {*one, *other} if one.get(k) != other.get(k)}


def inputs(found: Returned) -> Iterator[tuple[Any, str, tuple[int, int], Input]]:
    """Field, sheet, cell and item of everything typed; the first filled row of each list."""
    for item in TYPED_CELLS:
        sheet, address = found.layout.cell(item.name)
        yield ("named", item.name), sheet, place(address.replace("$", "")), item
    for table in FILLED:
        span = found.layout.typed(table.name)
        for item in table.inputs if found.job.rows[table.name] else ():
            at = place(f"{span.letters[item.name]}{span.first}")
            yield (table.name, 0, item.name), span.sheet, at, item


def test_every_typed_field_moves_itself_alone(whole: Returned) -> None:
    again(whole)
    before, seen = flat(whole), 0
    for field, sheet, at, item in list(inputs(whole)):
        now = before.get(field)
        value = another(item, now)
        if field[0] == "named" and value is None:
            continue
        moved = changed(before, after(whole, sheet, at, value))
        # A supplier's name is also the name under which its wastage is kept.
        own = {k for k in moved if not (field[:1] == ("suppliers",) and k[0] == "wastage")}
        assert own == {field}, f"{field}: {moved}"
        seen += 1
    assert seen > 100


def test_every_figure_beside_a_shipped_list_moves_itself_alone(whole: Returned) -> None:
    again(whole)
    before = flat(whole)
    for section, (table, column) in SECTIONS.items():
        listed, span = plan().tables[table], whole.layout.fronts[table]
        item = listed.column(column)
        assert isinstance(item, Input)
        for n, row in enumerate(range(span.first, span.last + 1), 1):
            key = str(whole.worked(table, listed.key, n).value)
            field = (SECTION_FIELDS[section], key)
            now = before.get(field, whole.stored(table, column, row).value)
            value = another(item, now)
            if item.limits_in:
                low, high = (whole.worked(table, c, n).number for c in item.limits_in)
                value = low if now != low else high
            at = place(f"{span.letters[column]}{row}")
            assert changed(before, after(whole, span.sheet, at, value)) <= {field}, field
            if section not in ("line_status", "wastage_applies"):
                assert after(whole, span.sheet, at, value)[field] == value
            if row > span.first + 5:
                break  # the columns are read alike in every row


@pytest.mark.parametrize(("name", "stem"), [("wastage", "wastage"), ("discounts", "discount")])
def test_every_suppliers_percentage_moves_itself_alone(
    whole: Returned, name: str, stem: str
) -> None:
    again(whole)
    before = flat(whole)
    span, listed = whole.layout.fronts["materials"], plan().tables["materials"]
    for n, supplier in enumerate(whole.job.rows["suppliers"], 1):
        key = str(whole.worked("materials", listed.key, 2).value)
        at = place(f"{span.letters[f'{stem}_{n}']}{span.first + 1}")
        field = (name, supplier["name"], key)
        assert changed(before, after(whole, span.sheet, at, 33.0)) == {field}


def test_edits_elsewhere_change_no_field_and_are_listed(whole: Returned) -> None:
    """One worked and one fixed cell of every list, all at once: each is listed with its cell."""
    again(whole)
    before, wanted, kept = flat(whole), {}, {}

    def spoil(sheet: str, at: tuple[int, int]) -> None:
        cells = whole.sheets.cells(sheet)
        assert isinstance(cells, dict)
        kept[sheet, at] = cells.get(at)
        cells[at] = Stored(987654.0, None, 987654.0)

    for name, span in whole.layout.spans.items():
        table = plan().tables[name]
        for kind, marked in ((Worked, TYPED_OVER), (Fixed, FIXED)):
            item = next((c for c in table.columns if type(c) is kind and c.name != table.key), None)
            if item is None or name == "places" or item.name == "line":
                continue
            at = place(f"{span.letters[item.name]}{span.first}")
            spoil(span.sheet, at)
            # What the sheet finds wrong are formulas, though no rule's.
            formula = name in ("watched", "to_fix")
            wanted[span.sheet, *at] = TYPED_OVER if formula else marked
    for name, front in whole.layout.fronts.items():  # and what is shown beside what is typed
        listed = plan().tables[name]
        kept_out = {POSITION, *(i.name for i in listed.inputs)}  # by its number a row is known
        for column in (c for c in front.letters if c not in kept_out):
            at = place(f"{front.letters[column]}{front.first}")
            spoil(front.sheet, at)
            fixed = listed.has(column) and type(listed.column(column)) is Fixed
            plain = fixed and name != "to_fix"
            wanted[front.sheet, *at] = FIXED if plain else TYPED_OVER
    try:
        again(whole)
        assert flat(whole) == before
        found = {d.at: d.kind for d in differences(whole, laid_ledger(whole))}
        assert found == wanted
        assert len(wanted) > 80
    finally:
        for (sheet, at), stored in kept.items():
            cells = whole.sheets.cells(sheet)
            assert isinstance(cells, dict)
            cells.pop(at) if stored is None else cells.update({at: stored})


def test_text_that_is_no_number_is_never_a_blank(whole: Returned) -> None:
    for field, sheet, at, item in list(inputs(whole)):
        if not item.unit.text:
            with pytest.raises(EstimateError, match=f"{sheet}!{address_of(at)} ") as refusal:
                after(whole, sheet, at, "some")
            assert "'some'" in str(refusal.value), field
