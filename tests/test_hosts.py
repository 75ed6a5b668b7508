"""The spreadsheet programs as the tests use them: kept open, started again, and never believed."""

import os
import signal
from pathlib import Path

import pytest
from openpyxl import Workbook

from . import hosts
from .hosts import SPOILT, by_ironcalc, by_libreoffice, drive, figures, spoilt

pytestmark = pytest.mark.host
SHOWN = [["show", "Sheet!B1"]]


@pytest.fixture
def doubled(tmp_path: Path) -> Path:
    """A file whose B1 is twice its A1, which is 3; with the result stored."""
    book = Workbook()
    assert book.active is not None
    book.active["A1"], book.active["B1"] = 3, "=A1*2"
    book.save(tmp_path / "doubled.xlsx")
    return by_libreoffice([tmp_path / "doubled.xlsx"], tmp_path)["doubled"]


def test_one_libreoffice_serves_again_and_again(doubled: Path) -> None:
    first = hosts._offices[-1]
    assert drive(doubled, [["set", "Sheet!A1", 5], *SHOWN]) == [None, 10]
    assert drive(doubled, SHOWN) == [6], "the file was closed and is as it was"
    assert hosts._offices == [first]


def test_a_libreoffice_that_is_gone_is_started_again(doubled: Path) -> None:
    first = hosts._offices[-1]
    os.killpg(first.process.pid, signal.SIGKILL)
    assert drive(doubled, SHOWN) == [6]
    assert hosts._offices != [first]
    assert not first.home.exists()


def test_what_goes_wrong_in_a_step_is_said_and_spoils_nothing(doubled: Path) -> None:
    first = hosts._offices[-1]
    with pytest.raises(AssertionError, match="NoSuchElementException"):
        drive(doubled, [["show", "Nowhere!B1"]])
    assert drive(doubled, SHOWN) == [6]
    assert hosts._offices == [first]


def test_results_that_are_spoilt_are_believed_by_nobody(doubled: Path) -> None:
    data = spoilt(doubled.read_bytes())
    file = doubled.with_name("spoilt.xlsx")
    file.write_bytes(data)
    assert figures(file, formulas_only=True) == {"Sheet": {"B1": SPOILT}}
    assert drive(file, SHOWN) == [6]
    assert drive(file, SHOWN, recalculate=False) == [SPOILT], "only where it is asked to"
    assert by_ironcalc(data, {"Sheet": [(1, 2)]}) == {"Sheet": {"B1": 6}}
