"""Two words of the language on a small list of their own: the row above, and a row of slots.

Pieces in falling order, each into the fullest roll it fits ("best fit decreasing"). The rolls are
slots. Worked by hand: rolls of 10 m; 6, 5, 5, 4, 3, 3, 2, 1 (29 m, so at least 3 rolls).
6 → roll 1 (4 left). 5 → roll 2 (5). 5 → roll 2 (0). 4 → roll 1 (0). 3 → roll 3 (7). 3 → roll 3 (4).
2 → roll 3 (2). 1 → roll 3 (1). Three rolls, 1 m left.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from estimator.language import (
    Plan,
    Table,
    Worked,
    least,
    less,
    most,
    number,
    rule,
    same,
    where,
    worked,
)
from estimator.language.formulas import Formulas, in_row
from estimator.language.ledger import Ledger
from estimator.language.plan import PlanError
from estimator.language.tables import POSITION, slots, text
from estimator.language.units import METRES, Each, Metres, Text

from .hosts import by_gnumeric, by_libreoffice, figures

ROLLS = 4


@rule
def room(above_holds: Each, above_rest: Metres, roll_metres: Metres) -> Metres:
    """What the roll has left before this piece: all of it until something came from it."""
    return where(less(0, above_holds), above_rest, roll_metres)


@rule
def fits(room: Metres, length: Metres) -> Metres:
    """The room of a roll that the piece fits, and more than any roll has where it does not."""
    return where(less(room, length), 99, room)


@rule
def tightest(*fits: Metres) -> Metres:
    """The least room that will do."""
    return least(*fits)


@rule
def roll_taken(
    tightest: Metres, fits_1: Metres, fits_2: Metres, fits_3: Metres, fits_4: Metres
) -> Each:
    """The first of the fullest rolls that it fits."""
    return where(
        same(fits_1, tightest),
        1,
        where(same(fits_2, tightest), 2, where(same(fits_3, tightest), 3, 4)),
    )


@rule
def rest(slot: Each, room: Metres, roll_taken: Each, length: Metres) -> Metres:
    """What the roll has left after this piece."""
    return room - where(same(slot, roll_taken), length, 0)


@rule
def holds(slot: Each, above_holds: Each, roll_taken: Each) -> Each:
    """Pieces out of the roll so far."""
    return above_holds + where(same(slot, roll_taken), 1, 0)


@rule
def so_far(above_so_far: Metres, length: Metres) -> Metres:
    """All pieces down to this one."""
    return above_so_far + length


@rule
def used(*holds: Each) -> Each:
    """Rolls that something came from."""
    return most(*holds)


PIECES = Table(
    "pieces",
    "piece",
    "Pieces",
    (
        text("mark", "Piece"),
        number("length", "Length", METRES, 0.1, 10),
        *slots(room, "Room", "room", ROLLS),
        *slots(fits, "Fits", "fits", ROLLS),
        worked(tightest, "Tightest"),
        worked(roll_taken, "From roll"),
        *slots(rest, "Left", "rest", ROLLS),
        *slots(holds, "Pieces", "holds", ROLLS),
        worked(so_far, "So far"),
        worked(used, "Most from one roll"),
    ),
)
PLAN = Plan([PIECES], [number("roll_metres", "Roll", METRES, 1, 50)], {})
LENGTHS = (6, 5, 5, 4, 3, 3, 2, 1)
ROWS = [{"mark": f"P{n}", "length": length} for n, length in enumerate(LENGTHS, 1)]
# By hand, as above: which roll each piece comes from, and what is left of the four at the end.
TAKEN = [1, 2, 2, 1, 3, 3, 3, 3]
LEFT = [0, 0, 1, 10]


def test_pieces_go_into_the_fullest_roll_they_fit() -> None:
    ledger = Ledger(PLAN, {"pieces": ROWS}, {"roll_metres": 10})
    assert ledger.column("pieces", "roll_taken") == TAKEN
    assert [ledger.column("pieces", f"rest_{n}")[-1] for n in range(1, 5)] == LEFT
    assert ledger.column("pieces", "so_far") == [6, 11, 16, 20, 23, 26, 28, 29]
    assert ledger.column("pieces", "used")[-1] == 4  # four pieces came from the third roll


def test_each_step_is_rounded_to_six_places() -> None:
    """0.1 three times is 0.30000000000000004 in binary, so that a tie with 0.3 would be missed."""
    rows = [{"mark": f"P{n}", "length": 0.1} for n in range(1, 4)]
    assert (
        Ledger(PLAN, {"pieces": rows}, {"roll_metres": 0.3}).column("pieces", "so_far")[-1] == 0.3
    )


def test_a_spare_row_passes_nothing_down() -> None:
    rows = [ROWS[0], {}, ROWS[1]]
    ledger = Ledger(PLAN, {"pieces": rows}, {"roll_metres": 10})
    assert ledger.column("pieces", "so_far") == [6, 0, 5]


class _Sheet:
    """Addresses in a sheet of one list, heading in row 1."""

    letters: Mapping[str, str] = {
        name: f"{chr(65 + n // 26 - 1) if n >= 26 else ''}{chr(65 + n % 26)}"
        for n, name in enumerate((POSITION, *(c.name for c in PIECES)))
    }

    def own(self, table: str, column: str) -> str:
        return f"${self.letters[column]}{{r}}"

    def whole(self, table: str, column: str, seen_from: str) -> str:
        letter = self.letters[column]
        return f"${letter}$2:${letter}${len(ROWS) + 1}"

    def said_at(self, table: str, column: str) -> str | None:
        return None  # typed where it is worked out

    def cell_said_at(self, name: str, in_list: bool) -> str | None:
        return None


def _written(path: Path) -> Path:
    book, sheet = Workbook(), _Sheet()
    page = book.active
    assert page is not None
    formulas = Formulas(PLAN, sheet)
    for name, letter in sheet.letters.items():
        page[f"{letter}1"] = name
        for row in range(2, len(ROWS) + 2):
            if name == POSITION:
                page[f"{letter}{row}"] = row - 1
            elif isinstance(item := PIECES.column(name), Worked):
                formula = in_row(formulas.column(PIECES, item), row)
                assert len(formula) < 300
                page[f"{letter}{row}"] = "=" + formula.replace("roll_metres", "10")
            else:
                page[f"{letter}{row}"] = ROWS[row - 2][name]
    book.save(path)
    return path


@pytest.mark.host
@pytest.mark.parametrize("recalculated", [by_libreoffice, by_gnumeric])
def test_hosts_agree(recalculated: Any, tmp_path: Path) -> None:
    file = _written(tmp_path / "pieces.xlsx")
    (cells,) = figures(recalculated([file], tmp_path)["pieces"]).values()
    ledger = Ledger(PLAN, {"pieces": ROWS}, {"roll_metres": 10})
    compared = 0
    for item in PIECES:
        if isinstance(item, Worked):
            letter = _Sheet.letters[item.name]
            shown = [cells[f"{letter}{row}"] for row in range(2, len(ROWS) + 2)]
            assert shown == ledger.column("pieces", item.name), item.name
            compared += len(shown)
    assert compared == 20 * len(ROWS)


def test_it_is_refused_outside_its_own_list() -> None:
    other = Table("others", "other", "Others", (text("mark", "Mark"), worked(so_far, name="sum")))
    plan = Plan([PIECES, other], [number("roll_metres", "Roll", METRES, 1, 50)], {})
    with pytest.raises(PlanError, match="others, sum: nothing is called 'above_so_far'"):
        plan.sources(other.column("sum"), other)  # type: ignore[arg-type]
    alone = worked(so_far, name="the_sum")
    with pytest.raises(PlanError, match="nothing is called 'above_so_far'"):
        Plan([PIECES], [alone], {}).sources(alone, None)
    slotted = worked(used, name="the_most")
    with pytest.raises(PlanError, match="no numbered columns are called 'holds'"):
        Plan([PIECES], [slotted], {}).sources(slotted, None)


def test_a_text_is_not_passed_down() -> None:
    @rule
    def shown_above(above_mark: Text) -> Text:
        """The mark of the row above."""
        return where(same(above_mark, ""), "none", above_mark)

    table = Table("notes", "note", "Notes", (text("mark", "Mark"), worked(shown_above)))
    with pytest.raises(PlanError, match="only figures of a numbered list pass down"):
        Plan([table], [], {}).sources(table.column("shown_above"), table)  # type: ignore[arg-type]


def test_columns_that_wait_for_each_other_in_a_row_are_refused() -> None:
    @rule
    def one(above_one: Metres, other: Metres) -> Metres:
        """Needs the other."""
        return above_one + other

    @rule
    def other(one: Metres) -> Metres:
        """Needs the one."""
        return one

    table = Table("loops", "loop", "Loops", (text("mark", "Mark"), worked(one), worked(other)))
    with pytest.raises(PlanError, match="loops: one, other wait for each other"):
        Ledger(Plan([table], [], {}), {"loops": [{"mark": "A"}]}, {}).column("loops", "one")
