"""The functions, without a spreadsheet program: what they give, what they refuse, what they need."""

import ast
import datetime
import math
import re
import subprocess
import sys
import textwrap
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from estimator import functions
from estimator.cli.addin import calc_menu
from estimator.functions import FUNCTIONS, Function, Refusal, call_from_cell, why
from estimator.functions.arguments import ARGUMENTS, Argument
from estimator.functions.guidance import guidance
from estimator.functions.plan import item_at
from estimator.functions.refusal import CellError
from estimator.guidance.allowances import basis_rows
from estimator.guidance.basis import KEYS, shipped_bases
from estimator.hosts.calc import carried, extension, interface
from estimator.language import NOT_AVAILABLE
from estimator.language.asked import Asked
from estimator.language.units import AMOUNT, EACH
from estimator.model.plan import SHIPPED_ROWS
from estimator.model.plan import plan as workbook_plan

from .conftest import LONG
from .functions_in_jobs import ALONE, Called, basis_text, calls
from .made import job_named, worked_out
from .random_jobs import random_job

ALL = list(FUNCTIONS.values())
NAMES = [f.name for f in ALL]
ROOM = Path(functions.__file__).parent
CHANGELOG = Path(__file__).parent.parent / "docs" / "changelog.md"
DEFINITIONS = ("bases", "below_floors", "dpc", "dpm", "prices", "trays", "weeps")


def alike(found: Any, wanted: Any) -> bool:
    if isinstance(found, str | Refusal) or isinstance(wanted, str | Refusal):
        return bool(found == wanted)
    return abs(found - wanted) <= 1e-9 * max(1.0, abs(wanted))


def refused(found: Any, *words: str) -> None:
    assert isinstance(found, Refusal), found
    for word in words:
        assert word in found.sentence
    assert found.sentence.endswith(".")
    assert "\n" not in found.sentence


# ---- what they give --------------------------------------------------------------------------


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_gives_what_was_worked_by_hand(function: Function) -> None:
    """The figures and their working stand in the register; they were worked by hand."""
    assert alike(call_from_cell(function, *function.example.given), function.example.gives)
    assert function.example.working
    assert why(function, *function.example.given) == ""


def compared() -> list[Called]:
    names = ["demo", "form", "walked", *(f"job{seed}" for seed in range(30))]
    return [c for name in names for c in calls(job_named(name)[0], worked_out(name))]


def test_gives_what_the_workbook_gives() -> None:
    """Every function against the column of the workbook that says the same, in 33 jobs."""
    wrong, seen = [], Counter[str]()
    for call in compared():
        found = call_from_cell(FUNCTIONS["DAMP_" + call.function], *call.values)
        if call.gives is NOT_AVAILABLE:
            agrees = isinstance(found, Refusal)
        else:
            agrees = alike(found, call.gives)
            seen[call.function] += 1
        if not agrees:
            wrong.append((call.function, call.values, found, call.gives))
    assert wrong[:3] == []
    assert {f.method for f in ALL} - set(seen) == ALONE
    assert min(seen.values()) > 3


def test_rolls_of_sheet_are_those_of_a_job_with_one_floor() -> None:
    """Where one zone has a sheet, what the price book takes of each roll is that zone's."""
    seen = Counter[str]()
    for seed in range(120 if LONG else 45):
        ledger = worked_out(f"job{seed}")
        zones = [n for n, sheet in enumerate(ledger.column("zones", "sheet"), 1) if sheet == 1]
        if len(zones) != 1:
            continue
        joints = ledger.typed["sheet_joints"]
        for row, fits in enumerate(ledger.column("layouts", "fits"), 1):
            at = int(ledger.figure("layouts", row, "book_row"))
            if ledger.rows["layouts"][row - 1]["at"] != zones[0] or not at or fits != 1:
                continue
            wastage = ledger.figure("book", at, "wastage")
            if joints == "whole strips" and wastage:
                continue  # a switch of the workbook that the function does not have
            found = call_from_cell(
                FUNCTIONS["DAMP_DPM_ROLLS"],
                *(ledger.figure("layouts", row, c) for c in ("sheet_a", "sheet_b")),
                *(ledger.figure("book", at, c) for c in ("width", "length")),
                joints, wastage, basis_text_of(seed),
            )  # fmt: skip
            assert found == ledger.figure("book", at, "sheet_rolls")
            seen[joints] += 1
    assert min(seen["whole strips"], seen["cross joints"]) > 5


