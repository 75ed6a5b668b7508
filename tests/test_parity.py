"""Python = native formulas recalculated by LibreOffice = by Gnumeric = results in the file; and
what either program saved is read back as the same job.

This proves the translation, not the trade: the trade is proved in test_hand_worked.py.
"""

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter

from estimator import __version__
from estimator.estimate import BLANK_ROOM, USUAL_ROOM, Room, estimate
from estimator.job import Job, blank_job
from estimator.job_file import read_job
from estimator.plan import FILLED
from estimator.resources import DEMO_FORM, DEMO_JOB, JOB_TEMPLATE
from estimator.returned import truth
from estimator.returned.typed import read_back
from estimator.rules import NOT_AVAILABLE, whole
from estimator.rules.units import POUNDS
from estimator.workbook.build import Built, build
from estimator.workbook.cached import save

from .canonical import canonical
from .hosts import Figures, by_gnumeric, by_libreoffice, figures
from .over_cores import over_cores
from .random_jobs import random_job

# The short run takes a fifth of the jobs, another for each version; the long run takes them all.
ALL_JOBS, SLICES = 200, 5
SLICE = sum(int(n) for n in __version__.split(".")) % SLICES
JOBS = os.environ.get("PARITY_JOBS", "")  # "all", or how many while working
SEEDS = (
    range(SLICE, ALL_JOBS, SLICES) if not JOBS else range(ALL_JOBS if JOBS == "all" else int(JOBS))
)
SMALL_ROOM = Room({t.name: 1 for t in FILLED if t.grows}, lines=3)

pytestmark = pytest.mark.host


@dataclass
class Case:
    """One job's workbook, and whether a rounding on its way met an exact half-penny."""

    name: str
    job: Job
    path: Path
    built: Built
    half_penny: bool
    total: Any


@dataclass
class Halves:
    """Counts roundings of exact half-pennies, the one place where Gnumeric differs."""

    met: bool = False
    real: Any = field(default=staticmethod(whole.pence))

    def __call__(self, value: float) -> float:
        exact = Decimal(f"{value:.15g}") * 100
        self.met = self.met or abs(exact % 1) == Decimal("0.5")
        return float(self.real(value))


def _case(name: str, job: Any, room: Room, folder: Path, monkeypatch: Any) -> Case:
    halves = Halves()
    monkeypatch.setattr(whole, "pence", halves)
    ledger = estimate(job, room)
    built = build(ledger, JOB_TEMPLATE, room)
    monkeypatch.undo()
    path = folder / f"{name}.xlsx"
    save(built.workbook, built.results, path)
    # Two hundred workbooks in memory are five gigabytes; what is compared is the rest of each.
    compared = replace(built, workbook=None)
    return Case(name, job, path, compared, halves.met, ledger.cell("quote_total"))


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> list[Case]:
    folder = tmp_path_factory.mktemp("parity")
    monkeypatch = pytest.MonkeyPatch()
    found = [_case("demo", read_job(DEMO_JOB), USUAL_ROOM, folder, monkeypatch)]
    found.append(_case("form", read_job(DEMO_FORM), USUAL_ROOM, folder, monkeypatch))
    found.append(_case("blank", blank_job("common_practice"), BLANK_ROOM, folder, monkeypatch))
    for seed in SEEDS:
        found.append(_case(f"job{seed}", random_job(seed), SMALL_ROOM, folder, monkeypatch))
    return found


