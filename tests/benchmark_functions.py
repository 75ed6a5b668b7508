"""What the functions cost in LibreOffice Calc, as ratios within one run.

Run: python -m tests.benchmark_functions [rows]. Times vary; ratios hold better.
"""

import sys
import time
from typing import Any

from estimator.functions import FUNCTIONS, call_from_cell
from estimator.language.tracing import Ref
from estimator.takeoff.openings import weeps_over

from .addin_host import Calc, calc

BASIS = "common_practice"  # weeps 450 apart, the first 225 from the end, at least 2
TIMES = 5


def timed(office: Calc, rows: int, *steps: Any) -> float:
    """A fresh workbook with a column of lengths and these steps: its full recalculation."""
    lengths = [[1 + n % 400 / 100] for n in range(rows)]
    answers = office.do(
        ["open", ""],
        ["put", "S", 0, 0, lengths],
        *steps,
        ["timed", TIMES],
        ["read", "S", f"B{rows}:B{rows}"],
        ["close"],
    )
    wanted = call_from_cell(FUNCTIONS["DAMP_WEEP_COUNT"], lengths[-1][0], 225, BASIS)
    assert answers[-2] == [[wanted]], answers[-2]
    return float(answers[-3])


def main(rows: int) -> None:
    def column(formula: str) -> list[Any]:
        return ["put", "S", 0, 1, [["=" + formula.replace("A1", f"A{n}")]
                                   for n in range(1, rows + 1)]]  # fmt: skip

    native = weeps_over(Ref("A1"), 225, 450, 2).text.replace(",", ";")  # type: ignore[arg-type]
    with calc() as office:
        by_native = timed(office, rows, column(native))
        cells = timed(office, rows, column(f'DAMP_WEEP_COUNT(A1;225;"{BASIS}")'))
        whole = timed(office, rows, ["array", "S", f"B1:B{rows}",
                                     f'=DAMP_WEEP_COUNT(A1:A{rows};225;"{BASIS}")'])  # fmt: skip
        wrong = timed_errors(office, rows)
    start = time.perf_counter()
    call_from_cell(FUNCTIONS["DAMP_WEEP_COUNT"], [(1 + n % 400 / 100,) for n in range(rows)],
                   225, BASIS)  # fmt: skip
    python = time.perf_counter() - start
    print(f"{rows} rows, as multiples of native formulas in as many cells ({by_native:.3f} s):")
    print(f"  a function in each cell {cells / by_native:.0f}")
    print(f"  the whole column in one call {whole / by_native:.0f}")
    print(f"  the same call in Python, without Calc {python / by_native:.0f}")
    print(f"  a function that refuses in each cell {wrong / by_native:.0f}")


def timed_errors(office: Calc, rows: int) -> float:
    """Functions that all refuse."""
    formulas = [["=DAMP_WEEP_COUNT(0;225;1)"] for _ in range(rows)]
    answers = office.do(["open", ""], ["put", "S", 0, 1, formulas], ["timed", TIMES], ["close"])
    return float(answers[2])


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10000)