def test_rolls_of_a_floor_from_its_size_alone() -> None:
    """Floor 6.2 × 3.4, turned up 0.4: sheet 7.0 × 4.2, lap 0.3.

    From rolls 4 × 25: along A (4.2 − 0.3) ÷ 3.7, up to 2 strips of 7.0, 3 to a roll: 1 roll.
    From rolls 2 × 8: along A (4.2 − 0.3) ÷ 1.7 = 2.3, up to 3 strips, 1 to a roll: 3 rolls; along B
    (7.0 − 0.3) ÷ 1.7 = 3.9, up to 4 strips of 4.2, 1 to a roll: 4 rolls. A roll of 4 m is shorter
    than the sheet along either side.
    """
    floor = FUNCTIONS["DAMP_DPM_ROLLS_FLOOR"]
    assert call_from_cell(floor, 6.2, 3.4, 400, 4000, 25, "nhbc_2024") == 1
    assert call_from_cell(floor, 6.2, 3.4, 400, 2000, 8, "nhbc_2024") == 3
    refused(call_from_cell(floor, 6.2, 3.4, 400, 2000, 4, "nhbc_2024"), "roll length: found 4; ")


# The line of a demand, its function, how many pieces a row of openings has, and how long one is.
PIECES = {
    "trays": ("TRAY_ROLLS_ONE_PIECE", "with_tray", "tray_length"),
    "closers": ("CLOSER_COUNT", "with_closers", "closer_each"),
}


def test_pieces_cut_whole_are_those_of_the_workbook() -> None:
    """Trays in one piece and closers, all openings that ask for one length together."""
    seen = Counter[str]()
    for seed in range(60 if LONG else 30):
        ledger = worked_out(f"job{seed}")
        asking: dict[int, list[tuple[str, int]]] = {}
        for n, need in enumerate(ledger.rows["needs"], 1):
            asking.setdefault(int(ledger.figure("needs", n, "demand")), []).append(
                (need["line"], need["at"])
            )
        for demand in range(1, len(ledger.rows["demands"]) + 1):
            pick = ledger.figure("demands", demand, "pick")
            lines = {line for line, _ in asking[demand]}
            if not pick or len(lines) > 1 or not ledger.figure("demands", demand, "in_pieces"):
                continue
            if (line := lines.pop()) in PIECES:
                function, number, length = PIECES[line]
                rows = [at for _, at in asking[demand]]
                pieces = sum(ledger.figure("openings", at, number) for at in rows)
                long = ledger.figure("openings", rows[0], length)
                roll = ledger.figure("book", int(pick), "length")
                found = call_from_cell(FUNCTIONS["DAMP_" + function], pieces, long, roll)
                assert alike(found, ledger.figure("demands", demand, "rolls"))
                seen[function] += 1
                seen["of several openings"] += len(rows) > 1
    assert len(seen) == 3
    assert min(seen.values()) > 3


def test_laps_at_corners_are_those_of_the_workbook() -> None:
    """Each as wide as the DPC chosen."""
    seen = 0
    for seed in range(30):
        ledger = worked_out(f"job{seed}")
        for n, need in enumerate(ledger.rows["needs"], 1):
            demand = int(ledger.figure("needs", n, "demand"))
            if need["line"] == "outer_dpc" and demand and ledger.figure("demands", demand, "pick"):
                corners = ledger.figure("walls", need["at"], "corners")
                width = ledger.figure("demands", demand, "width_laid")
                found = call_from_cell(FUNCTIONS["DAMP_DPC_CORNER_LAP_LENGTH"], corners, width)
                assert alike(found, ledger.figure("needs", n, "corner_laps"))
                seen += corners > 0
    assert seen > 5


