"""What Start leads to: products without a price, questions left blank, figures not given; and the
order in which its cells are typed. The jobs are invented, each with one thing left out.
"""

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils import column_index_from_string

from estimator.checks import CHECKS, concerns
from estimator.files.resources import JOB_TEMPLATE
from estimator.model.estimate import BLANK_ROOM, estimate
from estimator.model.faults import MOST_PRODUCTS, MOST_TOLD
from estimator.model.job import Job
from estimator.workbook.build import Built, build

from .hosts import drive
from .made import job_named, made
from .test_starter import lean_to, priced


def answered(job: Job, **answers: Any) -> Job:
    """The job with other answers on Start."""
    return replace(job, particulars={**job.particulars, **answers})


def laid_out(job: Job) -> Built:
    return build(estimate(job, BLANK_ROOM), JOB_TEMPLATE, BLANK_ROOM)


def told(built: Built) -> list[tuple[str, str, str]]:
    """Each line of what to do next: what is told, what is to be done, and where its link leads."""
    front, behind = built.layout.fronts["to_fix"], built.layout.spans["to_fix"]
    lines = []
    for n in range(MOST_TOLD):
        where, says = (
            built.results[front.sheet][front.first + n, column_index_from_string(front.letters[c])]
            for c in ("where", "says")
        )
        leads_to = built.results[behind.sheet][
            behind.first + n, column_index_from_string(behind.letters["leads_to"])
        ]
        lines.append((where, says, leads_to))
    return [line for line in lines if line[0]]


def at(built: Built, table: str, column: str, n: int) -> str:
    """The cell of a list in row n, from 1, as a link names it."""
    span = built.layout.fronts[table]
    return f"{span.sheet}!{span.letters[column]}{span.first + n - 1}"


def cell(built: Built, name: str) -> str:
    sheet, address = built.layout.typed_cells[name]
    return f"{sheet}!{address.replace('$', '')}"


def as_calc_tells(built: Built, path: Path, *edits: list[Any]) -> list[tuple[str, str, str]]:
    """The same lines as LibreOffice works them out, after those edits."""
    built.save(path)
    front, behind = built.layout.fronts["to_fix"], built.layout.spans["to_fix"]
    looks = [
        ["get", f"{span.sheet}!{span.letters[column]}{span.first + n}"]
        for n in range(MOST_TOLD)
        for span, column in ((front, "where"), (front, "says"), (behind, "leads_to"))
    ]
    found = drive(path, [*edits, *looks])[len(edits) :]
    lines = [(found[n], found[n + 1], found[n + 2]) for n in range(0, len(found), 3)]
    return [line for line in lines if line[0]]


# ---- products without a price ----


def test_the_first_products_without_a_price_are_named() -> None:
    """Seventeen lack one: five by name, each with its cell; then twelve more; then the delivery."""
    job = lean_to()
    built = laid_out(job)
    lines = told(built)
    ledger = estimate(job)
    notes, codes = ledger.column("book", "book_note"), ledger.column("book", "code")
    lacking = [n for n, note in enumerate(notes, 1) if note == "price missing"]
    assert len(lacking) == 17
    for (where, says, leads_to), n in zip(lines, lacking[:MOST_PRODUCTS], strict=False):
        assert where.startswith(f"{codes[n - 1]} ")
        assert where.endswith(": no price")
        assert says == "Type its price."
        assert leads_to == f"#{at(built, 'book', 'price', n)}"
    assert lines[MOST_PRODUCTS][0] == "More products without a price: 12 to fix"
    assert lines[MOST_PRODUCTS][2] == f"#{at(built, 'book', 'price', lacking[MOST_PRODUCTS])}"
    assert lines[MOST_PRODUCTS + 1] == (
        "Suppliers without a delivery charge: 1 to fix",
        "Type the delivery charge, 0 for none.",
        f"#{at(built, 'suppliers', 'delivery', 1)}",
    )


@pytest.mark.host
def test_a_price_that_is_typed_makes_room_for_the_next(tmp_path: Path) -> None:
    built = laid_out(lean_to())
    before = told(built)
    path = tmp_path / "job.xlsx"
    assert as_calc_tells(built, path) == before
    first = before[0][2].removeprefix("#")
    after = as_calc_tells(built, path, ["set", first, 10.0])
    assert [line[2] for line in after[: MOST_PRODUCTS - 1]] == [
        line[2] for line in before[1:MOST_PRODUCTS]
    ]
    assert after[MOST_PRODUCTS - 1][2] == before[MOST_PRODUCTS][2]
    assert after[MOST_PRODUCTS][0] == "More products without a price: 11 to fix"


# ---- figures not given ----


