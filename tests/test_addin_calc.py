"""The functions in LibreOffice Calc: what its cells show is what Python gives, or a true error."""

import io
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from estimator import __version__
from estimator.functions import FUNCTIONS, Function, Refusal, call_from_cell, why
from estimator.functions.page import CANARY
from estimator.hosts.calc.carried import CORE
from estimator.hosts.calc.extension import packed, parts
from estimator.hosts.calc.sample import EVERY, IN_USE, sample
from estimator.hosts.excel.workbook import excel_workbook
from estimator.language import NOT_AVAILABLE
from estimator.model.estimate import estimate
from estimator.workbook.layout import Layout

from .addin_host import (
    Calc,
    _letters,
    as_user,
    calc,
    fresh_home,
    give,
    install,
    own_extension,
    own_menu,
)
from .conftest import LONG
from .functions_in_jobs import ALONE, calls
from .hosts import need_uno
from .made import made

ROOT = Path(__file__).parent.parent
ALL = list(FUNCTIONS.values())
WRONG, UNSTATED, DIVISION, MISCOUNTED, UNKNOWN = 519, 32767, 532, 504, 525
JOBS = 4 if LONG else 1
DIRECTION = 'DAMP_DPM_STRIP_DIRECTION(4.13;5.73;4000;25;"whole strips";"nhbc_2024")'

pytestmark = pytest.mark.host


@pytest.fixture(scope="module")
def office() -> Iterator[Calc]:
    with calc() as running:
        yield running


@pytest.fixture
def book(office: Calc) -> Iterator[Calc]:
    office.do(["open", ""])
    yield office
    office.do(["close"])


def shows(found: Any, wanted: Any) -> bool:
    """Whether a cell shows what Python gives: a figure, a text, or the error that stands for it."""
    if isinstance(wanted, Refusal):
        return bool(found == ["error", UNSTATED if wanted.unstated else WRONG])
    if isinstance(wanted, str) or not isinstance(found, int | float):
        return bool(found == wanted)
    return abs(found - wanted) <= 1e-9 * max(1.0, abs(wanted))


def typed(value: Any) -> str:
    return '"' + value + '"' if isinstance(value, str) else repr(value)


def formula(function: Function, arguments: list[str], name: str = "") -> str:
    return f"={name or function.name}({';'.join(arguments)})"


def explained(function: Function, arguments: list[str]) -> str:
    return formula(function, [f'"{function.name}"', *arguments], "DAMP_WHY")


# ---- one cell at a time ----------------------------------------------------------------------

# What stands in a cell, and what Calc hands over for it: a blank is 0, an error never arrives.
IN_A_CELL = ((None, 0.0), ("abc", "abc"), ("12", "12"), (-1000001, -1000001.0), (0, 0.0))


def test_every_function_in_a_cell(book: Calc) -> None:
    """Its example typed and from cells; each argument wrong in each way; too few, too many."""
    rows: list[list[Any]] = []
    wanted: list[list[Any]] = []
    for function in ALL:
        given = list(function.example.given)
        literal = [typed(v) for v in given]

        def add(content: list[Any], arguments: list[str], found: Any, said: Any = "",
                f: Function = function) -> None:  # fmt: skip
            rows.append([*content, *[None] * (8 - len(content)),
                         formula(f, arguments), explained(f, arguments)])  # fmt: skip
            wanted.append([found, said])

        cells = [f"{_letters(n)}%d" for n in range(1, len(given) + 1)]
        at = [c % (len(rows) + 1) for c in cells]
        add(given, at, call_from_cell(function, *given))
        add([], literal, function.example.gives)
        for place in range(len(given)):
            for content, handed in IN_A_CELL:
                values = [*given[:place], handed, *given[place + 1 :]]
                found, said = call_from_cell(function, *values), why(function, *values)
                at = [c % (len(rows) + 1) for c in cells]
                add([*given[:place], content, *given[place + 1 :]], at, found, said)
            at = [c % (len(rows) + 1) for c in cells]
            error = ["error", DIVISION]
            add([*given[:place], "=1/0", *given[place + 1 :]], at, error, error)
        short = [*given[:-1], None]
        add([], literal[:-1], ["error", MISCOUNTED], why(function, *short))
        add([], [*literal, "1"], ["error", MISCOUNTED], why(function, *given, 1.0))
    found = [row[8:10] for row in book.evaluate("cells", rows)]
    wrong = [
        (row[8], f, w)
        for row, f, w in zip(rows, found, wanted, strict=True)
        if not (shows(f[0], w[0]) and shows(f[1] or "", w[1]))
    ]
    assert wrong[:3] == []
    assert len(found) > 1000