def basis_text_of(seed: int) -> str:
    return basis_text(random_job(seed))


def test_rows_are_data() -> None:
    """No function works anything out: what a row cannot say is asked of the basis, and only that."""
    for module in DEFINITIONS:
        tree = ast.parse((ROOM / f"{module}.py").read_text("utf-8"))
        found = [n for n in ast.walk(tree) if isinstance(n, ast.Lambda | ast.FunctionDef)]
        names = {getattr(n, "name", "lambda") for n in found}
        assert names == {"dpm": {"_laid"}, "bases": {"lambda"}}.get(module, set())
    assert {f.name for f in ALL if not f.rules} == {"DAMP_BASIS_FIGURE", "DAMP_BASIS_SOURCE"}


@pytest.mark.parametrize("function", [f for f in ALL if f.fixed], ids=lambda f: f.name)
def test_what_is_fixed_is_needed(function: Function) -> None:
    """Without it the figure cannot be asked, or rests on an allowance that plays no part in it."""
    for place in function.fixed:
        others = replace(function, fixed={k: v for k, v in function.fixed.items() if k != place})
        try:
            read = others.allowances
        except LookupError:
            continue
        assert set(read) > set(function.allowances), place


ONLY_HERE = {"walls.moved", "book.micrometres"}  # the workbook has no such column


@pytest.mark.parametrize(
    "function", [f for f in ALL if f.rules], ids=[f.name for f in ALL if f.rules]
)
def test_asks_the_rules_of_the_workbook(function: Function) -> None:
    """The lists that travel with the functions lead to the same rules as the whole plan does."""
    if function.figure in ONLY_HERE:
        return
    fixed = {p: v for p, v in function.fixed_places.items() if p != "book.piece"}
    keys = {k.name for k in KEYS} if function.arguments[-1].name == "basis" else ()
    asked = Asked(workbook_plan(), [str(function.figure)], function.places.values(), fixed, keys,
                  SHIPPED_ROWS)  # fmt: skip
    assert asked.rules
    assert set(asked.rules) <= set(function.rules)
    given = [v for v, a in zip(function.example.given, function.arguments, strict=True)
             if a.name != "basis"]  # fmt: skip
    basis = guidance(function.example.given[-1]) if keys else None
    [found] = asked(*given, *(basis(k) for k in asked.names)) if basis else asked(*given)
    assert alike(found, function.example.gives)


# ---- names, units, help ----------------------------------------------------------------------


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_name_is_legal_in_every_host(function: Function) -> None:
    """Letters and underscores, at most 64. No digit, so that none reads as a cell."""
    assert re.fullmatch(r"DAMP(_[A-Z]+)+", function.name)
    assert len(function.name) <= 64


# Units, and what could be taken for rounding.
WORDS_NEVER = {"METRES", "MILLIMETRES", "MICROMETRES", "TONNES", "ROUND"}


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_name_says_the_thing_and_the_measure(function: Function) -> None:
    words = set(function.method.split("_"))
    assert not words & WORDS_NEVER
    assert len(words) > 1


def test_the_table_of_old_names_leads_to_functions() -> None:
    table = re.findall(r"^\| `(DAMP_\w+)` \| `(DAMP_\w+)` \|$", CHANGELOG.read_text("utf-8"), re.M)
    assert len(table) > 40
    assert {new for _, new in table} <= set(FUNCTIONS)
    assert not {old for old, _ in table} & set(FUNCTIONS)


