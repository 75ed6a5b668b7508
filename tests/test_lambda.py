"""The functions as names: every LAMBDA worked out by IronCalc, from files whose results are spoilt.

Excel was not available: what is asked of the texts for its sake is what its file format asks.
"""

import re
import zipfile
from collections import Counter
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName

from estimator.functions import FUNCTIONS, Function, Refusal, call_from_cell
from estimator.functions.arguments import Argument
from estimator.functions.guidance import known
from estimator.hosts.calc.sample import EVERY
from estimator.hosts.names import texts
from estimator.hosts.names.workbook import HOW, LIMITS, names_workbook
from estimator.language.columns import as_constants, column_of
from estimator.language.helpers import beside, both, either, first_given, first_row, total
from estimator.language.many import Many
from estimator.language.missing import NOT_AVAILABLE
from estimator.language.tracing import Ref, TraceError
from estimator.language.units import EACH, PERCENT

from .conftest import LONG
from .hosts import by_gnumeric, by_ironcalc, by_libreoffice, drive, figures

ALL = list(FUNCTIONS.values())
MOST = max(len(f.arguments) for f in ALL)
GIVES, WHY = MOST + 4, MOST + 8  # columns of the sheet of examples
FIRST = 5  # its first row
NA = "#N/A"


@cache
def book() -> bytes:
    return names_workbook()


@cache
def names() -> dict[str, str]:
    return texts.names()


def alike(found: Any, wanted: Any) -> bool:
    if isinstance(found, str) or isinstance(wanted, str):
        return bool(found == wanted)
    return abs(found - wanted) <= 1e-9 * max(1.0, abs(wanted))


def worked(rows: list[tuple[str, list[Any]]], change: dict[str, str] | None = None) -> list[Any]:
    """What IronCalc shows for calls: each a formula with {} for its arguments, and what they hold."""
    file = Workbook()
    sheet = file.active
    assert sheet is not None
    for name, text in (names() | (change or {})).items():
        file.defined_names[name] = DefinedName(name, attr_text=text)
    for row, (formula, values) in enumerate(rows, 1):
        for column, value in enumerate(values, 2):
            sheet.cell(row, column).value = value
        cells = (f"{get_column_letter(c)}{row}" for c in range(2, 2 + len(values)))
        sheet.cell(row, 1).value = formula.format(",".join(cells))
    written = BytesIO()
    file.save(written)
    where = [(row, 1) for row in range(1, len(rows) + 1)]
    return list(by_ironcalc(written.getvalue(), {sheet.title: where})[sheet.title].values())


# ---- worked out --------------------------------------------------------------------------------


def shown(sheet: dict[str, Any], column: int) -> dict[str, Any]:
    letter = get_column_letter(column)
    found = {f.name: sheet.get(f"{letter}{row}", "") for row, f in enumerate(ALL, FIRST)}
    return {n: v.strip() if isinstance(v, str) else v for n, v in found.items()}


def test_every_example_gives_what_was_worked_by_hand(tmp_path: Path) -> None:
    """Worked out, and stored in the file for programs that only show it."""
    cells = [(row, c) for row in range(FIRST, FIRST + len(ALL)) for c in (1, GIVES, WHY)]
    found = by_ironcalc(book(), {EVERY: [(2, 1), *cells]})[EVERY]
    assert list(shown(found, 1).values()) == [f.name for f in ALL]
    path = tmp_path / "names.xlsx"
    path.write_bytes(book())
    stored = figures(path)[EVERY]
    for function in ALL:
        assert alike(shown(found, GIVES)[function.name], function.example.gives), function.name
        assert alike(shown(stored, GIVES)[function.name], function.example.gives), function.name
    assert set(shown(found, WHY).values()) == set(shown(stored, WHY).values()) == {""}
    assert found["A2"] == stored["A2"]
    assert found["A2"].startswith("Damp-proofing functions ")


def test_a_sheet_taken_elsewhere_needs_no_other() -> None:
    """With the sheet of examples alone, and the names: as it is when that sheet is copied."""
    file = load_workbook(BytesIO(book()))
    for name in (HOW, LIMITS):
        del file[name]
    written = BytesIO()
    file.save(written)
    cells = [(row, GIVES) for row in range(FIRST, FIRST + len(ALL))]
    found = shown(by_ironcalc(written.getvalue(), {EVERY: cells})[EVERY], GIVES)
    assert [f.name for f in ALL if not alike(found[f.name], f.example.gives)] == []


