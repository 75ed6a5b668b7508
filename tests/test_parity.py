"""Python = native formulas recalculated by LibreOffice = by Gnumeric = by IronCalc = results in the
file; and what LibreOffice or Gnumeric saved is read back as the same job.

This proves the translation, not the trade: the trade is proved in test_hand_worked.py.
"""

import os
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import Workbook
from openpyxl.utils import get_column_letter

from estimator.language import NOT_AVAILABLE, rounding
from estimator.language.units import POUNDS
from estimator.model.estimate import estimate
from estimator.workbook.build import Built
from estimator.workbook.reading import comparison
from estimator.workbook.reading.inputs import read_back

from .canonical import canonical
from .conftest import LONG, in_turn
from .figures_kept import KEPT
from .hosts import Figures, by_gnumeric, by_ironcalc, by_libreoffice, figures
from .made import SMALL_ROOM, Made, laid_out, made
from .random_groups import JOBS as RANDOM_JOBS
from .random_groups import groups
from .raw_package import packed, part_of, parts_of
from .small_jobs import bare_job, opening, wall

# The short run takes one group of the random jobs, another for each version; the long run all.
JOBS = os.environ.get("PARITY_JOBS", "")  # how many, while working
GROUPS = groups()
TAKEN = [seed for group in in_turn(GROUPS, len(GROUPS)) for seed in group]
SEEDS = range(int(JOBS)) if JOBS else TAKEN

pytestmark = pytest.mark.host


NAMED = ("demo", "form", *in_turn(("walked", "misplaced", "blank", "wrap_round"), 4))
NAMES = (*NAMED, *(f"job{seed}" for seed in SEEDS))
PARTS = 20 if LONG else 2  # each part is one worker's, and no part is in memory with another


def one_in(cases: list[Made], so_many: int) -> list[Made]:
    """The demo, its form and what else has a name, and one in so many of the random jobs."""
    return [c for c in cases if c.name in NAMED or NAMES.index(c.name) % so_many == 0]


@pytest.fixture(scope="module", params=range(PARTS), ids="part {}".format)
def cases(request: pytest.FixtureRequest) -> Iterator[list[Made]]:
    yield [made(name) for name in NAMES[request.param :: PARTS]]
    if LONG:
        made.cache_clear()