def test_names_are_unique_whatever_their_case() -> None:
    assert len({n.lower() for n in NAMES}) == len(NAMES) > 60


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_says_what_it_is_in_which_unit(function: Function) -> None:
    assert function.meaning.endswith(".")
    assert len(function.described) <= 255
    assert all(a.help for a in function.arguments)
    if not callable(function.figure):
        for name, places in function.places.items():
            for unit in (item_at(p).unit for p in places):  # an amount is in a material's own unit
                assert unit is AMOUNT or ARGUMENTS[name].unit.sign == unit.sign, name


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_basis_comes_last_and_is_never_left_out(function: Function) -> None:
    order = [a.name for a in function.arguments]
    assert "basis" not in order[:-1]
    if order[-1] == "basis":
        found = call_from_cell(function, *function.example.given[:-1], None)
        refused(found, "basis: found nothing; accepted: ", "'NHBC Standards (2024)'")


def test_arguments_stand_in_one_order() -> None:
    """Two arguments that meet in several functions always stand in the same order."""
    before: set[tuple[str, str]] = set()
    for function in ALL:
        order = [a.name for a in function.arguments]
        before |= {(a, b) for n, a in enumerate(order) for b in order[n + 1 :]}
    assert {(a, b) for a, b in before if (b, a) in before} == set()


# ---- what is refused -------------------------------------------------------------------------


def given_but(function: Function, place: int, value: Any) -> Any:
    values = list(function.example.given)
    values[place] = value
    return call_from_cell(function, *values)


def places(text: bool) -> list[Any]:
    """One function for every argument there is."""
    found: dict[str, tuple[Function, int]] = {}
    for function in ALL:
        for place, argument in enumerate(function.arguments):
            if argument.unit.text is text:
                found.setdefault(argument.name, (function, place))
    return [pytest.param(f, p, f.arguments[p], id=name) for name, (f, p) in found.items()]


WRONG_KINDS = (
    (None, "found nothing"),
    ("", "found a blank cell"),
    ("  ", "found a blank cell"),
    ("abc", "found 'abc'"),
    ("12", "found '12'"),
    (True, "found TRUE"),
    (datetime.date(2026, 3, 1), "found a date or time, 2026-03-01"),
    (datetime.datetime(2026, 3, 1, 9, 30), "found a date or time"),
    (datetime.time(9, 30), "found a date or time"),
    (math.nan, "found nan"),
    (math.inf, "found inf"),
    (object(), "found a value of kind object"),
    ("#N/A", "found an error of another cell"),
    ("#SPILL!", "found an error of another cell"),
    (-2146826246, "found an error of another cell"),
    ("Check: width: found nothing.", "found an error of another cell"),
    (Refusal("no figure."), "found an error of another cell"),
)


@pytest.mark.parametrize(("function", "place", "argument"), places(text=False))
def test_every_number_is_checked(function: Function, place: int, argument: Argument) -> None:
    name = argument.name.replace("_", " ")
    for value, words in WRONG_KINDS:
        refused(given_but(function, place, value), f"{name}: {words}", argument.accepted)
    step = 1 if argument.unit is EACH else 0.001
    for value in (argument.least - step, argument.most + step):
        refused(given_but(function, place, value), f"{name}: found ", argument.accepted)
    if argument.unit is EACH:
        refused(given_but(function, place, argument.least + 0.5), argument.accepted)
        assert "a whole number" in argument.accepted
    if argument.least > 0:
        refused(
            given_but(function, place, 0), f"{name}: found 0 or a blank cell", argument.accepted
        )


@pytest.mark.parametrize(("function", "place", "argument"), places(text=True))
def test_every_text_is_checked(function: Function, place: int, argument: Argument) -> None:
    for value, words in WRONG_KINDS:
        refused(given_but(function, place, value), f"{argument.name}: ".replace("_", " ") + words)
    for value in ("no such", 0, 0.0, 3, False):
        refused(given_but(function, place, value), f"{argument.name.replace('_', ' ')}: found ")
    good = function.example.given[place]
    assert alike(given_but(function, place, good.upper()), function.example.gives)


