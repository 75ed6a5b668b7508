"""What a person does to the workbook in LibreOffice, and what the quote total then says.

The total must be what Python works out for the same change, or refuse; never quietly wrong.

What only types over cells is done to one open workbook, case after case (TRIED): after each, the
cells hold again what they held, and the total must be the first one again before the next begins.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import column_index_from_string

from estimator.buying.lines import LINES
from estimator.errors import EstimateError, JobError
from estimator.files.resources import JOB_TEMPLATE
from estimator.guidance.basis import KEYS
from estimator.language.ledger import is_available
from estimator.language.tables import FAULT, OFFERED, POSITION, Input
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job import Job
from estimator.model.plan import plan
from estimator.workbook.build import Built, build
from estimator.workbook.fronts import FRONTS, columns
from estimator.workbook.reading.inputs import read_back

from .hosts import drive, figures
from .made import made
from .test_form import formed

pytestmark = pytest.mark.host

TOTAL = ["get", "quote_total"]
LOOKS = ["quote_total", "quote_state"]
REFUSED = "#N/A"


@dataclass
class Open:
    """The demo workbook, and the addresses of what a person would click on."""

    job: Job
    built: Built
    path: Path

    def at(self, table: str, row: int, column: str) -> str:
        span = self.built.layout.stands(table, column)
        return f"{span.sheet}!{span.letters[column]}{span.first + row - 1}"

    def beside(self, table: str, column: str) -> str:
        """A result that stands beside what is typed, in the first row of a list."""
        span = self.built.layout.fronts[table]
        return f"{span.sheet}!{span.letters[column]}{span.first}"

    def typed(self, table: str, row: int) -> str:
        """All typed cells of a row, from the first to the last."""
        span = self.built.layout.typed(table)
        inputs = {i.name for i in self.plan_table(table).inputs}
        letters = [letter for name, letter in span.letters.items() if name in inputs]
        number = span.first + row - 1
        return f"{span.sheet}!{letters[0]}{number}:{letters[-1]}{number}"

    def plan_table(self, table: str) -> Any:
        return plan().tables[table]

    def do(self, *steps: list[Any]) -> list[Any]:
        return drive(self.path, [self._on_fronts(step) for step in steps])

    def _on_fronts(self, step: list[Any]) -> list[Any]:
        """A step that types into a named cell: where a person types it."""
        if step[0] == "tried":
            return [step[0], [[self._typed_at(at), value] for at, value in step[1]], step[2]]
        return [step[0], self._typed_at(step[1]), *step[2:]] if step[0] == "set" else step

    def _typed_at(self, name: str) -> str:
        layout = self.built.layout
        return "!".join(layout.cell(name)).replace("$", "") if name in layout.typed_cells else name

    def total_of(self, job: Job) -> float:
        value: float = estimate(job).cell("quote_total")
        return value


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Open:
    demo = made("demo")
    return Open(demo.job, demo.built, demo.written(tmp_path_factory.mktemp("demo")))


@pytest.fixture(scope="module")
def shown(request: pytest.FixtureRequest, opened: Open) -> dict[str, list[Any]]:
    """For each case of TRIED whose name holds what a test of this run is given, what the cells it
    looks at show."""
    each = (CHANGES, NEW_ROWS, BESIDE, REFUSALS, OVERTYPED)
    assert len(TRIED) == sum(len(cases) for cases in each) + 4, "two cases have one name"
    tests = [i for i in request.session.items if i.path == request.path]
    words = [i.callspec.params.values() for i in tests if "shown" in i.fixturenames]
    run = [name for name in TRIED if any(all(w in name for w in of) for of in words)]
    cases = {name: TRIED[name](opened) for name in run}
    steps: list[list[Any]] = [TOTAL]
    for edits, looks in cases.values():
        steps += [["tried", edits, looks], ["show", "quote_total"]]
    before, *answers = opened.do(*steps)
    assert before == opened.total_of(opened.job)
    spoilt = [n for n, after in zip(cases, answers[1::2], strict=True) if after != before]
    assert spoilt == [], "the cells do not hold again what they held"
    return dict(zip(cases, answers[::2], strict=True))


def with_row(job: Job, table: str, row: int, **changes: Any) -> Job:
    rows = [dict(r) for r in job.rows[table]]
    rows[row - 1] |= changes
    return replace(job, rows={**job.rows, table: rows})


def more(job: Job, table: str, row: Mapping[str, Any]) -> Job:
    return replace(job, rows={**job.rows, table: [*job.rows[table], dict(row)]})


Edits = list[list[Any]]  # what is typed where
Case = Callable[[Open], tuple[Edits, list[str]]]  # and the cells that are then looked at
Change = tuple[Callable[[Open], Edits], Callable[[Job], Job]]
TRIED: dict[str, Case] = {}

WEEPS_ROW = [key.name for key in KEYS].index("weep_spacing") + 1  # 225 to 2,000
TRAYS_LINE = [line.key for line in LINES].index("trays") + 1
CHANGES: dict[str, Change] = {
    "a supplier's wastage": (
        lambda o: [[o.at("materials", 1, "wastage_1"), 35]],
        lambda j: replace(
            j,
            wastage={
                **j.wastage,
                "Fernbank Supplies (invented)": {
                    **j.wastage["Fernbank Supplies (invented)"],
                    "hardcore": 35,
                },
            },
        ),
    ),
    "a dimension": (
        lambda o: [[o.at("openings", 3, "lintel"), 9.5]],
        lambda j: with_row(j, "openings", 3, lintel=9.5),
    ),
    "a level": (
        lambda o: [[o.at("zones", 1, "formation_level"), -0.7]],
        lambda j: with_row(j, "zones", 1, formation_level=-0.7),
    ),
    "a lap": (
        lambda o: [[o.at("allowances", 2, "override"), 200]],
        lambda j: replace(j, override={"dpm_dpc_lap": 200}),
    ),
    "the basis": (
        lambda o: [["basis_choice", "common_practice"]],
        lambda j: replace(j, particulars={**j.particulars, "basis_choice": "common_practice"}),
    ),
    "a status": (
        lambda o: [[o.at("lines", 2, "status"), "by others"]],
        lambda j: replace(j, line_status={**j.line_status, "blinding": "by others"}),
    ),
    "trays in one piece": (
        lambda o: [["tray_joints", "one piece"], [o.at("book", 9, "length"), 6]],
        lambda j: with_row(
            replace(j, particulars={**j.particulars, "tray_joints": "one piece"}),
            "book",
            9,
            length=6,
        ),
    ),
    "joints across strips": (
        lambda o: [["sheet_joints", "cross joints"], [o.at("book", 3, "length"), 6]],
        lambda j: with_row(
            replace(j, particulars={**j.particulars, "sheet_joints": "cross joints"}),
            "book",
            3,
            length=6,
        ),
    ),
    "not registered for VAT": (
        lambda o: [["vat_status", "not registered"]],
        lambda j: replace(j, particulars={**j.particulars, "vat_status": "not registered"}),
    ),
    "the minimum charge": (
        lambda o: [["minimum_charge", 5000]],
        lambda j: replace(j, particulars={**j.particulars, "minimum_charge": 5000}),
    ),
    "the markup": (
        lambda o: [["profit_percent", 33.3]],
        lambda j: replace(j, particulars={**j.particulars, "profit_percent": 33.3}),
    ),
    "the job's supplier": (
        lambda o: [["supplier_choice", "Harrow Lane Depot (invented)"]],
        lambda j: replace(
            j, particulars={**j.particulars, "supplier_choice": "Harrow Lane Depot (invented)"}
        ),
    ),
    "one line's supplier": (
        lambda o: [[o.at("lines", TRAYS_LINE, "supplier"), "Quayside Stores (invented)"]],
        lambda j: replace(
            j, line_suppliers={**j.line_suppliers, "trays": "Quayside Stores (invented)"}
        ),
    ),
    "an hour's rate": (
        lambda o: [[o.at("work_lines", 1, "rate"), 41]],
        lambda j: with_row(j, "work_lines", 1, rate=41),
    ),
    "what labour follows": (
        lambda o: [[o.at("work_lines", 1, "wired_to"), "Stop ends to trays"]],
        lambda j: with_row(j, "work_lines", 1, wired_to="Stop ends to trays"),
    ),
    "profit on work": (
        lambda o: [["profit_on_work", "yes"]],
        lambda j: replace(j, particulars={**j.particulars, "profit_on_work": "yes"}),
    ),
    "a price": (
        lambda o: [[o.at("book", 3, "price"), 61.27]],
        lambda j: with_row(j, "book", 3, price=61.27),
    ),
    "a supplier's trade discount": (
        lambda o: [[o.at("suppliers", 1, "discount"), 10]],
        lambda j: with_row(j, "suppliers", 1, discount=10),
    ),
    "a trade discount on one material": (
        lambda o: [[o.at("materials", 1, "discount_1"), 17.5]],
        lambda j: replace(j, discounts={"Fernbank Supplies (invented)": {"hardcore": 17.5}}),
    ),
    "packs of one's own": (
        lambda o: [[o.at("book", 3, "own_packs"), 4]],
        lambda j: with_row(j, "book", 3, own_packs=4),
    ),
}


TRIED |= {n: (lambda o, edits=edits: (edits(o), LOOKS)) for n, (edits, _) in CHANGES.items()}


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_moves_the_total_as_in_python(
    opened: Open, shown: dict[str, list[Any]], name: str
) -> None:
    total, _ = shown[name]
    wanted = opened.total_of(CHANGES[name][1](opened.job))
    assert total == wanted
    assert wanted != opened.total_of(opened.job), "the change should have changed the total"


NEW_OPENING = {
    "mark": "O7",
    "description": "One more",
    "wall": "W2",
    "kind": "window",
    "number": 6,
    "width": 2.41,
    "height": 1.2,
    "lintel": 2.7,
    "closer": 50,
    "jamb_dpc": 150,
}
NEW_PRODUCT = {
    "code": "F-99",
    "supplier": "Fernbank Supplies (invented)",
    "material": "dpm_sheet",
    "description": "DPM sheet 300 µm, 5 m × 15 m",
    "width": 5000,
    "length": 15,
    "pieces": None,
    "weight": None,
    "thickness": 300,
    "made_of": None,
    "price": 40,
    "minimum_packs": None,
    "own_packs": None,
}


NEW_WORK = {
    "mark": "L6",
    "description": "Rot behind the old render",
    "kind": "provisional sum",
    "way": "fixed",
    "figure": 350,
    "rate": None,
    "wired_to": None,
}


NEW_ROWS = {"openings": NEW_OPENING, "book": NEW_PRODUCT, "work_lines": NEW_WORK}


def one_more(opened: Open, table: str) -> Edits:
    """A spare row of that list filled in."""
    row = len(opened.job.rows[table]) + 1
    return [[opened.at(table, row, k), v] for k, v in NEW_ROWS[table].items() if v is not None]


TRIED |= {
    f"one more row of {t}": (lambda o, table=t: (one_more(o, table), LOOKS)) for t in NEW_ROWS
}


@pytest.mark.parametrize("table", NEW_ROWS)
def test_a_spare_row_is_wired_already(
    opened: Open, shown: dict[str, list[Any]], table: str
) -> None:
    total, _ = shown[f"one more row of {table}"]
    wanted = opened.total_of(more(opened.job, table, NEW_ROWS[table]))
    assert total == wanted != opened.total_of(opened.job)


TRIED["labour and trays of one more opening"] = lambda o: (
    one_more(o, "openings"),
    [
        o.at("work_lines", 1, "amount"),
        o.at("openings_before_the_lintel_course_items", 1, "quantity"),
    ],
)


@pytest.mark.parametrize("name", ["labour and trays of one more opening"])
def test_one_more_opening_raises_the_labour(shown: dict[str, list[Any]], name: str) -> None:
    """And the counted trays on the sheet for site, under the hold point of openings."""
    labour, counted = shown[name]
    # Six trays of 2.7 m more: 28.5 m, 0.75 hours a metre at 35. In the demo 12.3 m, 322.88.
    assert counted == pytest.approx(12.3 + 6 * 2.7)
    assert labour == 748.13  # 748.125, half up


OWN_NOTICE = "the surveyor, by telephone"
ELSEWHERE = ["site_nation", "Northern Ireland"]
TRIED["the nation as it is"] = lambda o: ([], ["tell_at_foundations"])
TRIED["another nation"] = lambda o: ([ELSEWHERE], ["tell_at_foundations"])
TRIED["another nation, words of one's own"] = lambda o: (
    [ELSEWHERE, [o.at("hold_points", 2, "own_notice"), OWN_NOTICE]],
    ["tell_at_foundations"],
)


@pytest.mark.parametrize("word", ["nation"])
def test_the_nation_changes_who_is_told(shown: dict[str, list[Any]], word: str) -> None:
    (england,), (ireland,) = shown[f"the {word} as it is"], shown[f"another {word}"]
    assert england.startswith("Building control")
    assert ireland.startswith("District council: in writing, not less than 2 days before")
    assert shown[f"another {word}, words of one's own"] == [OWN_NOTICE]


def test_a_row_put_in_anywhere_counts(opened: Open) -> None:
    """Above the first row, among the others, and just above the end line; nothing else is filled."""
    front = opened.built.layout.typed("openings")
    wanted = opened.total_of(more(opened.job, "openings", NEW_OPENING))
    assert wanted != opened.total_of(opened.job)
    steps: list[list[Any]] = []
    for row in (front.first, front.first + 2, front.bottom):
        steps += [["open", str(opened.path)], ["insert_row", front.sheet, row]]
        steps += [["set", f"{front.sheet}!{front.letters[k]}{row}", v]
                  for k, v in NEW_OPENING.items()]  # fmt: skip
        steps += [TOTAL, ["get", "rows_unchecked"]]
    answers = [a for a in opened.do(*steps) if a is not None]
    assert answers == [wanted, 0] * 3


def test_a_row_beyond_what_is_worked_out_refuses(opened: Open) -> None:
    """Two rows more than the sheet came with are worked out: in a third, each cell is counted."""
    front = opened.built.layout.typed("openings")
    steps = [["insert_row", front.sheet, front.first + 2]] * 2
    last = front.bottom + 1  # the last row above the end line, which the two have moved down
    filled = [["set", f"{front.sheet}!{front.letters[k]}{last}", v] for k, v in NEW_OPENING.items()]
    third = ["insert_row", front.sheet, front.first + 2]
    look = [TOTAL, ["get", "rows_unchecked"]]
    answers = [a for a in opened.do(*steps, *filled, *look, third, *look) if a is not None]
    wanted = opened.total_of(more(opened.job, "openings", NEW_OPENING))
    assert answers == [wanted, 0, REFUSED, len(NEW_OPENING)]


def test_what_is_typed_on_the_end_line_refuses(opened: Open) -> None:
    """Nothing reads it there: each cell is counted. Taken out, the total returns. The same where a
    row was deleted, so that the end line stands one row higher."""
    front = opened.built.layout.typed("openings")
    cells = [f"{front.sheet}!{front.letters[k]}{front.bottom}" for k in ("mark", "width")]
    typed = [["set", cells[0], "O9"], ["set", cells[1], 1.2]]
    look = [TOTAL, ["get", "rows_unchecked"]]
    cleared = [["set", cell, None] for cell in cells]
    fewer = [["delete_row", front.sheet, front.last]]
    up = f"{front.sheet}!{front.letters['mark']}{front.bottom - 1}"
    steps = [*typed, *look, *cleared, *look, *fewer, ["set", up, "O9"], *look]
    answers = [a for a in opened.do(*steps) if a is not None]
    total = opened.total_of(opened.job)
    assert answers == [REFUSED, 2, total, 0, REFUSED, 1]


def _below(opened: Open, table: str) -> dict[str, int]:
    """Cells under a list, by their address, and how many the sheet counts when each is typed in."""
    front = opened.built.layout.fronts[table]
    inputs = [front.letters[i.name] for i in opened.plan_table(table).inputs]
    typed = sorted(inputs, key=column_index_from_string)
    first, last = typed[0], typed[-1]
    if not opened.plan_table(table).grows:
        return {f"{front.sheet}!{at}{front.last + 1}": 1 for at in (first, last)}
    under = {f"{front.sheet}!{at}{front.bottom + 1}": 1 for at in (first, last)}
    chosen = [  # cells that choose what is drawn below
        int(cell.rpartition("$")[2])
        for sheet, cell in opened.built.layout.typed_cells.values()
        if sheet == front.sheet and int(cell.rpartition("$")[2]) > front.bottom
    ]
    is_last = all(
        other.first <= front.first
        for other in opened.built.layout.fronts.values()
        if other.sheet == front.sheet
    )
    # Two rows below what is last on a sheet, and among its drawings, the first column is for remarks.
    under[f"{front.sheet}!{first}{front.bottom + 2}"] = 0 if is_last and not chosen else 1
    under[f"{front.sheet}!{typed[1]}{front.bottom + 2}"] = 1
    if not is_last:
        return under
    far = max(chosen, default=front.bottom + 1)
    rows = (far + 1, far + 40, far + 150)
    return under | {
        f"{front.sheet}!{at}{row}": int(at == last) for at in (first, last) for row in rows
    }


def test_what_is_typed_below_a_list_is_counted_and_refuses(opened: Open) -> None:
    """Nothing reads it there: from the row under the end line to the heading of the next list."""
    lists = [t for t in plan().tables.values() if t.inputs and t.name in opened.built.layout.fronts]
    assert {t.name for t in lists if not t.grows} >= {"suppliers", "materials", "assumed"}
    cells = {at: n for t in lists for at, n in _below(opened, t.name).items()}
    looks = ["rows_unchecked", "quote_total"]
    found = opened.do(TOTAL, *(["tried", [[at, "X9"]], looks] for at in cells), TOTAL)
    total = opened.total_of(opened.job)
    assert (found[0], found[-1]) == (total, total)
    assert dict(zip(cells, found[1:-1], strict=True)) == {
        at: [n, REFUSED if n else total] for at, n in cells.items()
    }


def test_what_is_typed_below_a_list_is_told_as_it_is_read(opened: Open, tmp_path: Path) -> None:
    """Start says what is wrong; the commands refuse the file at the same cell. Rows put in between
    two lists are looked at as well."""
    front, saved = opened.built.layout.fronts["walls"], tmp_path / "saved.xlsx"
    at = f"{front.sheet}!{front.letters['description']}{front.bottom + 3}"
    told = opened.built.layout.fronts["to_fix"]
    *_, total, says, _ = opened.do(
        ["insert_row", front.sheet, front.bottom + 2],
        ["insert_row", front.sheet, front.bottom + 2],
        ["set", at, "a new wall"],
        TOTAL,
        ["get", f"{told.sheet}!{told.letters['says']}{told.first}"],
        ["save", str(saved)],
    )
    assert total == REFUSED
    assert says.startswith("typed on the end line or below it: ")
    with pytest.raises(JobError, match=rf"{at} .*found 'a new wall'; accepted: rows above the end"):
        read_back(saved)


def test_a_row_put_in_and_filled_with_its_formulas_counts(opened: Open) -> None:
    span = opened.built.layout.typed("openings")
    last = list(span.letters.values())[-1]
    above = f"{span.sheet}!A{span.first}:{last}{span.first}"  # an opening without a place
    steps = [
        ["insert_row", span.sheet, span.first + 2],
        ["copy", above, f"{span.sheet}!A{span.first + 2}"],
    ]
    steps += [["set", opened.at("openings", 3, k), v] for k, v in NEW_OPENING.items()]
    *_, total = opened.do(*steps, TOTAL)
    assert total == opened.total_of(more(opened.job, "openings", NEW_OPENING))


def test_typed_cells_cut_to_another_row_count_there(opened: Open) -> None:
    free = len(opened.job.rows["openings"]) + 1
    *_, total, unchecked, mark = opened.do(
        ["move", opened.typed("openings", 2), opened.at("openings", free, "mark")],
        TOTAL,
        ["get", "rows_unchecked"],
        ["get", opened.at("openings", free, "mark")],
    )
    assert (total, unchecked, mark) == (opened.total_of(opened.job), 0, "O2")


def test_a_copied_row_refuses_until_it_has_its_own_mark(opened: Open) -> None:
    free = len(opened.job.rows["openings"]) + 1
    copied = dict(opened.job.rows["openings"][1], mark="O7")
    *_, doubled, unchecked, _, total = opened.do(
        ["copy", opened.typed("openings", 2), opened.at("openings", free, "mark")],
        TOTAL,
        ["get", "rows_unchecked"],
        ["set", opened.at("openings", free, "mark"), "O7"],
        TOTAL,
    )
    assert (doubled, unchecked) == (REFUSED, 2)
    assert total == opened.total_of(more(opened.job, "openings", copied))


def test_sorting_the_typed_cells_changes_nothing(opened: Open) -> None:
    first, last = opened.typed("openings", 1), opened.typed("openings", 6)
    area = first.split(":")[0] + ":" + last.split(":")[1]
    *_, total, top = opened.do(
        ["sort", area, 0, False], TOTAL, ["get", opened.at("openings", 1, "mark")]
    )
    assert (total, top) == (opened.total_of(opened.job), "O6")


def test_a_deleted_row_is_gone(opened: Open) -> None:
    span = opened.built.layout.typed("openings")
    rows = [r for r in opened.job.rows["openings"] if r["mark"] != "O3"]
    job = replace(opened.job, rows={**opened.job.rows, "openings": rows})
    *_, total = opened.do(["delete_row", span.sheet, span.first + 2], TOTAL)
    assert total == opened.total_of(job)


# One figure of a row that is no figure, in each list that the demo fills.
FAULTS = {
    "zones": "side_a",
    "edges": "length",
    "walls": "length",
    "openings": "width",
    "penetrations": "diameter",
    "abutments": "length",
    "old_walls": "outer_leaf",
    "cut_ins": "length",
    "tie_ins": "height",
    "old_vents": "projection",
    "book": "price",
    "work_lines": "rate",
}


def without(job: Job, table: str, mark: str) -> Job:
    """The job without a row, and without the rows of other lists that name it."""
    key = plan().tables[table].key
    job = replace(job, rows={**job.rows, table: [r for r in job.rows[table] if r[key] != mark]})
    for other in plan().tables.values():
        for item in other.inputs:
            if item.choice_of == f"{table}.{key}" and other.name in job.rows:
                for row in job.rows[other.name]:
                    if row.get(item.name) == mark:
                        job = without(job, other.name, row[other.key])
    return job


@pytest.mark.parametrize("table", FAULTS)
def test_a_fault_stays_in_its_row(opened: Open, table: str) -> None:
    """Every quantity is what it is without the row; the row says what to fix, the total refuses."""
    column, lines = FAULTS[table], opened.built.layout.spans["lines"]
    rows = opened.job.rows[table]
    nets = [f"{lines.sheet}!{lines.letters['net']}{r}" for r in range(lines.first, lines.last + 1)]
    *_, total, fix, state = found = opened.do(
        ["set", opened.at(table, 1, column), "oops"],
        *(["get", at] for at in nets),
        TOTAL,
        ["get", opened.beside(table, "fault")],
        ["get", "quote_state"],
    )
    item = plan().tables[table].column(column)
    assert total == REFUSED
    assert fix.startswith(f"Fix: {item.label}: ")
    assert state.startswith("No total")
    rest = estimate(without(opened.job, table, rows[0][plan().tables[table].key]))
    expected = rest.column("lines", "net")
    for line, shown, net in zip(LINES, found[1:-3], expected, strict=True):
        assert shown == pytest.approx(net, abs=1e-9), line.key


BESIDE: dict[str, tuple[Callable[[Open], Edits], Callable[[Job], Job]]] = {
    "an allowance": (
        lambda o: [[o.at("allowances", 2, "override"), "oops"]],
        lambda j: j,  # it has no override of that one
    ),
    "an allowance beyond its limits": (
        lambda o: [[o.at("allowances", WEEPS_ROW, "own"), "none"]],
        lambda j: replace(j, own={k: v for k, v in j.own.items() if k != "weep_spacing"}),
    ),
    "a wastage": (
        lambda o: [[o.at("materials", 1, "wastage_1"), "some"]],
        lambda j: replace(
            j,
            wastage={
                **j.wastage,
                "Fernbank Supplies (invented)": {
                    k: v
                    for k, v in j.wastage["Fernbank Supplies (invented)"].items()
                    if k != "hardcore"
                },
            },
        ),
    ),
    "a supplier's free delivery": (
        lambda o: [[o.at("suppliers", 1, "free_over"), "never"]],
        lambda j: with_row(j, "suppliers", 1, free_over=None),
    ),
    "an assumed figure": (
        lambda o: [[o.at("assumed", 2, "figure_typed"), "long"]],
        lambda j: j,
    ),
}
TRIED |= {
    f"{n}, as a text": (
        lambda o, edits=edits: (
            edits(o),
            [
                *LOOKS,
                *(
                    f"{s.sheet}!{s.letters[c]}{r}"
                    for s in (o.built.layout.spans["lines"],)
                    for c in ("net",)
                    for r in range(s.first, s.last + 1)
                ),
            ],
        )
    )
    for n, (edits, _) in BESIDE.items()
}


@pytest.mark.parametrize("name", BESIDE)
def test_a_text_beside_a_list_that_comes_with_the_program_counts_as_none(
    opened: Open, shown: dict[str, list[Any]], name: str
) -> None:
    """Every quantity is what it is without that figure, and the total refuses."""
    total, state, *nets = shown[f"{name}, as a text"]
    assert total == REFUSED
    assert state.startswith("No total")
    without_it = estimate(BESIDE[name][1](opened.job))
    assert nets == pytest.approx(without_it.column("lines", "net"), abs=1e-9)


def test_what_is_to_be_fixed_is_listed_first_with_a_link(opened: Open) -> None:
    """Two lists and a cell of Start: each in a line, with how many, and the first in words. After
    them the checks that are short."""
    fronts = opened.built.layout.fronts
    told = [
        f"{fronts['to_fix'].sheet}!{fronts['to_fix'].letters[c]}{fronts['to_fix'].first + n}"
        for n in range(4)
        for c in ("where", "says")
    ]
    leads = opened.built.layout.spans["to_fix"]
    cells = [f"{leads.sheet}!{leads.letters['leads_to']}{leads.first + n}" for n in range(3)]
    found = opened.do(
        ["set", "quote_valid", None],
        ["set", opened.at("openings", 2, "width"), "wide"],
        ["set", opened.at("openings", 3, "width"), "wide"],
        ["set", opened.at("allowances", 2, "override"), "oops"],
        *(["get", at] for at in [*told, *cells]),
    )[4:]
    openings, allowances, checks = (fronts[n] for n in ("openings", "allowances", "checks"))
    valid = "".join(opened.built.layout.typed_cells["quote_valid"][1].split("$"))
    assert found[:8] == [
        "The job, and its questions: 1 to fix",
        "Valid: a text of one line",
        "Allowances: 1 to fix",
        "DPM dressed on to the DPC: Override: a number within the limits of its row",
        "Openings: 2 to fix",
        "O2: Width: a number from 0.05 to 12 m",
        "DPC above finished ground: short, and 1 more",
        f"See Guidance!{checks.letters['label']}{checks.first}",
    ]
    assert found[8:] == [
        f"#Start!{valid}",
        f"#Guidance!{allowances.letters['label']}{allowances.first + 1}",
        f"#Walls!{openings.letters['mark']}{openings.first + 1}",
    ]


def _told(case: Open) -> list[str]:
    """The cells of Start that say how much there is to fix, and where."""
    span = case.built.layout.fronts["to_fix"]
    return [
        f"{span.sheet}!{span.letters['where']}{row}" for row in range(span.first, span.last + 1)
    ]


def test_what_is_told_adds_up_to_what_there_is(opened: Open) -> None:
    """Each list and each count with something to fix, and in the last line how much is left out;
    in all as many as the heading says."""
    wrong = [["set", opened.at(table, 1, column), "oops"] for table, column in FAULTS.items()]
    looks = [["get", at] for at in [*_told(opened), "problem_count"]]
    found = [a for a in opened.do(*wrong[:2], *looks, *wrong[2:], *looks) if a is not None]
    few, many = found[:11], found[11:]
    assert few[:2] == ["Floors: 1 to fix", "Edges of floors: 7 to fix"]
    for *told, in_all in (few, many):
        faults = [words for words in told if words and ": short" not in words]
        counts = [re.search(r"([0-9]+)(?: more)? to fix$", words) for words in faults]
        assert sum(int(count.group(1)) for count in counts if count) == in_all
        assert None not in counts
    assert many[9].endswith(" more to fix"), "twelve lists have faults"
    assert not any(" more to fix" in words for words in few[:10])


def test_a_blank_workbook_tells_all_that_it_counts(tmp_path: Path) -> None:
    blank = made("blank")
    case = Open(blank.job, blank.built, blank.written(tmp_path))
    found = case.do(*(["get", at] for at in [*_told(case)[:3], "problem_count"]))
    assert found == [
        "The job, and its questions: 7 to fix",
        "Nothing to quote for: 1 to fix",
        "Radon or gas: not given",
        8,
    ]


def test_rows_of_a_shipped_list_are_known_by_their_numbers(opened: Open, tmp_path: Path) -> None:
    """Sorted by what they say they are the same rows; one taken out is told, and the total refuses."""
    span, saved = opened.built.layout.fronts["allowances"], tmp_path / "sorted.xlsx"
    letters = list(span.letters.values())
    area = f"{span.sheet}!{letters[0]}{span.first}:{letters[-1]}{span.last}"
    override = opened.at("allowances", 2, "override")
    *_, total = opened.do(["set", override, 200], TOTAL)
    wanted = opened.total_of(replace(opened.job, override={"dpm_dpc_lap": 200}))
    assert total == wanted
    *_, total, _ = opened.do(
        ["set", override, 200], ["sort", area, 1, False], TOTAL, ["save", str(saved)]
    )
    assert total == wanted
    assert read_back(saved).job.override == {"dpm_dpc_lap": 200}
    told = opened.built.layout.spans["to_fix"]
    *_, total, says = opened.do(
        ["delete_row", span.sheet, span.first + 4], TOTAL,
        ["get", f"{told.sheet}!{told.letters['says']}{told.first}"],
    )  # fmt: skip
    assert total == REFUSED
    assert "is gone" in says


def test_wastage_of_a_supplier_that_is_not_named_is_told_in_both(
    opened: Open, tmp_path: Path
) -> None:
    """The demo has three suppliers: beside a figure in the fourth's column the sheet says what the
    file says when it is read. Taken out, the total is what it was."""
    free, saved = opened.at("materials", 1, "wastage_4"), tmp_path / "saved.xlsx"
    asked = "0, or a percentage from 0.5 to 100 %, for a supplier that is named"
    before, _, total, says, _, _, again, count = opened.do(
        ["get", "quote_total"],
        ["set", free, 5],
        TOTAL,
        ["get", opened.beside("materials", FAULT)],
        ["save", str(saved)],
        ["set", free, None],
        TOTAL,
        ["get", "rows_unchecked"],
    )
    assert (before, total, again, count) == (opened.total_of(opened.job), REFUSED, before, 0)
    assert says == f"Fix: Wastage, supplier 4: {asked}"
    with pytest.raises(JobError, match=rf"Wastage, supplier 4\): found 5.0; accepted: {asked}"):
        read_back(saved)


REFUSALS: dict[str, Callable[[Open], Edits]] = {
    "a mark used twice": lambda o: [[o.at("walls", 2, "mark"), "W1"]],
    "a wall that is not there": lambda o: [[o.at("openings", 1, "wall"), "W9"]],
    "millimetres for metres": lambda o: [[o.at("openings", 1, "width"), 1810]],
    "a text for a number": lambda o: [[o.at("openings", 1, "width"), "wide"]],
    "a length left out": lambda o: [[o.at("walls", 1, "length"), None]],
    "a row without a mark": lambda o: [[o.at("walls", 8, "length"), 3]],
    "edges that fall short": lambda o: [[o.at("edges", 3, "length"), 5.5]],
    "a closed run that does not close": lambda o: [[o.at("walls", 1, "run"), "closed"]],
    "nothing stocked is wide enough": lambda o: [[o.at("walls", 1, "outer_leaf"), 300]],
    "a basis that is not there": lambda o: [["basis_choice", "my_own"]],
    "a text typed over a price": lambda o: [[o.at("quote_lines", 1, "amount"), "free"]],
    "a pitch left out": lambda o: [[o.at("abutments", 2, "pitch"), None]],
    "an inner leaf left out": lambda o: [[o.at("walls", 1, "inner_leaf"), 0]],
    "a joint listed from one side": lambda o: [[o.at("edges", 7, "kind"), "free"]],
    "a joint without its zone": lambda o: [
        [o.at("edges", 1, "joins"), None],
        [o.at("edges", 7, "joins"), None],
    ],
    "a line of the quote typed over": lambda o: [[o.at("quote_lines", 1, "amount"), 1]],
    "the wrong rate for its VAT status": lambda o: [["vat_percent", 5]],
    "a margin that no price has": lambda o: [
        ["profit_rule", "margin on price"],
        ["profit_percent", 100],
    ],
    "hours without a rate": lambda o: [[o.at("work_lines", 1, "rate"), None]],
    "labour that follows nothing": lambda o: [[o.at("work_lines", 2, "wired_to"), None]],
    "a nation that is not there": lambda o: [["site_nation", "Albion"]],
    "an allowance out of its range": lambda o: [[o.at("allowances", WEEPS_ROW, "override"), 100]],
}


TRIED |= {n: (lambda o, edits=edits: (edits(o), LOOKS)) for n, edits in REFUSALS.items()}


@pytest.mark.parametrize("name", REFUSALS)
def test_what_cannot_be_used_refuses_the_total(shown: dict[str, list[Any]], name: str) -> None:
    total, said = shown[name]
    assert isinstance(total, str)
    assert total.startswith("#"), total
    assert said.startswith(("No total", "#")), said
    if name not in ("a basis that is not there", "a text typed over a price"):
        assert said.startswith("No total"), "a refusal says so"


def test_saved_by_libreoffice_it_still_shows_the_total(opened: Open, tmp_path: Path) -> None:
    saved = tmp_path / "saved.xlsx"
    opened.do(["set", "profit_percent", 25], ["save", str(saved)])
    job = replace(opened.job, particulars={**opened.job.particulars, "profit_percent": 25})
    sheet, address = opened.built.layout.cells["quote_total"]
    assert figures(saved)[sheet][address.replace("$", "")] == opened.total_of(job)


# ---- the one-page form ---------------------------------------------------------------------


@pytest.fixture(scope="module")
def form_opened(tmp_path_factory: pytest.TempPathFactory) -> Open:
    job = formed()
    built = build(estimate(job, USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
    path = tmp_path_factory.mktemp("form") / "job.xlsx"
    built.save(path)
    return Open(job, built, path)


def test_rows_that_the_form_does_not_fill_show_nothing(form_opened: Open, tmp_path: Path) -> None:
    """A form without a return: its rows have no mark, and no figure beside it. What is saved by
    LibreOffice is read as a form that nobody typed over."""
    layout, ledger = form_opened.built.layout, estimate(form_opened.job, USUAL_ROOM)
    lists = [table for table in plan().tables.values() if table.rows_offered]
    cells = [
        form_opened.at(table.name, n + 1, item.name)
        for table in lists
        for n in range(table.rows_offered)
        if ledger.column(table.name, OFFERED + table.key)[n] == ""
        for item in table.inputs
    ]
    edges = layout.fronts["edges"]
    assert f"{edges.sheet}!{edges.letters['zone']}{edges.first + 5}" in cells
    saved = tmp_path / "saved.xlsx"
    *found, _ = form_opened.do(*(["get", at] for at in cells), ["save", str(saved)])
    assert {at: shown for at, shown in zip(cells, found, strict=True) if shown != ""} == {}
    back = read_back(saved)
    assert back.notes == []
    assert not any(any(back.laid.rows[table.name]) for table in lists)


FORM_EDITS: list[tuple[str, Any]] = [
    ("extension_width", 5),
    ("extension_projection", 4),
    ("extension_wall", "brick 102.5, cavity 150, block 100"),
    ("extension_floor", "screed 65, insulation 150, slab 150, on DPM"),
    ("extension_formation", -0.75),
    ("extension_old_wall", "cavity, filled"),
    ("extension_old_dpc", -0.05),
    ("extension_roof", "flat"),
    ("extension_eaves", 2.6),
    ("extension_doors", 0),
    ("extension_windows", 5),
    ("extension_old_vents", 0),
    ("extension_return", 2.5),  # half an answer: no total
    ("extension_return_width", 1.5),
    ("extension_doors", 1),
    ("extension_old_dpc", None),
]


def test_every_answer_moves_the_sheet_as_it_moves_python(form_opened: Open) -> None:
    """Answers changed one after another: every line of the quantities, and the total."""
    lines = form_opened.built.layout.spans["lines"]
    area = f"{lines.sheet}!{lines.letters['net']}"
    steps: list[list[Any]] = []
    for name, value in FORM_EDITS:
        steps.append(["set", name, value])
        steps += [["get", f"{area}{r}"] for r in range(lines.first, lines.last + 1)]
        steps.append(TOTAL)
    answers = iter(form_opened.do(*steps))
    job = form_opened.job
    for name, value in FORM_EDITS:
        job = replace(job, particulars={**job.particulars, name: value})
        ledger = estimate(job)
        next(answers)
        shown = [next(answers) for _ in LINES]
        assert shown == pytest.approx(ledger.column("lines", "net"), abs=1e-9), name
        total, wanted = next(answers), ledger.cell("quote_total")
        assert total == (wanted if is_available(wanted) else REFUSED), name


def test_what_is_typed_keeps_and_says_so(form_opened: Open) -> None:
    """The slab typed over stays 100 when the answer changes to one of 150; cleared, it follows."""
    slab = form_opened.at("zones", 1, "slab")
    used = form_opened.at("zones", 1, "used_slab")
    by = form_opened.at("zones", 1, "filled_by")
    another = "screed 65, insulation 100, slab 100, on DPM"
    found = form_opened.do(
        ["get", used], ["set", slab, 120], ["get", used], ["set", "extension_floor", another],
        ["get", used], ["get", by], ["set", slab, None], ["get", used], TOTAL,
    )  # fmt: skip
    assert [found[n] for n in (0, 2, 4, 7)] == [150, 120, 120, 100]
    assert found[5] == "form, unless typed"
    job = form_opened.job
    job = replace(job, particulars={**job.particulars, "extension_floor": another})
    assert found[8] == estimate(job).cell("quote_total")


def test_a_plan_typed_over_the_form_is_the_one_in_use(form_opened: Open) -> None:
    """Sides A and B typed: no total until the run is typed too, in full; then as by hand.

    A floor of 4.2 × 3 with its front 4.2, and a run of 4.2 + 2 × 3 = 10.2 m. Cleared, all is as before.
    """
    zone = {"side_a": 4.2, "side_b": 3}
    edges: list[dict[str, Any]] = [{"length": 4.2}, {"length": 1.8}]
    run = {"run": "open", "length": 10.2, "measured_on": "inside face", "external_corners": 2,
           "internal_corners": 0, "ends_at_existing": 2}  # fmt: skip
    typed = [("zones", 1, zone), ("edges", 1, edges[0]), ("edges", 2, edges[1])]
    over = [[form_opened.at(t, n, c), v] for t, n, row in typed for c, v in row.items()]
    whole = [[form_opened.at("walls", 1, c), v] for c, v in run.items()]
    length, net = (
        form_opened.at("walls", 1, "length_in_use"),
        form_opened.at("zones", 1, "net_area"),
    )
    found = form_opened.do(
        TOTAL, *(["set", *cell] for cell in over), TOTAL, *(["set", *cell] for cell in whole[:2]),
        TOTAL, *(["set", *cell] for cell in whole[2:]), TOTAL, ["get", length], ["get", net],
        *(["set", cell[0], None] for cell in (*over, *whole)), TOTAL, ["get", length],
    )  # fmt: skip
    seen = [f for f in found if f is not None]
    job = form_opened.job
    by_hand = replace(job, rows={**job.rows, "zones": [zone], "edges": edges, "walls": [run]})
    first = estimate(job).cell("quote_total")
    assert seen == [
        first, REFUSED, REFUSED, estimate(by_hand).cell("quote_total"), pytest.approx(10.2),
        pytest.approx(12.6), first, pytest.approx(10),
    ]  # fmt: skip


def test_a_blank_answer_refuses_in_the_sheet(form_opened: Open) -> None:
    found = form_opened.do(["set", "extension_eaves", None], TOTAL, ["get", "rows_unchecked"])
    assert found[1:] == [REFUSED, 1]


def test_rows_of_the_form_out_of_their_order_refuse(form_opened: Open, tmp_path: Path) -> None:
    """What was typed over one row would else be read as typed over the other."""
    first, second = form_opened.typed("openings", 1), form_opened.typed("openings", 2)
    area, saved = first.split(":")[0] + ":" + second.split(":")[1], tmp_path / "sorted.xlsx"
    *_, total, _ = form_opened.do(
        ["set", form_opened.at("openings", 1, "lintel"), 7.5],
        ["sort", area, 0, False], TOTAL, ["save", str(saved)],
    )  # fmt: skip
    assert total == REFUSED
    where = form_opened.at("openings", 1, "mark")
    with pytest.raises(EstimateError, match=f"{where} .*in their order"):
        read_back(saved)


# Beside what is typed stand results that are only shown: typed over, they change nothing. What
# they show is worked out where nobody comes by a slip: on hidden sheets, which are locked.
OVERTYPED = [
    (name, column)
    for front in FRONTS
    for name in front.lists
    for column in columns(front, plan().tables[name])
    if column not in (None, POSITION)  # by its number a row is known: see below
    if not plan().tables[name].has(column)
    or not isinstance(plan().tables[name].column(column), Input)
]


TRIED |= {
    f"{t}, {c}, typed over": (lambda o, t=t, c=c: ([[o.beside(t, c), 987]], LOOKS))
    for t, c in OVERTYPED
}


@pytest.mark.parametrize(("table", "column"), OVERTYPED)
def test_a_result_beside_what_is_typed_is_only_shown(
    opened: Open, shown: dict[str, list[Any]], table: str, column: str
) -> None:
    after, _ = shown[f"{table}, {column}, typed over"]
    assert after == opened.total_of(opened.job)


def test_what_is_worked_out_is_out_of_reach(opened: Open) -> None:
    book = load_workbook(opened.path)
    sheets = {span.sheet for span in opened.built.layout.spans.values()} | {"e_cells"}
    assert all(sheet.startswith("e_") for sheet in sheets)
    for name in sheets:
        assert (book[name].sheet_state, book[name].protection.sheet) == ("hidden", True), name
        assert all(cell.protection.locked for line in book[name].iter_rows() for cell in line), name


# ---- a floor that is walked ----


def test_a_side_of_a_walk_typed_over_moves_the_total_as_in_python(tmp_path: Path) -> None:
    """Both long sides of the L 10 m longer: 20 m² more. One of them alone: it does not close."""
    case = made("walked")
    walked = Open(case.job, case.built, case.written(tmp_path))
    rows = [e["number"] if e["zone"] == "Z1" else None for e in case.job.rows["edges"]]
    job, edits = case.job, []
    for number, longer in ((10, 12), (4, 11.4)):
        row = rows.index(number) + 1
        job = with_row(job, "edges", row, length=longer)
        edits.append([walked.at("edges", row, "length"), longer])
    notes = [*LOOKS, walked.beside("zones", FAULT), walked.beside("walls", FAULT)]
    steps = (["tried", edits, notes], ["tried", edits[:1], notes], TOTAL)
    (longer, _, *said), (short, _, *told), after = walked.do(*steps)
    assert longer == walked.total_of(job) != case.total
    assert said == ["", ""]
    assert short == REFUSED
    assert told[0] == "an end away from the start"
    assert after == case.total


# ---- openings with a place ----


def test_a_place_typed_over_is_said_to_fit_or_not(tmp_path: Path) -> None:
    """O3 lies 0.19 to 1.1 m along the run, O4 from 1.0, and the run's first corner is at 2 m."""
    case = made("walked")
    walked = Open(case.job, case.built, case.written(tmp_path))
    jamb, side = (walked.at("openings", 3, name) for name in ("first_jamb", "side"))
    front = case.built.layout.fronts["openings"]
    notes = [*LOOKS, f"{front.sheet}!{front.letters[FAULT]}{front.first + 2}"]
    cases: list[tuple[list[list[Any]], Any, str]] = [
        ([[jamb, 0.05]], case.total, ""),
        ([[jamb, 1.5]], REFUSED, "it goes across a corner"),
        ([[jamb, 10.3]], REFUSED, "it ends past the end of its run"),
        ([[jamb, 0.1], [side, "Z1-4"]], case.total, ""),
        ([[side, "Z1-1"]], REFUSED, "its run does not follow that side"),
        ([[jamb, ""], [side, "Z1-2"]], REFUSED, "a side is named, and no first jamb"),
    ]
    (before, *answers) = walked.do(TOTAL, *(["tried", edits, notes] for edits, _, _ in cases))
    assert before == case.total
    assert [(total, said) for total, _, said in answers] == [c[1:] for c in cases]
