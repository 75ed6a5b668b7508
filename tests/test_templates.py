"""The shipped templates: each place is one of the plan's, and what a person needs has its place."""

from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.cell_range import CellRange

from estimator.documents.client import client
from estimator.documents.orders import ORDER_LIST
from estimator.documents.price_requests.fields import PRICE_REQUEST
from estimator.documents.site_sheet import SITE_SHEET
from estimator.exports.bill import bill_of_quantities
from estimator.files.resources import (
    BILL_TEMPLATE,
    BILL_TO_PRICE_TEMPLATE,
    CLIENT_TEMPLATE,
    JOB_TEMPLATE,
    ORDER_TEMPLATE,
    REQUEST_TEMPLATE,
    SITE_TEMPLATE,
)
from estimator.language import Plan
from estimator.language.tables import FAULT, POSITION, Input
from estimator.model.plan import plan
from estimator.revisions.changes import LEVELS
from estimator.workbook.fronts import FRONTS
from estimator.workbook.page import KINDS
from estimator.workbook.template import place_in

DOCUMENTS = [
    *((CLIENT_TEMPLATE, client(level, least).plan) for level in LEVELS for least in (True, False)),
    (ORDER_TEMPLATE, ORDER_LIST.plan),
    (REQUEST_TEMPLATE, PRICE_REQUEST.plan),
    (SITE_TEMPLATE, SITE_SHEET.plan),
    (BILL_TEMPLATE, bill_of_quantities().plan),
    (BILL_TO_PRICE_TEMPLATE, bill_of_quantities(priced=True).plan),
]
BY_DRAWINGS = {name for front in FRONTS for name in front.chosen}  # typed beside what is drawn
Place = tuple[str, str]  # the list in whose row it stands, or "", and its name


def places(book: Workbook, of: Plan) -> dict[Place, str]:
    """Every place of a template, and where it is."""
    areas = [
        (name.removesuffix("_line"), sheet, CellRange(area))
        for name, defined in book.defined_names.items()
        if name.endswith("_line")
        for sheet, area in defined.destinations
    ]
    bare = [t for t in of.tables.values() if t.name not in {name for name, _, _ in areas}]
    found = {}
    for cell in (c for sheet in book for row in sheet.iter_rows() for c in row):
        name, sheet = place_in(cell.value), cell.parent.title
        if name is None:
            continue
        rows = [n for n, on, a in areas if on == sheet and a.min_row <= cell.row <= a.max_row]
        rows += [t.name for t in bare if name in t.places and name not in of.cells]
        found[rows[0] if rows else "", name] = f"{sheet}!{cell.coordinate}"
    return found


@pytest.fixture(scope="module")
def job_template() -> Workbook:
    """The template of the workbook as openpyxl reads it: not to be changed."""
    return load_workbook(JOB_TEMPLATE)


@pytest.mark.parametrize(("path", "of"), DOCUMENTS, ids=lambda x: getattr(x, "stem", ""))
def test_a_document_has_the_places_of_its_declaration_and_no_other(path: Path, of: Plan) -> None:
    needed = {("", name) for name in of.cells}
    needed |= {(t.name, name) for t in of.tables.values() for name in t.places}
    assert set(places(load_workbook(path), of)) == needed


def test_each_place_of_the_workbook_is_known_where_it_is(job_template: Workbook) -> None:
    of = plan()
    known = {("", name) for name in (*of.cells, *of.keyed)}
    known |= {(t.name, name) for t in of.tables.values() for name in (FAULT, POSITION, *t.places)}
    found = places(job_template, of)
    assert {at: where for at, where in found.items() if at not in known} == {}


def test_all_that_is_typed_has_its_place_in_the_workbook(job_template: Workbook) -> None:
    """Else it would be put where there is room: below the first sheet, or right of its list."""
    of, found = plan(), places(job_template, plan())
    typed = {("", name) for name, item in of.cells.items() if isinstance(item, Input)} - {
        ("", name) for name in BY_DRAWINGS
    }
    for listed in {listed for listed, _ in found if listed}:
        typed |= {(listed, item.name) for item in of.tables[listed].inputs}
    assert typed - set(found) == set()


def test_a_typed_cell_is_called_as_the_plan_calls_it(job_template: Workbook) -> None:
    """A label stands in the template too, and what is to be fixed names the cell by the plan's."""
    sheet = job_template["Start"]
    beside = {place_in(b.value): a.value for a, b in zip(sheet["A"], sheet["B"], strict=True)}
    typed = {
        name: i.label
        for name, i in plan().cells.items()
        if isinstance(i, Input) and name not in BY_DRAWINGS
    }
    site, days = job_template["Site"], {}
    for hold, label, cell in zip(site["A"], site["G"], site["H"], strict=True):
        if (name := place_in(cell.value)) in typed:  # each beside the heading of its hold point
            days[name] = f"{label.value}, {str(hold.value).partition('. ')[2]}".lower()
    assert days == {n: label.lower() for n, label in typed.items() if n.startswith("day_")}
    on_start = {n: label for n, label in typed.items() if n not in days}
    assert {name: label for name, label in beside.items() if name in typed} == on_start


def test_the_workbook_brings_a_cell_style_for_each_kind_of_cell(job_template: Workbook) -> None:
    """Whoever restyles the template finds them there; one that it lacks has a look of its own."""
    assert set(KINDS) - set(job_template.named_styles) == set()