@pytest.mark.parametrize("name", [n for n, a in ARGUMENTS.items() if not a.unit.text])
def test_nought_is_legal_only_where_it_is_said(name: str) -> None:
    """Calc hands a blank cell over as 0: where 0 counts, the help says what it stands for."""
    argument = ARGUMENTS[name]
    if argument.least <= 0:
        says_so = "0 for" in argument.help or "0 where" in argument.help
        assert says_so or name.endswith("_level"), name


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_too_few_and_too_many(function: Function) -> None:
    values = function.example.given
    refused(call_from_cell(function, *values[:-1]), f"{function.name}: found {len(values) - 1} arg")
    refused(call_from_cell(function, *values, 1), f"found {len(values) + 1} argument")


def test_two_arguments_that_do_not_go_together() -> None:
    cases = (
        ("DPC_ROLLS", (10, 0, 0.5, 5, "nhbc_2024; dpc_lap=500"), "roll length"),
        ("DPM_STRIP_COUNT", (30, 30, 4000, 25, "whole strips", "nhbc_2024"), "roll length"),
        ("CLOSER_COUNT", (1, 2.4, 2.0), "stock length"),
        ("TRAY_ROLLS_ONE_PIECE", (1, 9, 8), "roll length"),
        ("CUT_IN_UNIT_COUNT", (1, 3.6, 225, 0.3, 300), "unit lap"),
        ("WEEP_COUNT", (3, 450, "nhbc_2024; weep_spacing=225; weep_from_end=225"), "brick"),
        ("HARDCORE_DEPTH", (0, -0.2, 65, 100, 100, "common_practice"), "formation level"),
        ("CLIENT_PRICE", (100, "margin on price", 100, 20, "standard"), "profit percent"),
        ("VAT_CHARGED", (100, 5, "standard"), "vat percent"),
        ("VAT_CHARGED", (100, 0, "reverse charge"), "vat percent"),
        ("DPM_STRIP_COUNT", (3, 3, 250, 25, "whole strips", "nhbc_2024"), "roll width"),
        (
            "DPM_ROLLS",
            (3, 3, 4000, 0.5, "cross joints", 0, "nhbc_2024; dpm_lap=500"),
            "roll length",
        ),
        ("DPC_ROLLS", (0, 50, 30, 5, "nhbc_2024"), "net"),
        ("DPC_LAID_LENGTH", (0, 50, 30, "nhbc_2024"), "net"),
        ("TRAY_ROLLS", (0, 1, 8, 5, "project_specification_2014"), "net"),
        ("DPM_TURN_UP", (150, -0.175, "common_practice"), "dpc level"),  # typed in millimetres
        ("DPC_END_AND_STEP_LENGTH", (0, 2, 0, "nhbc_2024"), "step rise"),
        ("DPC_END_AND_STEP_LENGTH", (0, 0, 150, "nhbc_2024"), "step rise"),
        ("RUN_LENGTH_MOVED", (1, 125, 4, 0), "length"),
        ("DPC_OUTER_LENGTH", (0.4, "outside face", 102.5, 100, 100, 4, 0), "length"),
        ("DPC_INNER_LENGTH", (1, "outside face", 102.5, 100, 100, 4, 0), "length"),
        ("DPC_OUTER_LENGTH", (11, "inside face", 102.5, 100, 0, 2, 0), "inner leaf"),
        ("DPC_INNER_LENGTH", (11, "inside face", 102.5, 0, 100, 2, 0), "inner leaf"),
        ("TRAY_WIDTH", (102.5, 0, "nhbc_2024; tray_build_in=100"), "cavity"),
    )
    for method, values, argument in cases:
        found = call_from_cell(FUNCTIONS[f"DAMP_{method}"], *values)
        refused(found, f"{argument}: found ")
        shown = values[[a.name for a in FUNCTIONS[f"DAMP_{method}"].arguments].index(
            argument.replace(" ", "_"))]  # fmt: skip
        words = f"{shown:g}" if shown else "0 or a blank cell"
        assert f"found {words}; accepted: " in found.sentence