@pytest.fixture(scope="module")
def recalculated(cases: list[Case], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("hosts")
    return by_libreoffice([c.path for c in cases], folder)


@pytest.fixture(scope="module")
def by_second_host(cases: list[Case], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    return by_gnumeric([c.path for c in cases], tmp_path_factory.mktemp("second"))


def differences(built: Built, shown: Figures, money: bool = True) -> Iterator[str]:
    """Every formula cell that shows something else than Python worked out."""
    for sheet, results in built.results.items():
        for (row, column), result in results.items():
            unit = built.units[sheet][row, column]
            if unit is POUNDS and not money:
                continue
            address = f"{get_column_letter(column)}{row}"
            found = shown[sheet].get(address, "")
            if not _alike(result, found, unit.exact):
                yield f"{sheet}!{address}: Python {result!r}, shown {found!r}"


def _alike(result: Any, found: Any, exact: bool) -> bool:
    if result is NOT_AVAILABLE:
        return bool(found == "#N/A")
    if isinstance(result, str) or isinstance(found, str):
        return bool(result == found)
    if exact:
        return bool(result == found)
    return abs(result - found) <= 1e-9 * max(1.0, abs(result))


def agree_each(cases: list[Case], compare: Callable[[Case], Iterable[str]]) -> None:
    """No case differs; those that do are named, each with its first cells."""
    found = over_cores(lambda c: list(compare(c))[:3], cases)
    assert {c.name: cells for c, cells in zip(cases, found, strict=True) if cells} == {}


def test_the_random_jobs_are_worth_comparing(cases: list[Case]) -> None:
    priced = [c for c in cases if c.total is not NOT_AVAILABLE]
    assert len(priced) > len(cases) / 4, "too few of the jobs can be priced at all"
    assert len(priced) < len(cases), "none of the jobs meets a need that nothing covers"
    assert any(c.half_penny for c in cases), "no job meets a half-penny"
    assert sum(not c.half_penny for c in cases) > len(cases) / 4


def test_results_in_the_file_are_those_of_python(cases: list[Case]) -> None:
    agree_each(cases, lambda c: differences(c.built, figures(c.path)))


def test_libreoffice_recalculates_the_same(
    cases: list[Case], recalculated: dict[str, Path]
) -> None:
    agree_each(cases, lambda c: differences(c.built, figures(recalculated[c.name])))


def test_gnumeric_recalculates_the_same(cases: list[Case], by_second_host: dict[str, Path]) -> None:
    agree_each(
        cases,
        lambda c: differences(c.built, figures(by_second_host[c.name]), money=not c.half_penny),
    )


@pytest.mark.parametrize("host", ["as written", "LibreOffice", "Gnumeric"])
def test_what_comes_back_is_the_same_job(host: str, cases: list[Case], request: Any) -> None:
    """Round trip: equal models, equal totals, and nothing that differs from what is worked out."""
    if host == "as written":
        saved = {c.name: c.path for c in cases}
    else:
        fixture = "recalculated" if host == "LibreOffice" else "by_second_host"
        saved = request.getfixturevalue(fixture)
    # Every cell is compared above; that the truth check finds nothing needs fewer files.
    held = {c.name for n, c in enumerate(cases) if n < 3 or n % 10 == 0}

    def wrong(case: Case) -> Iterator[str]:
        returned = read_back(saved[case.name])
        if canonical(returned.job) != canonical(case.job):
            yield "another job"
        if estimate(returned.job).cell("quote_total") != case.total:
            yield "another total"
        if case.name in held and (host != "Gnumeric" or not case.half_penny):
            ledger = truth.laid_ledger(returned)
            yield from (d.sentence for d in truth.differences(returned, ledger))

    agree_each(cases, wrong)


def test_gnumeric_rounds_a_half_penny_down(tmp_path: Path) -> None:
    """The one stated exception: a product that is an exact half-penny in decimals."""
    price, markup = 91.82, 1.25  # 114.775 by hand
    book = Workbook()
    sheet = book.active
    sheet["A1"], sheet["B1"], sheet["C1"] = price, markup, "=ROUND(A1*B1,2)"
    path = tmp_path / "half.xlsx"
    book.save(path)
    (lo,) = by_libreoffice([path], tmp_path).values()
    (gn,) = by_gnumeric([path], tmp_path).values()
    assert whole.pence(price * markup) == 114.78
    assert figures(lo)["Sheet"]["C1"] == 114.78
    assert figures(gn)["Sheet"]["C1"] == 114.77


def test_a_broken_formula_is_noticed(cases: list[Case], tmp_path: Path) -> None:
    """Parity that could not fail would prove nothing."""
    case = cases[0]
    span = case.built.layout.spans["openings"]
    book = load_workbook(case.path)
    cell = book[span.sheet][f"{span.letters['weeps_each']}{span.first}"]
    assert "MIN(" in cell.value
    cell.value = cell.value.replace("MIN(", "MAX(")
    broken = tmp_path / "broken.xlsx"
    book.save(broken)
    (lo,) = by_libreoffice([broken], tmp_path).values()
    wrong = list(differences(case.built, figures(lo)))
    assert any(w.startswith(f"{span.sheet}!{cell.coordinate}:") for w in wrong)