def test_a_figure_not_given_leads_to_its_cell() -> None:
    """Nothing is to fix, and the total is there: three figures are named, each with its cell."""
    job = priced(lean_to())
    built = laid_out(job)
    ledger = estimate(job)
    assert ledger.cell("problem_count") == 0
    keys = ledger.column("assumed", "key")
    bearing, closer = (keys.index(key) + 1 for key in ("assumed_bearing", "assumed_closer"))
    assert [(where, leads_to) for where, _, leads_to in told(built)] == [
        ("Clear cavity below DPC: not given", f"#{at(built, 'walls', 'cavity_below', 1)}"),
        (
            "Bearing of lintels, each end: not given",
            f"#{at(built, 'assumed', 'figure_typed', bearing)}",
        ),
        (
            "Closers: how far along the wall beside a jamb: not given",
            f"#{at(built, 'assumed', 'figure_typed', closer)}",
        ),
    ]
    assert all(leads_to.removeprefix("#") in says for _, says, leads_to in told(built))
    assert ledger.cell("checks_say") == "Figures are not given: listed below."
    assert ledger.cell("start_lists") == "Figures are not given: Start lists them."


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("extension_new_dpc", "DPC of the new walls, level"),
        ("extension_old_dpc", "DPC of the house, level"),
        ("radon_area", "Radon or gas"),
    ],
)
def test_an_answer_not_given_leads_to_start(name: str, label: str) -> None:
    blank = "unknown" if name == "radon_area" else None
    built = laid_out(answered(priced(lean_to()), **{name: blank}))
    lines = {where: leads_to for where, _, leads_to in told(built)}
    assert lines[f"{label}: not given"] == f"#{cell(built, name)}"


@pytest.mark.host
def test_a_figure_that_is_typed_is_no_longer_listed(tmp_path: Path) -> None:
    built = laid_out(priced(lean_to()))
    before, path = told(built), tmp_path / "job.xlsx"
    assert as_calc_tells(built, path) == before
    depth = at(built, "walls", "cavity_below", 1)
    assert as_calc_tells(built, path, ["set", depth, 225.0]) == before[1:]


def test_each_check_that_can_lack_a_figure_says_where_it_is_typed() -> None:
    """All whose figure may be blank, but for one whose figure is that of another check."""
    can = {c.key for c in CHECKS if c.blank is not concerns.none_blank}
    assert {c.key for c in CHECKS if c.typed} == can - {"old_dpc_level"}


def test_a_parapet_without_a_height_leads_to_its_own_row() -> None:
    """The second of two parapets lacks its height: the link leads there, not to the first."""
    job = made("demo").job
    wall = job.rows["walls"][0]["mark"]
    of = {"wall": wall, "length": 3.0, "corners": 0, "ends": 2}
    rows = [{**of, "mark": "Q1", "tray_height": 150}, {**of, "mark": "Q2", "tray_height": None}]
    built = laid_out(replace(job, rows={**job.rows, "parapets": rows}))
    (line,) = (line for line in told(built) if line[0] == "Tray above roof: not given")
    assert line[2] == f"#{at(built, 'parapets', 'tray_height', 2)}"


# ---- checks that are short ----


def test_a_check_that_is_short_leads_to_its_row() -> None:
    """The demo's first wall has its DPC 130 mm above the ground, and 150 are asked."""
    built = laid_out(made("demo").job)
    (line,) = told(built)
    assert line == (
        "DPC above finished ground: short",
        f"See {at(built, 'checks', 'label', 1)}",
        f"#{at(built, 'checks', 'label', 1)}",
    )


def test_checks_that_are_short_are_counted() -> None:
    """Tape and membrane: two checks of details fall short, the first is named."""
    job = made("demo").job
    built = laid_out(replace(job, override={**job.override, "dpm_lap": 100}))
    ledger = estimate(replace(job, override={**job.override, "dpm_lap": 100}))
    short = ledger.column("checks", "state").count("short")
    assert short == 2
    assert told(built)[0][0] == "DPC above finished ground: short, and 1 more"


# ---- more than there are lines for ----


def test_the_last_line_says_how_many_checks_more_there_are() -> None:
    """Seven lines of prices and delivery, then five checks: the last three share a line."""
    built = laid_out(answered(lean_to(), radon_area="unknown", extension_old_dpc=None))
    lines = told(built)
    assert len(lines) == MOST_TOLD
    assert sum(where.endswith(": not given") for where, _, _ in lines) == 2
    closer = estimate(lean_to()).column("assumed", "key").index("assumed_closer") + 1
    assert lines[-1] == (
        "3 more checks short or not given",
        "",
        f"#{at(built, 'assumed', 'figure_typed', closer)}",
    )