def test_results_go_on_into_other_formulas(book: Calc) -> None:
    cells = [
        ("=DAMP_TRAY_STOP_END_COUNT(3)*2", 12),
        ("=IF(DAMP_TRAY_STOP_END_COUNT(3)=6;1;0)", 1),
        ("=SUM(DAMP_TRAY_STOP_END_COUNT(3);1)", 7),
        ("=DAMP_TRAY_STOP_END_COUNT(DAMP_TRAY_STOP_END_COUNT(3))", 12),
        ('=DAMP_BASIS_SOURCE("dpm_lap";"nhbc_2024")&"."',
         "NHBC Standards, updated 2 January 2024, 5.1.20."),
        (f'=IF({DIRECTION}="along A";1;0)', 1),
        # A text in rows is equal to no other in 7.4.
        ('=IF(LEN(DAMP_WHY("TRAY_STOP_END_COUNT";1))=0;1;0)', 1),
        ("=IFERROR(DAMP_TRAY_STOP_END_COUNT(0);-1)", -1),
        ("=ISNA(DAMP_BASIS_FIGURE(\"dpm_dpc_lap\";\"nhbc_2024\"))", 1),
        ("=SUM(1;DAMP_TRAY_STOP_END_COUNT(0);5)", ["error", WRONG]),
        ("=DAMP_TRAY_STOP_END_COUNT(TRUE())", 2),  # Calc hands over 1
        ("=DAMP.TRAY_STOP_END_COUNT(3)", 6),
        ("=damp_tray_stop_end_count(3)", 6),
    ]  # fmt: skip
    found = [r[0] for r in book.evaluate("on", [[c] for c, _ in cells])]
    assert [f for f, (_, w) in zip(found, cells, strict=True) if not shows(f, w)] == []
    passed_on = book.evaluate(
        "errors", [["=DAMP_TRAY_STOP_END_COUNT(DAMP_TRAY_STOP_END_COUNT(0))"], ["=A1+1"]]
    )
    assert all(row[0][0] == "error" for row in passed_on)


def test_companions(book: Calc) -> None:
    rows = [
        ["=DAMP_INSTALLED()"],
        [CANARY],
        ['=DAMP_WHY("TRAY_STOP_END_COUNT";0)'],
        ['=DAMP_WHY("damp.tray_stop_end_count";0)'],
        ['=DAMP_WHY("NO_SUCH";0)'],
        ['=DAMP_WHY("")'],
        ['=DAMP_WHY("TRAY_STOP_END_COUNT")'],
    ]
    found = [r[0] for r in book.evaluate("companions", rows)]
    assert found[0].startswith("Damp-proofing functions ")
    assert found[1] == "installed"
    assert found[2] == found[3] == why(FUNCTIONS["DAMP_TRAY_STOP_END_COUNT"], 0)
    assert found[4].startswith("found NO_SUCH; accepted: a function's name")
    assert found[5].startswith("found no name; ")
    assert found[6] == "trays: found nothing; accepted: a whole number from 1 to 1000."