def test_a_solid_wall_has_an_outer_leaf_alone() -> None:
    """215 mm solid, measured inside: 11 + 2 × 0.1075 × 2 on its centre line; no inner leaf."""
    wall = (11, "inside face", 215, 0, 0, 2, 0)
    assert call_from_cell(FUNCTIONS["DAMP_DPC_OUTER_LENGTH"], *wall) == pytest.approx(11.43)
    assert call_from_cell(FUNCTIONS["DAMP_DPC_INNER_LENGTH"], *wall) == 0


def test_a_number_is_judged_as_its_cell_shows_it() -> None:
    """Worked-out figures carry binary noise: a cell that shows 8 is 8 trays, and 0.1 m is 0.1 m."""
    assert (0.1 + 0.7) * 10 != 8
    assert call_from_cell(FUNCTIONS["DAMP_TRAY_STOP_END_COUNT"], (0.1 + 0.7) * 10) == 16
    assert 0.3 - 0.2 < 0.1
    side = call_from_cell(FUNCTIONS["DAMP_DPM_SHEET_LENGTH"], 0.3 - 0.2, 0, 0)
    assert side == pytest.approx(0.1)
    refused(
        call_from_cell(FUNCTIONS["DAMP_TRAY_STOP_END_COUNT"], 7.9999999),
        "found 7.9999999; accepted: ",
    )


# ---- whole columns ---------------------------------------------------------------------------

COUNT = FUNCTIONS["DAMP_WEEP_COUNT"]
BASIS = "nhbc_2024; weep_from_end=225"


def column(*values: Any) -> tuple[tuple[Any, ...], ...]:
    return tuple((v,) for v in values)


@pytest.mark.parametrize("function", ALL, ids=NAMES)
def test_a_column_gives_what_its_rows_give(function: Function) -> None:
    """All arguments as columns, each alone as a column, and one row of it wrong."""
    given, gives = function.example.given, function.example.gives
    all_columns = call_from_cell(function, *(column(v, v, v) for v in given))
    assert len(all_columns) == 3
    assert all(alike(found, gives) for found in all_columns)
    for place in range(len(given)):
        found = given_but(function, place, column(given[place], "?", given[place]))
        assert alike(found[0], gives)
        assert alike(found[2], gives)
        refused(found[1], "found '?'")


def test_blank_rows_at_the_end_are_spare_and_no_others() -> None:
    found = call_from_cell(COUNT, column(1.5, "", 3, "", None), 225, BASIS)
    assert found[0] == 4
    refused(found[1], "tray length: found a blank cell")
    assert found[2] == 7
    assert found[3:] == ["", ""]
    assert call_from_cell(COUNT, column("", ""), 225, BASIS) == ["", ""]
    half = call_from_cell(COUNT, column(1.5, 1.5), column(225, ""), BASIS)
    refused(half[1], "brick: found a blank cell")


def test_a_column_of_the_whole_sheet_is_not_filled_with_blanks() -> None:
    """Rows of the largest sheet: those below the last filled one are left out."""
    assert call_from_cell(COUNT, column(1.5, *[""] * 1048575), 225, BASIS) == [4, ""]
    assert call_from_cell(COUNT, column(*[""] * 20000), 225, BASIS) == [""]
    assert len(call_from_cell(COUNT, column(1.5, *[""] * 10000), 225, BASIS)) == 10001


def test_columns_that_do_not_fit() -> None:
    uneven = call_from_cell(COUNT, column(1, 2, 3), column(225, 225), BASIS)
    refused(uneven, "brick: found 2 rows; accepted: 3 rows, as many as tray length")
    refused(call_from_cell(COUNT, ((1, 2),), 225, BASIS), "tray length: found 2 columns")
    refused(call_from_cell(COUNT, ((),), 225, BASIS), "tray length: found 0 columns")
    refused(call_from_cell(COUNT, (), 225, BASIS), "tray length: found 0 columns")