def test_that_sheet_calls_every_function_and_through_them_every_name() -> None:
    formulas = " ".join(
        str(c.value) for row in load_workbook(BytesIO(book()))[EVERY] for c in row
        if c.data_type == "f"
    )  # fmt: skip
    reached: set[str] = set()
    waiting = set(re.findall(r"DAMP_\w+", formulas))
    while waiting:
        name = waiting.pop()
        reached.add(name)
        waiting |= set(re.findall(r"DAMP_\w+", names()[name])) - reached
    assert reached == set(names())
    assert {f.name for f in ALL} < reached


@dataclass(frozen=True)
class Call:
    function: Function
    values: list[Any]


UNREADABLE = ("", "nope=3", "dpm_lap=10", "weeps_min=2.5", "dpm_lap=1e2", "dpm_lap=150,5",
              "dpm_lap", "dpm_lap=", "dpm_lap=-150", "dpm_lap=5%")  # fmt: skip


def some_basis(draw: Random, astray: bool) -> str:
    """Any of them, with own figures for all keys, some or none."""
    keys, common = known()["keys"], known()["bases"]["common_practice"]
    parts = [draw.choice(list(known()["bases"]))]
    spelt = draw.random()
    if spelt > 0.5:
        parts = [known()["labels"][parts[0]]]
    if spelt < 0.1 or spelt > 0.9:
        parts = [parts[0].upper()]
    for key in keys if draw.random() < 0.5 else draw.sample(list(keys), draw.choice([0, 0, 1, 8])):
        about, usual = keys[key], common[key]["value"]
        figure = draw.uniform(about["least"], about["most"])
        if usual is not None and draw.random() < 0.6:
            figure = usual
        figure = round(figure, 0 if about["unit"] == EACH.sign else 1)
        parts.append(f"{key}={min(max(figure, about['least']), about['most']):.12g}")
    if astray:
        parts.append(draw.choice(UNREADABLE))
    return draw.choice(("; ", ";", " ; ")).join(parts)


def some_value(draw: Random, argument: Argument, example: Any, astray: bool) -> Any:
    """Near the example, anywhere within the limits, or on them; astray past them or of a wrong kind."""
    if argument.name == "basis":
        return some_basis(draw, astray)
    if argument.choices:
        choice = draw.choice(argument.choices())
        return draw.choice(["none of them", 5, None] if astray else [choice, choice.upper()])
    most = argument.most
    if argument.unit is PERCENT:
        return draw.choice([1, most + 1, -1, 0.004] if astray else [0, 5, 20, 0.2, 0.05, 12.5, 20])
    if astray:
        return draw.choice([True, "12", None, "abc", argument.least - 1, most + 1])
    kind = draw.random()
    figure = example * draw.choice([0.25, 0.5, 0.8, 1, 1.1, 1.5, 2, 3.7])
    if kind > 0.7:
        figure = argument.least + (most - argument.least) * draw.random() ** 4
    if kind > 0.95:
        figure = draw.choice([argument.least, most])
    whole = argument.unit is EACH and draw.random() < 0.98
    return round(figure) if whole else round(figure, draw.choice([1, 2, 4]))


def some_call(draw: Random, function: Function) -> Call:
    """In a third of the calls one argument is astray."""
    astray = draw.choice(function.arguments).name if draw.random() < 0.33 else ""
    return Call(
        function,
        [
            some_value(draw, a, e, a.name == astray)
            for a, e in zip(function.arguments, function.example.given, strict=True)
        ],
    )


@pytest.fixture(scope="module")
def drawn() -> list[tuple[Call, Any, Any]]:
    """Random calls, each with what its name shows and what the second name says."""
    draw = Random(7)
    calls = [some_call(draw, f) for f in ALL for _ in range(150 if LONG else 18)]
    rows = [
        (f"={c.function.name}{ending}({{}})", c.values) for ending in ("", "_WHY") for c in calls
    ]
    found = worked(rows)
    return list(zip(calls, found[: len(calls)], found[len(calls) :], strict=True))