def test_what_the_function_wizard_shows(office: Calc) -> None:
    known = office.do(["wizard", "DAMP_"])[0]
    assert set(known) == {*FUNCTIONS, "DAMP_WHY", "DAMP_INSTALLED"}
    for function in ALL:
        description, arguments = known[function.name]
        assert description == function.described
        assert [a[0] for a in arguments] == [a.shown for a in function.arguments]
        for (_, help, optional), argument in zip(arguments, function.arguments, strict=True):
            assert help.startswith(argument.help)
            assert argument.accepted in help
            assert not optional
    assert [optional for _, _, optional in known["DAMP_WHY"][1]] == [False, True]


def test_another_program_may_call_them(office: Calc) -> None:
    assert office.do(["call", "DAMP_TRAY_STOP_END_COUNT", [4]]) == [[[8.0]]]


# ---- whole columns ---------------------------------------------------------------------------


def test_every_function_over_columns(book: Calc) -> None:
    """Good rows, a wrong one and spare ones, in one array formula; and what DAMP_WHY says."""
    for n, function in enumerate(f for f in ALL if not f.unit.text):
        given = list(function.example.given)
        rows = [given, ["?", *given[1:]], given, [None] * len(given), [None] * len(given)]
        sheet, last = f"column{n}", len(given)
        areas = [f"{_letters(c)}1:{_letters(c)}5" for c in range(1, last + 1)]
        handed = [tuple((row[c] if row[c] is not None else "",) for row in rows)
                  for c in range(last)]  # fmt: skip
        out, said = _letters(last + 1), _letters(last + 2)
        steps = [
            ["put", sheet, 0, 0, rows],
            ["array", sheet, f"{out}1:{out}5", formula(function, areas)],
            ["array", sheet, f"{said}1:{said}5", explained(function, areas)],
            ["read", sheet, f"{out}1:{said}5"],
        ]
        found = book.do(*steps)[3]
        wanted = call_from_cell(function, *handed)
        assert [f for f, w in zip(found, wanted, strict=True) if not shows(f[0] or "", w)] == []
        assert [f[1] or "" for f in found] == why(function, *handed)


def test_a_text_is_equal_to_itself_and_takes_single_cells(book: Calc) -> None:
    """Calc takes texts in rows for unlike all others: =IF(...="along A") and COUNTIF went wrong."""
    area = f"{DIRECTION.replace('4.13', 'C1:C2')}"
    said = 'DAMP_WHY("DAMP_DPM_STRIP_DIRECTION";C1:C2;5.73;4000;25;"whole strips";"nhbc_2024")'
    rows = [
        ["=" + DIRECTION, '=COUNTIF(A1:A2;"along A")', 4.13],
        ['=DAMP_BASIS_SOURCE("dpm_lap";"nhbc_2024")', '=SUMIF(A1:A2;"along A";C1:C2)', 4.13],
        [f"={area}", f"={said}"],
    ]
    found = book.evaluate("texts", rows)
    assert [found[0][1], found[1][1]] == [1, 4.13]
    assert found[2][0] == ["error", WRONG]
    assert "one cell for each argument" in found[2][1]


def test_columns_and_errors(book: Calc) -> None:
    """An error in a column is never read as a blank: the whole column shows an error."""
    book.do(
        ["put", "S", 0, 0, [[1], ["=1/0"], [3], [None], [None], [1], [2], [3], [4]]],
        ["array", "S", "B1:B3", "=DAMP_TRAY_STOP_END_COUNT(A1:A3)"],
        ["array", "S", "C1:C6", "=DAMP_TRAY_STOP_END_COUNT(A6:A9)"],
        ["array", "S", "D1:D4", "=DAMP_TRAY_STOP_END_COUNT(DAMP_TRAY_STOP_END_COUNT(A6:A9))"],
        ["put", "S", 0, 4, [["=SUM(DAMP_TRAY_STOP_END_COUNT(A6:A9))"], ["=SUM(DAMP_TRAY_STOP_END_COUNT(A1:A3))"],
                            ["=SUM(DAMP_TRAY_STOP_END_COUNT(A6:A10))"], ["=DAMP_TRAY_STOP_END_COUNT(A6:B9)"]]],
    )  # fmt: skip
    assert book.do(["read", "S", "B1:B3"])[0] == [[["error", MISCOUNTED]]] * 3
    # Where an array formula is taller than its column, Calc itself shows #N/A.
    assert [r[0] for r in book.do(["read", "S", "C1:C6"])[0]] == [
        *(2, 4, 6, 8), ["error", UNSTATED], ["error", UNSTATED]
    ]  # fmt: skip
    assert [r[0] for r in book.do(["read", "S", "D1:D4"])[0]] == [4, 8, 12, 16]
    assert [r[0] for r in book.do(["read", "S", "E1:E4"])[0]] == [
        20, ["error", MISCOUNTED], 20, ["error", WRONG]
    ]  # fmt: skip