def test_an_area_of_one_cell_is_that_cell() -> None:
    assert call_from_cell(COUNT, ((1.5,),), ((225,),), ((BASIS,),)) == 4


def test_why_a_column_has_no_figures() -> None:
    found = why(COUNT, column(1.5, "x", ""), 225, BASIS)
    assert found[0] == found[2] == ""
    assert found[1].startswith("tray length: found 'x'; accepted: a number from ")


# ---- guidance --------------------------------------------------------------------------------

LABELS = {  # as the list on Start has them
    "england_adc_2013": "Approved Document C (2004)",
    "common_practice": "Common practice in small masonry building, no document",
    "nhbc_2024": "NHBC Standards (2024)",
    "project_specification_2014": "UK project specification (2014)",
}


def test_a_basis_is_named_as_the_workbook_names_it() -> None:
    """In capitals or not, blanks round it or not, own figures after it or not."""
    offered = {r["name"]: r["label"] for r in basis_rows(shipped_bases())}
    assert offered | LABELS == offered
    for name, label in LABELS.items():
        for text in (label, label.upper(), f"  {label.lower()} "):
            assert guidance(text).name == name
        assert guidance(f"{label} ; dpm_lap=150")("dpm_lap") == 150
        assert label in FUNCTIONS["DAMP_DPM_TURN_UP"].arguments[-1].described
        assert name not in FUNCTIONS["DAMP_DPM_TURN_UP"].arguments[-1].described
    assert call_from_cell(FUNCTIONS["DAMP_BASIS_FIGURE"], "dpm_lap", "NHBC Standards (2024)") == 300
    for text in ("NHBC Standards", "NHBC  Standards (2024)", "NHBC Standards (2024) dpm_lap=150"):
        refused(call_from_cell(FUNCTIONS["DAMP_BASIS_FIGURE"], "dpm_lap", text), f"found '{text}'")


def test_a_basis_gives_what_its_file_says() -> None:
    for basis in shipped_bases():
        for key in KEYS:
            found = call_from_cell(FUNCTIONS["DAMP_BASIS_FIGURE"], key.name, basis.name)
            number = basis.values[key.name].number
            if number is None:
                refused(found, f"{key.name}: {LABELS[basis.name]} states no figure")
                assert found.unstated
            else:
                assert found == number
            source = call_from_cell(FUNCTIONS["DAMP_BASIS_SOURCE"], key.name, basis.name)
            value, own = basis.values[key.name], basis.document
            said = (value.document or own.name, value.edition or own.edition, value.source)
            for part in said:
                assert part in source, (basis.name, key.name, part)


def test_own_figures_stand_before_the_basis() -> None:
    assert guidance("nhbc_2024; dpm_lap=150")("dpm_lap") == 150
    assert guidance(" NHBC_2024 ;dpm_lap = 150.5; weep_from_end=300 ")("dpm_lap") == 150.5
    assert guidance("nhbc_2024")("dpm_lap") == 300
    assert guidance("nhbc_2024; dpm_lap=150").source("dpm_lap") == "own figure"