def test_on_random_arguments_every_name_equals_python(drawn: list[tuple[Call, Any, Any]]) -> None:
    seen, lost, wrong = Counter[str](), Counter[str](), []
    for call, found, _ in drawn:
        wanted = call_from_cell(call.function, *call.values)
        (lost if isinstance(wanted, Refusal) else seen)[call.function.name] += 1
        if not alike(found, NA if isinstance(wanted, Refusal) else wanted):
            wrong.append((call.function.name, call.values, found, wanted))
    assert wrong[:3] == []
    assert set(seen) == {f.name for f in ALL}
    assert min(seen.values()) > 1
    assert sum(lost.values()) > 200


def test_a_second_name_says_why(drawn: list[tuple[Call, Any, Any]]) -> None:
    """The same argument as Python names, with the same words for what is accepted."""
    told = Counter[str]()
    for call, _, said in drawn:
        wanted = call_from_cell(call.function, *call.values)
        if not isinstance(wanted, Refusal):
            assert said == "", call
        elif wanted.unstated:
            key = wanted.sentence.partition(":")[0]
            assert said.startswith("basis: it states no figure for "), call
            assert f" {key};" in said or " that key;" in said, (call, said)
            told["unstated"] += 1
        else:
            words = re.split("[:,]", wanted.sentence)[0]
            assert said.startswith(f"{words}: found "), (call, said, wanted)
            if words != "basis":
                assert said.partition("; accepted")[2] == wanted.sentence.partition("; accepted")[2]
            told[words] += 1
    assert told["unstated"] > 20
    assert len(told) > 30


EACH_ALONE: tuple[tuple[str, list[Any], Any], ...] = (  # by hand: twice as many stop ends as trays
    # Along A alone, as the roll is shorter than B: the lap, which nobody states, plays no part.
    ("=DAMP_DPM_STRIP_LENGTH({})", [2.065, 11.5, 4000, 3.5, "whole strips", "england_adc_2013"],
     2.065),
    ("=DAMP_TRAY_STOP_END_COUNT({})", [1000], 2000),
    ("=DAMP_TRAY_STOP_END_COUNT({})", [1001], NA),
    ("=DAMP_TRAY_STOP_END_COUNT({})", [0], NA),
    ("=DAMP_TRAY_STOP_END_COUNT({})", [2.5], NA),
    ("=DAMP_TRAY_STOP_END_COUNT({})", [None], NA),
    ("=DAMP_TRAY_STOP_END_COUNT({})", ["2"], NA),
    ("=DAMP_TRAY_STOP_END_COUNT(({})*10)", [0.8], 16),
    ("=DAMP_TRAY_STOP_END_COUNT((0.1+0.7)*10)", [], 16),
    ("=DAMP_TRAY_STOP_END_COUNT({})", ["=1/0"], NA),
    ("=DAMP_TRAY_STOP_END_COUNT(B1:B2)", [], NA),
    ("=DAMP_TRAY_STOP_END_COUNT({{1;2}})", [], NA),
    ("=DAMP_BASIS_FIGURE(\"dpm_lap\",\"nhbc_2024\")", [], 300),
    ("=DAMP_BASIS_FIGURE(\"dpm_lap\",\"nhbc_2024; dpm_lap=150.5\")", [], 150.5),
    ("=DAMP_BASIS_FIGURE(\"dpm_lap\",\"nhbc_2024; dpm_lap=150; dpm_lap=150\")", [], NA),
    ("=DAMP_BASIS_FIGURE(\"dpm_lap\",\"NHBC Standards (2024)\")", [], 300),
    ("=DAMP_BASIS_FIGURE({})", ["dpm_lap", " nhbc standards (2024) ; dpm_lap=150.5"], 150.5),
    ("=DAMP_BASIS_FIGURE({})", ["dpm_lap", "NHBC Standards"], NA),
    ("=DAMP_BASIS_FIGURE(\"dpm_*\",\"nhbc_2024\")", [], NA),
    ("=DAMP_BASIS_SOURCE(\"dpm_lap\",\"nhbc_2024; dpm_lap=150\")", [], "own figure"),
    ("=DAMP_TRAY_STOP_END_COUNT_WHY({})", [2.5],
     "trays: found 2.5; accepted: a whole number from 1 to 1000."),
    ("=DAMP_TRAY_STOP_END_COUNT_WHY({})", [None],
     "trays: found a blank cell; accepted: a whole number from 1 to 1000."),
    ("=DAMP_TRAY_STOP_END_COUNT_WHY({})", ["2"],
     "trays: found '2'; accepted: a whole number from 1 to 1000."),
    ("=DAMP_TRAY_STOP_END_COUNT_WHY({})", ["=1/0"],
     "trays: found an error of another cell; accepted: a whole number from 1 to 1000."),
    ("=DAMP_TRAY_STOP_END_COUNT_WHY(B1:B2)", [],
     "trays: found a column of cells; accepted: a whole number from 1 to 1000."),
)  # fmt: skip