def test_a_column_of_the_whole_sheet(book: Calc) -> None:
    found = book.evaluate("S", [[1, "=SUM(DAMP_TRAY_STOP_END_COUNT(A:A))"], [2, None], [3, None]])
    assert found[0][1] == 12


def test_a_single_filled_row_is_not_repeated(book: Calc) -> None:
    """Calc fills an array formula with a result of one row: its figure would count many times."""
    steps = (
        ["put", "S", 0, 0, [[3]]],
        ["array", "S", "B1:B4", "=DAMP_TRAY_STOP_END_COUNT(A:A)"],
        ["put", "S", 0, 2, [["=SUM(B1:B4)"]]],
        ["read", "S", "B1:C4"],
    )
    found = book.do(*steps)[3]
    assert [row[0] for row in found] == [6, "", ["error", UNSTATED], ["error", UNSTATED]]
    assert found[0][1] == ["error", UNSTATED]


NO_ANSWER = "Could not activate Python COM server, hr = -2147221164"  # xlwings issue 766: in cells
REFUSAL = "Check: width: found nothing; accepted: a number from 0.05 to 12 m."
SPOILT = {  # what is put where, and which totals must refuse: trays, weeps, net
    "a refusal among the lengths": ([("H10", REFUSAL)], (0, 2)),
    "a refusal among the weeps": ([("J11", REFUSAL)], (1,)),
    "Python does not answer": ([(f"{c}{r}", NO_ANSWER) for c in "HJ" for r in range(9, 15)],
                               (0, 1, 2)),
    "a number typed as a text": ([("B10", "1 no.")], (0, 1, 2)),
    "a number left out": ([("B10", None)], (0, 1, 2)),
    "a number without an opening": ([("B12", 4)], (0, 1, 2)),
    "an error": ([("H10", "=1/0"), ("J10", "=1/0")], (0, 1, 2)),
}  # fmt: skip


@pytest.mark.parametrize("content", [excel_workbook, sample], ids=["Excel", "Calc"])
def test_a_guarded_total_never_shrinks(book: Calc, content: Any) -> None:
    """The totals of both samples, over what their columns may hold, worked out by Calc.

    In Excel a refusal is a text, and so is what stands in the cells where Python does not answer.
    """
    sheet = load_workbook(io.BytesIO(content()))[IN_USE]
    totals = {r[0].value: str(r[1].value).replace(",", ";") for r in sheet["A15:B30"]}
    rows: list[list[Any]] = [[None] * 10 for _ in range(14)]
    for n, (number, length, weeps) in enumerate(
        ((2, 1.8, 4), (1, 2.4, 6), (1, 3.0, 7), *((None, '=""', '=""'),) * 3), 8
    ):
        rows[n][1], rows[n][7], rows[n][9] = number, length, weeps
    rows[0][:3] = [totals[name] for name in ("Trays", "Weeps", "Tray, net, m")]
    # By hand: 2 + 1 + 1; 2 × 4 + 6 + 7; 2 × 1.8 + 2.4 + 3.0.
    assert book.evaluate("sound", rows)[0][:3] == pytest.approx([4, 21, 9])
    for name, (cells, refusing) in SPOILT.items():
        spoilt = [list(row) for row in rows]
        for cell, value in cells:
            spoilt[int(cell[1:]) - 1]["ABCDEFGHIJ".index(cell[0])] = value
        found = book.evaluate(name, spoilt)[0][:3]
        for n, total in enumerate((4, 21, 9)):
            if n in refusing:
                assert found[n] in (["error", UNSTATED], ["error", DIVISION]), (name, n)
            else:
                assert found[n] == pytest.approx(total), (name, n)