@pytest.fixture(scope="module")
def written(cases: list[Made], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("written")
    return {c.name: c.written(folder) for c in cases}


@pytest.fixture(scope="module")
def recalculated(
    written: dict[str, Path], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Path]:
    return by_libreoffice(written.values(), tmp_path_factory.mktemp("hosts"))


@pytest.fixture(scope="module")
def by_second_host(
    written: dict[str, Path], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Path]:
    return by_gnumeric(written.values(), tmp_path_factory.mktemp("second"))


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


def agree_each(cases: list[Made], compare: Callable[[Made], Iterable[str]]) -> None:
    """No case differs; those that do are named, each with its first cells."""
    found = {c.name: list(compare(c))[:3] for c in cases}
    assert {name: cells for name, cells in found.items() if cells} == {}


def test_the_random_jobs_are_worth_comparing() -> None:
    """By what is kept of their totals; what has none is compared too, to its last #N/A."""
    totals = dict(line.split(": ", 1) for line in KEPT.read_text("utf-8").splitlines())
    priced = ["no total" not in totals[f"job {seed}"] for seed in SEEDS]
    assert sum(priced) >= (170 if LONG else len(priced) / 2), "too few of the jobs can be priced"
    assert not (LONG and all(priced)), "none of the jobs is left unfinished"


def test_every_random_job_is_in_one_group() -> None:
    assert sorted(seed for group in GROUPS for seed in group) == list(range(RANDOM_JOBS))


def test_gnumeric_is_asked_for_money(cases: list[Made]) -> None:
    """It is not where a job meets a half-penny, which it rounds down."""
    assert not all(c.half_penny for c in cases)


def test_results_in_the_file_are_those_of_python(
    cases: list[Made], written: dict[str, Path]
) -> None:
    agree_each(cases, lambda c: differences(c.built, figures(written[c.name])))


def test_libreoffice_recalculates_the_same(
    cases: list[Made], recalculated: dict[str, Path]
) -> None:
    agree_each(cases, lambda c: differences(c.built, figures(recalculated[c.name])))


def test_gnumeric_recalculates_the_same(cases: list[Made], by_second_host: dict[str, Path]) -> None:
    agree_each(
        cases,
        lambda c: differences(c.built, figures(by_second_host[c.name]), money=not c.half_penny),
    )


def test_ironcalc_recalculates_the_same(cases: list[Made]) -> None:
    """An engine of its own line, given files whose stored results are all spoiled beforehand.

    Where a need has no figure it goes its own way: in an array it makes #VALUE! of #N/A, and takes
    an error for a number that can be compared. So those jobs are left to the other two.
    """
    found = [c for c in one_in(cases, 3) if _has_all_needs(c)]
    if not LONG:  # it reads a file slower than the other two together
        found = [c for c in found if c.name == NAMES[0] or c.name not in NAMED]
    agree_each(found, lambda c: differences(c.built, by_ironcalc(c.data, c.built.results)))


def _has_all_needs(case: Made) -> bool:
    layout, results = case.built.layout, case.built.results
    span = layout.spans["needs"]
    shown = (v for (row, _), v in results[span.sheet].items() if span.first <= row <= span.last)
    return NOT_AVAILABLE not in shown


def test_no_error_is_seen(cases: list[Made]) -> None:
    """Whatever is missing from a job, what is seen is a figure, a text or nothing."""
    for case in cases:
        for sheet, results in case.built.results.items():
            if not sheet.startswith("e_"):
                assert NOT_AVAILABLE not in results.values(), (case.name, sheet)


@pytest.mark.parametrize("host", ["as written", "LibreOffice", "Gnumeric"])
def test_what_comes_back_is_the_same_job(host: str, cases: list[Made], request: Any) -> None:
    """Round trip: equal models, equal totals, and nothing that differs from what is worked out."""
    fixture = {"LibreOffice": "recalculated", "Gnumeric": "by_second_host"}.get(host, "written")
    saved = request.getfixturevalue(fixture)
    # Every cell is compared above; that the truth check finds nothing needs fewer files.
    held = {c.name for c in one_in(cases, 10 if LONG else 6)}

    def wrong(case: Made) -> Iterator[str]:
        returned = read_back(saved[case.name])
        if canonical(returned.job) != canonical(case.job):
            yield "another job"
        if estimate(returned.job).cell("quote_total") != case.total:
            yield "another total"
        if case.name in held and (host != "Gnumeric" or not case.half_penny):
            ledger = comparison.laid_ledger(returned)
            yield from (d.sentence for d in comparison.differences(returned, ledger))

    agree_each(cases if LONG else one_in(cases, 3), wrong)


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
    assert rounding.pence(price * markup) == 114.78
    assert figures(lo)["Sheet"]["C1"] == 114.78
    assert figures(gn)["Sheet"]["C1"] == 114.77


def test_a_broken_formula_is_noticed(tmp_path: Path) -> None:
    """Parity that could not fail would prove nothing: each host shows the wrong figure."""
    job = bare_job(walls=[wall("W1", 10)], openings=[opening("O1", "W1")])
    built, data = laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)
    span = built.layout.spans["openings"]
    address = f"{span.letters['weeps_each']}{span.first}"
    parts = parts_of(data)
    part = part_of(parts, span.sheet)
    tree = etree.fromstring(parts[part])
    (formula,) = tree.xpath(f"//*[@r='{address}']/*[local-name()='f']")
    assert "MIN(" in formula.text
    formula.text = formula.text.replace("MIN(", "MAX(")
    broken = tmp_path / "broken.xlsx"
    broken.write_bytes(packed({**parts, part: etree.tostring(tree)}))
    (lo,) = by_libreoffice([broken], tmp_path).values()
    (gn,) = by_gnumeric([broken], tmp_path).values()
    for shown in (figures(lo), figures(gn), by_ironcalc(broken.read_bytes(), built.results)):
        wrong = list(differences(built, shown))
        assert any(w.startswith(f"{span.sheet}!{address}:") for w in wrong)