def test_limits_kinds_and_columns() -> None:
    found = worked([(formula, values) for formula, values, _ in EACH_ALONE])
    for (formula, values, wanted), shows in zip(EACH_ALONE, found, strict=True):
        assert alike(shows, wanted), (formula, values, shows)


def test_a_name_that_is_wrong_is_seen() -> None:
    """One rule in one name is broken: IronCalc works out that name, and nothing is copied."""
    name = "DAMP_TRAY_STOP_END_COUNT"
    assert "2*" in names()[name]
    call = [(f"={name}({{}})", [5])]
    assert worked(call) == [10]
    assert worked(call, {name: names()[name].replace("2*", "3*")}) == [15]


# ---- the texts ---------------------------------------------------------------------------------

# As old as the file format; of later functions, with the prefix that it asks for.
CALLED = {"ABS", "AND", "COLUMNS", "COS", "FIND", "IF", "IFERROR", "INDEX", "ISBLANK", "ISERROR",
          "ISNUMBER", "ISTEXT", "LARGE", "LEFT", "LEN", "MATCH", "MAX", "MID", "MIN", "NA", "OR",
          "PI", "ROUND", "ROUNDDOWN", "ROUNDUP", "ROWS", "SMALL", "SQRT", "SUBSTITUTE", "SUM",
          "SUMPRODUCT", "TAN", "UPPER", "CHOOSE", "TRIM", "SIN",
          "_xlfn.LAMBDA", "_xlfn.LET", "_xlfn.NUMBERVALUE"}  # fmt: skip


def without_texts(text: str) -> str:
    return re.sub(r'"(?:[^"]|"")*"', '""', text)


def deepest(text: str) -> int:
    depth = most = 0
    for sign in text:
        depth += (sign == "(") - (sign == ")")
        most = max(most, depth)
    assert depth == 0
    return most


@pytest.mark.parametrize("name", texts.names())
def test_a_text_is_what_the_file_format_takes(name: str) -> None:
    text = names()[name]
    bare = without_texts(text)
    assert len(text) <= texts.LONGEST
    assert max(map(len, re.findall(r'"((?:[^"]|"")*)"', text)), default=0) <= 255
    assert deepest(bare) <= 64
    called = set(re.findall(r"([\w.]+)\(", bare))
    assert called - CALLED <= set(names())
    # No cell, no sheet: only bound names, which look like no cell, and figures.
    assert "!" not in bare
    assert "$" not in bare
    bound = set(re.findall(r"_xlpm\.(\w+)", bare))
    assert not [b for b in bound if re.fullmatch(r"[A-Za-z]{1,3}\d+|[RrCc]", b)]
    words = set(re.findall(r"(?<![\w.#/])[A-Za-z_][\w.]*", bare)) - called
    assert {w for w in words if not w.startswith("_xlpm.")} <= {"TRUE", "FALSE", "N", "A"}


@pytest.mark.parametrize("name", texts.names())
def test_what_is_bound_is_read(name: str) -> None:
    text = without_texts(names()[name]).lower()
    bound = Counter(re.findall(r"_xlpm\.\w+", text))
    assert [b for b, times in bound.items() if times < 2] == []


def test_all_functions_are_there() -> None:
    assert {f.name for f in ALL} | {f.name + "_WHY" for f in ALL} < set(names())
    page = (Path(__file__).parent.parent / "docs" / "install-names.md").read_text("utf-8")
    assert f"All {len(ALL)} functions are in it" in page
    assert f"lists {len(names())} names" in page
    assert set(load_workbook(BytesIO(book())).defined_names) == set(names())


# ---- the language --------------------------------------------------------------------------------