def test_the_last_line_tells_of_faults_before_checks() -> None:
    """Without a floor nine lines hold faults, and two faults more: the five checks are said beside."""
    without = {"radon_area": "unknown", "extension_old_dpc": None, "extension_new_dpc": None}
    built = laid_out(answered(lean_to(), **without, extension_floor=None))
    where, says, leads_to = told(built)[-1]
    assert (where, says) == ("2 more to fix", "5 more checks short or not given")
    sheet, address = next((s, a) for n, s, a in built.layout.again if n == "rows_unchecked")
    assert leads_to == f"#{sheet}!{address.replace('$', '')}"


@pytest.mark.host
def test_calc_tells_the_last_line_too(tmp_path: Path) -> None:
    """Checks alone in the last line. Then a leaf is wrong, and with it what rests on its wall."""
    built = laid_out(answered(lean_to(), radon_area="unknown", extension_old_dpc=None))
    path = tmp_path / "job.xlsx"
    assert as_calc_tells(built, path) == told(built)
    wrong = as_calc_tells(built, path, ["set", at(built, "walls", "outer_leaf", 1), -5.0])
    assert wrong[0][0].startswith("Wall runs: 1")
    # 14 to fix: five rows of four lists, five products by name, and four more.
    assert wrong[-1][0] == "4 more to fix"


# ---- the row that stays in sight ----


@pytest.mark.host
def test_what_other_sheets_say_is_a_link_to_start(tmp_path: Path) -> None:
    """Words and link as Calc has them: to fix, then checks, then nothing to be told."""
    path = tmp_path / "job.xlsx"
    for job, words in (
        (lean_to(), "Start lists what to fix."),
        (priced(lean_to()), "Figures are not given: Start lists them."),
        (made("demo").job, "Checks are short: Start lists them."),
    ):
        built = laid_out(job)
        built.save(path)
        sheets = [s for name, s, _ in built.layout.again if name == "start_lists"]
        # Quote and Site are the template's, and show how much is to be fixed.
        assert sheets == [
            *("Floors", "Walls", "House", "Prices", "Labour", "Guidance", "Quantities")
        ]
        assert drive(path, [["get", f"{sheet}!F3"] for sheet in sheets]) == [words] * 7
        formula = load_workbook(path)["Prices"]["F3"].value
        assert "HYPERLINK(" in formula


# ---- questions left blank ----


def test_the_first_question_left_blank_is_named() -> None:
    """Without a floor there is no total: Start says which answer is wanting, and leads to it."""
    built = laid_out(answered(lean_to(), extension_floor=None))
    (line,) = (line for line in told(built) if line[0].startswith("Questions"))
    assert line[1:] == ("Answer: Floor build-up", f"#{cell(built, 'extension_floor')}")


def test_answers_that_are_not_in_use_lead_to_what_is_missing_first() -> None:
    built = laid_out(answered(lean_to(), extension_projection=None))
    (line,) = (line for line in told(built) if line[0].startswith("Questions"))
    assert line[1:] == ("Answer: Clear projection", f"#{cell(built, 'extension_projection')}")


@pytest.mark.parametrize(("answer", "shown"), [(-0.55, -0.55), (None, -0.535)])
def test_a_formation_is_shown_where_it_may_be_typed_over(
    answer: float | None, shown: float
) -> None:
    """65 + 120 + 150 of floor, a bed of 50 and 150 of hardcore: 535 below the finished floor."""
    built = laid_out(answered(lean_to(), extension_formation=answer))
    span = built.layout.fronts["zones"]
    column = column_index_from_string(span.letters["formation_level"])
    assert built.results[span.sheet][span.first, column] == pytest.approx(shown)


# ---- Start as it is typed and read ----


@pytest.fixture(scope="module")
def template() -> Workbook:
    return load_workbook(JOB_TEMPLATE)


def rows_of(template: Workbook) -> dict[str, int]:
    """The rows of the places of Start."""
    cells = (c for row in template["Start"].iter_rows() for c in row)
    return {c.value.strip("{}"): c.row for c in cells if re.fullmatch(r"\{\w+\}", str(c.value))}


def test_dimensions_come_before_terms(template: Workbook) -> None:
    row = rows_of(template)
    first = ("extension_width", "extension_formation", "extension_old_vents", "basis_choice",
             "radon_area", "profit_percent", "job_title", "payment_terms", "cost_total")  # fmt: skip
    assert [row[name] for name in first] == sorted(row[name] for name in first)
    typed = [n for n in row if n in made("blank").built.layout.typed_cells]
    assert min(typed, key=lambda n: row[n]) == "extension_width"
    (selected,) = (s for s in template["Start"].sheet_view.selection if s.pane == "bottomLeft")
    assert selected.activeCell == f"B{row['extension_width']}"


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("extension_formation", ("leave it blank", "assumed", "Confirm it on site")),
        ("supplier_choice", ("named on Prices", "first", "Blank")),
        ("extension_floor", ("Hardcore comes below it", "X1 on Floors")),
    ],
)
def test_what_a_blank_means_is_said_beside_the_cell(
    template: Workbook, name: str, words: tuple[str, ...]
) -> None:
    said = str(template["Start"].cell(rows_of(template)[name], 4).value)
    assert all(word in said for word in words), said