def test_the_allowance_that_is_wanting_is_named_and_no_other() -> None:
    """Approved Document C states nothing on head trays. Without a lintel a tray reaches past the
    opening, with one past the lintel; past the closers it reaches in either case."""
    own = "england_adc_2013; tray_past_closer=25"
    for lintel, key in ((0, "tray_past_opening"), (1.2, "tray_past_lintel")):
        found = call_from_cell(FUNCTIONS["DAMP_TRAY_LENGTH"], 0.9, lintel, 0, own)
        refused(found, f"{key}: Approved Document C (2004) states no figure")
        assert found.unstated
        assert (
            call_from_cell(FUNCTIONS["DAMP_TRAY_LENGTH"], 0.9, lintel, 0, f"{own}; {key}=150") > 1
        )


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("nhbc", "'nhbc'"),
        ("; dpm_lap=150", "'; dpm_lap=150'"),
        ("nhbc_2024; dpm_lap", "'dpm_lap'"),
        ("nhbc_2024; no_such=1", "'no_such=1'"),
        ("nhbc_2024; dpm_lap=150; dpm_lap=200", "'dpm_lap=200'"),
        ("nhbc_2024; dpm_lap=", "''"),
        ("nhbc_2024; dpm_lap=1e2", "'1e2'"),
        ("nhbc_2024; dpm_lap=-150", "'-150'"),
        ("nhbc_2024; dpm_lap=²00", "'²00'"),
        ("nhbc_2024; dpm_lap=49", "'49'"),
        ("nhbc_2024; dpm_lap=150,5", "'150,5'"),
        ("nhbc_2024; weeps_min=2.5", "'2.5'"),
        ("nhbc_2024;", "''"),
    ],
)
def test_a_basis_that_cannot_be_read(text: str, found: str) -> None:
    with pytest.raises(CellError) as caught:
        guidance(text)
    assert f"found {found}; accepted: " in str(caught.value)
    refused(call_from_cell(COUNT, 1.5, 225, text), f"found {found}")


# ---- what is carried -------------------------------------------------------------------------


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The core as it lies in the extension, under the name it has there."""
    folder = tmp_path_factory.mktemp("carried") / carried.CORE
    for name, content in carried.carried().items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return folder


def test_what_is_carried_needs_the_standard_library_alone(unpacked: Path) -> None:
    """In an isolated Python without any installed package, examples and all."""
    code = f"""
        import sys
        sys.path[:] = [p for p in sys.path if "site-packages" not in p and "dist-packages" not in p]
        sys.path.insert(0, {str(unpacked.parent)!r})
        from {carried.CORE}.functions import FUNCTIONS, call_from_cell
        for f in FUNCTIONS.values():
            found, wanted = call_from_cell(f, *f.example.given), f.example.gives
            assert found == wanted or abs(found - wanted) < 1e-9, (f.name, found)
        others = {{m.partition(".")[0] for m in sys.modules}} - sys.stdlib_module_names
        assert others == {{"{carried.CORE}", "__main__"}}, others
        print(len(FUNCTIONS))
        """
    done = subprocess.run(
        [sys.executable, "-I", "-S", "-c", textwrap.dedent(code)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == str(len(FUNCTIONS))


def test_the_core_has_the_name_the_host_looks_for() -> None:
    code = (extension.HOST / "damp_functions.py").read_text("utf-8")
    assert f'CORE = "{carried.CORE}"' in code
    assert f'SERVICE = "{extension.SERVICE}"' in code
    for name in ("damp_functions.py", "damp_rebind.py", "damp_menu.py"):
        ast.parse((extension.HOST / name).read_text("utf-8"), feature_version=(3, 8))


def test_the_same_functions_make_the_same_file() -> None:
    menu = calc_menu(["estimator"])
    assert extension.extension(menu) == extension.extension(menu)


def test_the_type_library_is_the_kits_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Against the bytes that the development kit's writer made of a small interface."""
    rows, text = interface.ROWS, interface.TEXT
    small = (
        interface.Method("ROLLS", rows, (("rollLength", "any"), ("basis", "any"))),
        interface.Method("WHY", rows, (("name", "any"), ("given", "[]any"))),
        interface.Method("HELLO", text, ()),
    )
    monkeypatch.setattr(interface, "methods", lambda: small)
    kept = Path(__file__).with_name("data") / "small_interface.rdb"
    assert interface.type_library("LibreOffice 7.4.7.2 unoidl-write") == kept.read_bytes()


def test_every_method_stands_in_the_interface() -> None:
    assert [m.name for m in interface.methods()] == [f.method for f in ALL] + ["WHY", "INSTALLED"]
    for name in ARGUMENTS:
        assert re.fullmatch(r"[a-z][A-Za-z]*", interface.argument_name(ARGUMENTS[name]))