def test_a_failure_that_is_a_text_is_not_taken_for_installed(book: Calc) -> None:
    """As in Excel, where what stands in the cell of a function that fails is a text."""
    for text, there in ((NO_ANSWER, False), (f"Damp-proofing functions {__version__}", True)):
        page = CANARY.replace("DAMP_INSTALLED()", f'"{text}"')
        sheet = load_workbook(io.BytesIO(excel_workbook()))[IN_USE]
        ours = str(sheet["A2"].value).replace("DAMP_INSTALLED()", f'"{text}"').replace(",", ";")
        ours = ours.replace("server;", "server,")
        shown = [r[0] for r in book.evaluate(f"there {there}", [[page], [ours]])]
        assert ["NOT installed" not in s for s in shown] == [there, there]
        assert not there or shown == ["installed", text]


# ---- beside the workbook ---------------------------------------------------------------------


def _address(layout: Layout, place: tuple[str, str, int, str]) -> str:
    table, column, row, blank = place
    span = layout.spans[table]
    raw = f"raw_{column}"  # where a blank is told from a 0
    letter = span.letters[raw if blank and raw in span.letters else column]
    cell = f"$'{span.sheet}'.{letter}{span.first + row - 1}"
    return f"IF(ISNUMBER({cell});{cell};{blank})" if blank else cell


def _cell(layout: Layout, cell: Any) -> str:
    if isinstance(cell, tuple):
        return _address(layout, cell)
    return cell[1:] if cell.startswith("=") else typed(cell)