def test_what_is_said_beside_a_cell_is_printed_whole(template: Workbook) -> None:
    """Columns D to F are 82 characters of 10 points wide; what stands there is set in 8."""
    sheet = template["Start"]
    wide = sum(sheet.column_dimensions[c].width for c in "DEF") * 10 / 8 * 1.15
    for (row,) in sheet.iter_rows(min_col=4, max_col=4):
        if isinstance(row.value, str) and row.font.sz == 8:
            assert len(row.value) <= wide, row.coordinate


@pytest.mark.host
def test_what_is_none_is_blank(tmp_path: Path) -> None:
    """Counts of Start and rows of Quantities that this job has none of show nothing, others their
    figure."""
    job = priced(lean_to())
    built, ledger = laid_out(job), estimate(job)
    path = tmp_path / "job.xlsx"
    built.save(path)
    counts = {n: a for n, sheet, a in built.layout.again if sheet == "Start"}
    nets = ledger.column("totals", "net")
    hidden = ["words", f"Start!{counts['prices_missing'].replace('$', '')}"]
    shown = ["words", f"Start!{counts['checks_not_given'].replace('$', '')}"]
    rows = [["words", at(built, "totals", "net", n)] for n in range(1, len(nets) + 1)]
    found = drive(path, [hidden, shown, *rows])
    assert found[:2] == ["", "3"]
    assert [words == "" for words in found[2:]] == [net == 0 for net in nets]
    assert 10 < found[2:].count("") < len(nets)


# A line of work follows it by this name, in files that people have.
KEPT = "Layers of hardcore to compact, over all zones"


@pytest.mark.parametrize("name", ["demo", "blank"])
def test_words_of_ours_are_not_shown(name: str) -> None:
    """What tripped a reader, on no sheet that is seen, nor in what its cells say of themselves."""
    words = re.compile(r"\b(basis|bases|marks?|zones?|binds|mend|mended)\b", re.IGNORECASE)
    seen = load_workbook(BytesIO(made(name).data), data_only=True)
    found = [
        (sheet.title, c.coordinate, c.value)
        for sheet in seen
        if sheet.sheet_state == "visible"
        for row in sheet.iter_rows()
        for c in row
        if isinstance(c.value, str) and c.value != KEPT and words.search(c.value)
    ]
    found += [
        (sheet.title, str(asked.sqref), words_said)
        for sheet in seen
        if sheet.sheet_state == "visible"
        for asked in sheet.data_validations.dataValidation
        for words_said in (asked.prompt, asked.error)
        if words_said and words.search(words_said)
    ]
    assert found == []


def test_a_floor_without_a_figure_is_laid_out_without_a_product_named() -> None:
    """A threshold whose turn-up is not typed: how much sheet is bought, and so what has no price,
    cannot be said. Start says what is missing instead."""
    job, room = job_named("demo")
    edges = [
        {**e, "typed_turn_up": None} if e["kind"] == "threshold" else e for e in job.rows["edges"]
    ]
    ledger = estimate(replace(job, rows={**job.rows, "edges": edges}), room)
    found = told(build(ledger, JOB_TEMPLATE, room))
    assert not [line for line in found if "no price" in line[0]]
    assert [line for line in found if "urn-up" in f"{line[0]} {line[1]}"]


@pytest.mark.host
def test_calc_counts_short_checks_beside_one_without_a_state(tmp_path: Path) -> None:
    """The same threshold: its check has no state, and those that are short are counted all the same.
    The sheet listed none of them."""
    job, room = job_named("demo")
    edges = [
        {**e, "typed_turn_up": None} if e["kind"] == "threshold" else e for e in job.rows["edges"]
    ]
    built = build(
        estimate(replace(job, rows={**job.rows, "edges": edges}), room), JOB_TEMPLATE, room
    )
    found = as_calc_tells(built, tmp_path / "job.xlsx")
    assert "DPC above finished ground: short" in [where for where, _, _ in found]
    assert found == told(built)


@pytest.mark.host
def test_an_error_in_a_description_is_to_be_fixed(tmp_path: Path) -> None:
    """A formula of a person's own that fails, where a text is typed: it was read as a question mark,
    and the file could not be read back."""
    case = made("form")
    cell = at(case.built, "work_lines", "description", 2)
    steps = [["type", cell, "=1/0"], ["get", "quote_total"], ["get", "problem_count"]]
    total, problems = (a for a in drive(case.written(tmp_path), steps) if a is not None)
    assert (total, problems) == ("#N/A", 1)