def test_what_is_known_beforehand_joins_what_is_not() -> None:
    cell = Ref("A1")
    assert both(True, cell) is cell
    assert either(cell, False) is cell
    assert both(cell, False).text == "AND(FALSE,A1)"  # an error of the cell is an error still
    assert either(True, cell).text == "OR(TRUE,A1)"
    assert first_given(None, cell).text == "IF(ISNUMBER(A1),A1,NA())"
    assert first_given(cell, NOT_AVAILABLE, 3).text == "IF(ISNUMBER(A1),A1,3)"


def test_a_column_of_one_row_is_what_stands_in_it() -> None:
    one = column_of([Ref("A1")])
    assert beside(one, 1) is one.row
    assert beside(one, Ref("B1")).text == "IF(B1=1,A1,NA())"
    assert first_row(one, 7).text == "IFERROR(IF(A1=7,1,0),0)"
    assert total(one).text == "SUMPRODUCT(A1*1)"
    with pytest.raises(TraceError, match="several rows"):
        column_of([Ref("A1"), Ref("A2")])
    assert as_constants(Many([1, 0.5, NOT_AVAILABLE])).text == "{1;0.5;#N/A}"
    assert as_constants(Many(["a", 'b"c'], holds_text=True)).text == '{"a";"b""c"}'


# ---- programs that do not know LAMBDA ------------------------------------------------------------


@pytest.fixture(scope="module")
def beside_others(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file with a sheet of its user's: plain formulas, and one call among them."""
    file = load_workbook(BytesIO(book()))
    sheet = file.create_sheet("Mine")
    for cell, value in (("A1", 3), ("A2", "=A1*2"), ("A3", "=DAMP_TRAY_STOP_END_COUNT(A1)"),
                        ("A4", "=SUM(A1:A2)"), ("A5", "=IFERROR(A3,0)+A4"),
                        ("A6", "=SUM(A1:A3)")):  # fmt: skip
        sheet[cell] = value
    path = tmp_path_factory.mktemp("names") / "mine.xlsx"
    file.save(path)
    return path


def test_beside_others_where_lambda_is_known(beside_others: Path) -> None:
    """By hand: 3, 6, 6 stop ends, 9, 6 + 9, 15."""
    cells = [(row, 1) for row in range(1, 7)]
    mine = by_ironcalc(beside_others.read_bytes(), {"Mine": cells})["Mine"]
    assert list(mine.values()) == [3, 6, 6, 9, 15, 15]


def nothing_else_breaks(saved: Path, shows: str) -> None:
    """What calls a function is an error, and so is a sum over it, never a figure that is too low."""
    found = figures(saved)
    mine = [found["Mine"][f"A{n}"] for n in range(1, 7)]
    assert mine == [3, 6, shows, 9, 9, shows]
    assert set(shown(found[EVERY], GIVES).values()) <= {shows, NA}
    by_hand = shown(found[EVERY], GIVES + 2)
    for function in ALL:
        assert alike(by_hand[function.name], function.example.gives)
    assert len(found[LIMITS]) == len(figures_of_limits())


def figures_of_limits() -> list[Any]:
    sheet = load_workbook(BytesIO(book()))[LIMITS]
    return [c.value for row in sheet for c in row if c.value not in (None, "")]


@pytest.mark.host
def test_libreoffice_opens_it_and_keeps_the_names(beside_others: Path, tmp_path: Path) -> None:
    """It shows Err:508 and the like, stored as #VALUE! and once as #N/A; what it saves still works where LAMBDA is known."""
    (saved,) = by_libreoffice([beside_others], tmp_path).values()
    nothing_else_breaks(saved, "#VALUE!")
    (shows,) = drive(beside_others, [["show", "Mine!A3"]])
    assert shows in ("error 508", "error 509")
    cells = [(row, GIVES) for row in range(FIRST, FIRST + len(ALL))]
    found = shown(by_ironcalc(saved.read_bytes(), {EVERY: cells})[EVERY], GIVES)
    assert [f.name for f in ALL if not alike(found[f.name], f.example.gives)] == []


@pytest.mark.host
def test_gnumeric_opens_it_and_what_it_saves_has_lost_them(
    beside_others: Path, tmp_path: Path
) -> None:
    (saved,) = by_gnumeric([beside_others], tmp_path).values()
    nothing_else_breaks(saved, "#NAME?")
    with zipfile.ZipFile(saved) as package:
        written = package.read("xl/workbook.xml").decode()
    assert written.count("ERROR(") >= len(ALL)
