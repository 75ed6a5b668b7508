"""One rule says what can be used: of a value, and as formula text of the cell that holds it."""

from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from estimator.language.tables import Input, number, text
from estimator.language.tracing import Ref, as_ref
from estimator.language.units import EACH, METRES, PERCENT
from estimator.model.usable import Around, mark_usable, usable, usable_or_offered

from .hosts import by_libreoffice, figures

LENGTH = number("length", "Length", METRES, 0, 12)
HEIGHT = number("height", "Height", METRES, 0.5, 3, required=False)
COUNT = number("number", "Number", EACH, 1, 50)
LOSS = number("loss", "Loss", PERCENT, 0, 100)
WORDS = text("words", "Words")
KIND = text("kind", "Kind", choices=("firm", "provisional"))
WALL = text("wall", "Wall", choice_of="walls.mark")
WASTAGE = number("waste", "Waste", PERCENT, 0, 100, required=False, under=("name", "named"))
LISTED = ("W1", "W2")

CASES: list[tuple[Input, Any, bool]] = [
    *((LENGTH, v, True) for v in (0, 5, 12)),
    *((LENGTH, v, False) for v in (-0.001, 12.0000001, "oops", "5", "")),
    *((HEIGHT, v, True) for v in (0.5, 3, "")),
    *((HEIGHT, v, False) for v in (0, 3.001, "high")),
    *((COUNT, v, True) for v in (1, 50)),
    *((COUNT, v, False) for v in (0, 2.5, 51, "two", "")),
    *((LOSS, v, True) for v in (0, 20, 0.2, 100)),
    *((LOSS, v, False) for v in (1, 0.004, 101, -5, "some", "")),
    *((WORDS, v, True) for v in ("Soil pipe", "7")),
    *((WORDS, v, False) for v in ("", " ")),
    *((KIND, v, True) for v in ("firm", "provisional")),
    *((KIND, v, False) for v in ("", "maybe", 1)),
    *((WALL, v, True) for v in LISTED),
    *((WALL, v, False) for v in ("", "W9", 1)),
]
MARKS = [("W1", True), ("", True), (" W1", False), ("W*", False), ("W=1", False), (7, False)]


def test_of_values() -> None:
    around = {i.name: Around(i.least, i.most, LISTED) for i, _, _ in CASES}
    told = [(i.name, v, bool(usable(i, v, around[i.name]))) for i, v, _ in CASES]
    assert told == [(i.name, v, can) for i, v, can in CASES]
    assert [(v, bool(mark_usable(v))) for v, _ in MARKS] == MARKS


@pytest.mark.host
def test_as_formula_text_of_cells(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    sheet.title = "Cells"
    for n, name in enumerate(LISTED, 1):
        sheet[f"D{n}"] = name
    tests = [
        usable(
            i, Ref(f"A{n}"), Around(Ref(f"{i.least or 0}"), Ref(f"{i.most or 0}"), Ref("$D$1:$D$2"))
        )
        for n, (i, _, _) in enumerate(CASES, 1)
    ]
    tests += [mark_usable(Ref(f"A{n}")) for n in range(len(CASES) + 1, len(CASES) + len(MARKS) + 1)]
    values = [*(v for _, v, _ in CASES), *(v for v, _ in MARKS)]
    for n, (value, test) in enumerate(zip(values, tests, strict=True), 1):
        # As an engine's cell reads what is typed: a blank is the empty text.
        sheet[f"A{n}"] = f'="{value}"' if isinstance(value, str) else value
        sheet[f"B{n}"] = f"=({as_ref(test).text})*1"
    file = tmp_path / "cells.xlsx"
    book.save(file)
    shown = figures(by_libreoffice([file], tmp_path)["cells"])["Cells"]
    told = [(v, bool(shown[f"B{n}"])) for n, v in enumerate(values, 1)]
    assert told == [*((v, can) for _, v, can in CASES), *MARKS]


@pytest.mark.parametrize(("name", "can"), [("Fernbank", True), ("", False)])
def test_a_figure_under_a_name_needs_it(name: str, can: bool) -> None:
    assert bool(usable(WASTAGE, 5, Around(0, 100, under=name))) is can
    assert usable(WASTAGE, "", Around(0, 100, under=name))
    formula = usable(WASTAGE, Ref("A1"), Around(Ref("0"), Ref("100"), under=Ref("named"))).text
    assert formula.startswith('(((A1="")+(named<>"")*')


def test_a_blank_is_what_the_form_says() -> None:
    """What is typed counts alone; a blank is as good as what is said there."""
    around = Around(0, 12)
    for typed, offered, can in [("", 5, True), ("", "", False), ("", 13, False), (4, 13, True)]:
        assert bool(usable_or_offered(LENGTH, typed, offered, around)) is can
    assert usable_or_offered(HEIGHT, "", 99, Around(0.5, 3)), "blank may be: nothing is asked of it"
    assert (bool(mark_usable("", "X1")), bool(mark_usable("", ""))) == (True, False)