@pytest.mark.parametrize("name", ["demo", *(f"job{seed}" for seed in range(1, JOBS + 1))])
def test_functions_beside_the_native_formulas(
    name: str, office: Calc, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """In the job's own workbook, recalculated: function = native formula = Python."""
    job, built = made(name).job, made(name).built
    ledger = estimate(job, made(name).room)
    path = made(name).written(office.home)
    give(office.home)
    found = list(calls(job, ledger))
    rows = []
    for call in found:
        table, column, row = call.at
        native = _address(built.layout, (table, column, row, "")) if table else column
        arguments = [_cell(built.layout, c) for c in call.cells]
        rows.append([formula(FUNCTIONS["DAMP_" + call.function], arguments), "=" + native])
    office.do(["open", str(path)])
    try:
        shown = office.evaluate("beside", rows)
    finally:
        office.do(["close"])
    wrong = []
    for call, row, (function, native) in zip(found, rows, shown, strict=True):
        if call.gives is NOT_AVAILABLE:
            agrees = function[0] == "error" == native[0]
        else:
            agrees = shows(function, call.gives) and shows(native, call.gives)
        if not agrees:
            wrong.append((row, function, native, call.gives))
    assert wrong[:3] == []
    if name == "demo":
        assert len({c.function for c in found}) > (len(FUNCTIONS) - len(ALONE)) * 0.7


# ---- files -----------------------------------------------------------------------------------


def test_files_keep_the_functions_working(office: Calc) -> None:
    """Written by another program under either name; saved by Calc and opened again, twice."""
    path = office.home / "other.xlsx"
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "S"
    sheet.append(["=DAMP_TRAY_STOP_END_COUNT(3)", "=DAMP.TRAY_STOP_END_COUNT(3)", "=DAMP_TRAY_STOP_END_COUNT(0)",
                  '=DAMP_WHY("TRAY_STOP_END_COUNT",0)', "=DAMP_TRAY_STOP_END_COUNT(3)+SUM(1,2)"])  # fmt: skip
    book.save(path)
    give(office.home)
    wanted = [[6, 6, ["error", WRONG], why(FUNCTIONS["DAMP_TRAY_STOP_END_COUNT"], 0), 9]]
    for ending in ("", ".xlsx", ".ods", ".xlsx"):
        changed, found, to_undo = office.do(
            ["open", str(path)], ["read", "S", "A1:E1"], ["to_undo"]
        )
        assert found == wanted, ending
        assert not changed, "opening a workbook must not count as a change"
        assert to_undo == [], "nor leave anything to undo"
        path = office.home / f"saved{path.name}{ending or '.xlsx'}"
        formula_there, _, _ = office.do(["formula", "S", "A1"], ["save", str(path)], ["close"])
        assert formula_there in ("=DAMP_TRAY_STOP_END_COUNT(3)", "=DAMP.TRAY_STOP_END_COUNT(3)")


def test_the_sample_shows_every_function(office: Calc) -> None:
    path = office.home / "sample.xlsx"
    path.write_bytes(sample())
    give(office.home)
    most = max(len(f.arguments) for f in ALL)
    area = f"A5:{_letters(most + 8)}{len(ALL) + 4}"
    _, every, in_use, said, _ = office.do(
        ["open", str(path)],
        ["read", EVERY, area],
        ["read", IN_USE, "A1:K30"],
        ["read", EVERY, "A2:A2"],
        ["close"],
    )
    assert said[0][0].startswith("Damp-proofing functions ")
    for function, row in zip(ALL, every, strict=True):
        assert row[0] == function.name
        assert shows(row[most + 3], function.example.gives), row
        assert row[most + 5] == function.example.gives
        assert not row[most + 7]
    # By hand: trays 1.5 + 2 × 0.15 and so on; weeps (1800 − 450) ÷ 450 + 1 = 4, 6, 7.
    assert [r[7] for r in in_use[8:11]] == pytest.approx([1.8, 2.4, 3.0])
    assert [r[9] for r in in_use[8:14]] == [4, 6, 7, "", "", ""]
    # 2 × 1.8 + 2.4 + 3.0 = 9 m: one roll of 20 m, £38.50, and 20 %, and VAT: £55.44.
    totals = {r[0]: r[1] for r in in_use[14:]}
    assert totals["Tray, net, m"] == pytest.approx(9)
    # A fourth opening whose sizes were forgotten: no total that leaves it out.
    path.write_bytes(sample())
    give(office.home)
    _, _, found, _ = office.do(
        ["open", str(path)], ["put", IN_USE, 11, 1, [[2]]], ["read", IN_USE, "A15:B30"], ["close"]
    )
    refuses = {r[0]: r[1] for r in found}
    for name in ("Weeps", "Tray, net, m", "Price with VAT, £"):
        assert refuses[name] == ["error", UNSTATED], name
    assert (totals["Rolls"], totals["Price with VAT, £"]) == (1, 55.44)
    assert (totals["Trays"], totals["Weeps"], totals["Stop ends"]) == (4, 21, 8)


def test_a_missing_extension_is_said() -> None:
    """The sample, and a file saved where the functions were there, opened where they are not."""
    with calc() as office:
        kept = office.home / "kept.xlsx"
        kept.write_bytes(sample())
        give(office.home)
        office.do(["open", str(kept)], ["save", str(office.home / "saved.xlsx")], ["close"])
        files = {n: (office.home / n).read_bytes() for n in ("kept.xlsx", "saved.xlsx")}
    with calc(installed=False, recalculate=False) as bare:
        for name, content in files.items():
            (bare.home / name).write_bytes(content)
            give(bare.home)
            _, said, _ = bare.do(
                ["open", str(bare.home / name)], ["read", IN_USE, "A2:A2"], ["close"]
            )
            assert "NOT installed" in said[0][0], name
        bare.do(["open", ""])
        assert bare.evaluate("x", [["=DAMP_TRAY_STOP_END_COUNT(3)"]]) == [[["error", UNKNOWN]]]


def test_what_cannot_be_loaded_says_so() -> None:
    """As where LibreOffice's own Python is too old: errors, never a figure, and one sentence."""
    broken = parts(own_menu())
    broken[f"pythonpath/{CORE}/errors.py"] = b"raise ImportError('a newer Python is needed')"
    with calc(content=packed(broken)) as office:
        office.do(["open", ""])
        rows = [
            ["=DAMP_TRAY_STOP_END_COUNT(3)"],
            ['=DAMP_WHY("")'],
            ["=DAMP_INSTALLED()"],
            [CANARY],
        ]
        found = [r[0] for r in office.evaluate("broken", rows)]
    assert found[0] == found[2] == ["error", WRONG]
    assert found[1].startswith(
        "The damp-proofing functions could not be loaded: ImportError: a newer Python is needed"
    )
    assert found[3] == "The functions are NOT installed"


# ---- pages -----------------------------------------------------------------------------------


def test_every_example_on_the_page_is_executed(book: Calc) -> None:
    """Read from docs/functions.md itself: each formula gives the result printed below it."""
    page = (ROOT / "docs" / "functions.md").read_text("utf-8")
    found = re.findall(r"^```\n(=.*)\n(.*)\n```$", page, re.M)
    assert len(found) == len(ALL) + 1
    shown = book.evaluate("page", [[example] for example, _ in found])
    for (example, printed), (value,) in zip(found, shown, strict=True):
        if isinstance(value, str):
            assert value == printed, example
        else:
            number = printed.split(" ")[0]
            assert value == pytest.approx(float(number), rel=1e-9), example
            assert number == f"{value:.10g}", example


def test_the_install_page_word_for_word() -> None:
    """Every command of docs/install-calc.md, in its order, on a clean profile and not as root.

    The first only writes files, and is run by whoever runs the tests; no environment is active.
    """
    page = (ROOT / "docs" / "install-calc.md").read_text("utf-8")
    commands = re.findall(r"^```sh\n(.*?)^```$", page, re.M | re.S)
    assert len(commands) == 4
    with fresh_home() as home:
        (home / ".venv").symlink_to(Path(sys.executable).parents[1])
        said = []
        for n, command in enumerate(commands):
            begin = [] if n == 0 else as_user(home)
            done = subprocess.run(
                [*begin, "sh", "-euc", command],
                cwd=home, capture_output=True, text=True, check=False,
            )  # fmt: skip
            assert done.returncode == 0, done.stdout + done.stderr
            give(home)
            said.append(done.stdout)
        made, installed, shown, removed = said
        assert "Wrote damp-functions.oxt" in made
        assert "estimator.damp.functions" in installed
        assert "Damp-proofing functions" in shown
        assert "DAMP_WEEP_COUNT" in shown
        assert "estimator.damp.functions" not in removed


def test_a_newer_version_takes_the_place_of_an_older() -> None:
    """As the install page says: added over the old one, without taking that out first."""
    need_uno()
    older = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(own_extension())) as now, zipfile.ZipFile(older, "w") as then:
        for part in now.namelist():
            data = now.read(part).replace(f'"{__version__}"'.encode(), b'"0.1.0"')
            then.writestr(part, data)
    with fresh_home() as home:
        (home / "profile").mkdir()
        for content, version in ((older.getvalue(), "0.1.0"), (own_extension(), __version__)):
            install(home, content)
            profile = f"-env:UserInstallation=file://{home}/profile"
            command = [*as_user(home), "unopkg", "list", profile, "estimator.damp.functions"]
            listed = subprocess.run(command, cwd=home, capture_output=True, text=True, check=True)
            assert f"Version: {version}" in listed.stdout
