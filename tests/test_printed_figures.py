"""Figures on the command line: half up, and with the decimals of the cell that shows the same."""

import ast
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator import cli as commands
from estimator.cli.figures import as_given, figure, hours, money, quantity
from estimator.cli.main import main
from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job_file import read_job
from estimator.workbook.build import build

# Each is what a spreadsheet program shows; Python's own formatting prints the figure in brackets.
HALVES = [
    (quantity(9.975, "m"), "9.98"),  # (9.97)
    (quantity(28.5 * 0.35, "m"), "9.98"),  # (9.97)
    (quantity(1.005, "t"), "1.01"),  # (1.00)
    (quantity(2.5, "nr"), "3"),  # (2)
    (quantity(-0.001, "m"), "0.00"),  # (-0.00)
    (quantity(12520, "m"), "12,520.00"),
    (figure(0.5, "nr", 4), "   1"),  # (   0)
    (hours(1.0005), "1.001"),  # (1.000)
    (money(1000.115), "£1,000.12"),  # (£1,000.11)
    (as_given(149.6), "149.6"),
    (as_given(1234567), "1,234,567"),  # (1.23457e+06)
]


@pytest.mark.parametrize(("printed", "shown"), HALVES)
def test_half_up_as_a_sheet_shows_it(printed: str, shown: str) -> None:
    assert printed == shown


def test_decimals_are_those_of_the_sheets() -> None:
    built = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)

    def shown(table: str, column: str) -> str:
        span = built.layout.fronts[table]
        cell = built.workbook[span.sheet][f"{span.letters[column]}{span.first}"]
        return str(cell.number_format)

    def decimals(table: str, column: str) -> int:
        return len(shown(table, column).partition(";")[0].partition(".")[2])

    def printed(text: str) -> int:
        return len(text.partition(".")[2])

    for table, column in (
        *(("totals", "net"), ("totals", "laid"), ("totals", "ordered"), ("lines", "net")),
        *(("lines", "laps"), ("order_lines", "left")),
    ):
        assert decimals(table, column) == printed(quantity(1, "m")), (table, column)
    assert decimals("work_lines", "hours") == printed(hours(1))
    assert decimals("work_lines", "amount") == printed(money(1))
    assert decimals("order_lines", "packs") == printed(quantity(1, "nr"))
    # Of 149.6 mm where 150 are asked, neither says 150.
    assert {shown("checks", c) for c in ("found", "asked", "regulatory")} == {"General"}


def test_hours_of_the_demo_are_printed_as_the_work_sheet_shows_them(tmp_path: Path) -> None:
    text = DEMO_JOB.read_text("utf-8").replace("figure = 0.75\n", "figure = 0.84535\n")
    (tmp_path / "job.toml").write_text(text, "utf-8")
    prices = next(DEMO_JOB.parent.glob("garden_room_prices.csv"))
    (tmp_path / prices.name).write_bytes(prices.read_bytes())
    said = CliRunner().invoke(main, ["quantities", str(tmp_path / "job.toml")]).output
    # 12.30 m of trays × 0.84535 h/m = 10.39781 h; at £35, marked up
    assert "(10.398 hours)" in said


def test_no_command_shortens_a_figure_by_itself() -> None:
    """All decimals come from figures.py: another way to print them would round otherwise."""
    found = []
    for path in sorted(Path(commands.__file__).parent.glob("*.py")):
        if path.name == "figures.py":
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
                spec = ast.unparse(node.format_spec)
                if re.search(r"[fge]['\"]?$", spec):
                    found.append(f"{path.name}:{node.lineno} {spec}")
    assert not found
