"""A rule called by hand: what a slip of the hand gives it is one sentence, what a job holds is taken."""

import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from estimator.errors import ArgumentError, EstimateError
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.language import NOT_AVAILABLE, RULES
from estimator.language.ledger import Ledger
from estimator.language.registry import rule_of
from estimator.language.tables import NamedCell, OwnCell, Source, Table, WholeColumn
from estimator.model.checked import _accepted, _worked, checked
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.model.plan import plan
from estimator.takeoff.floors import sheet_a
from estimator.takeoff.openings import weep_step


def said(work: Callable[..., Any], *given: Any, **named: Any) -> str:
    with pytest.raises(ArgumentError) as found:
        checked(work)(*given, **named)
    assert isinstance(found.value, ValueError)
    assert isinstance(found.value, EstimateError)
    return str(found.value)


def test_what_can_be_is_worked_out() -> None:
    """7.2 m, 285 mm and 150 mm past its ends, dips of 0.4 m: 7.2 + 0.435 + 0.4 = 8.035 m."""
    assert checked(sheet_a)(1, 7.2, 285, 150, 0.4) == pytest.approx(8.035)
    named = {"extent_a": 7.2, "reach_b_one": 285, "reach_b_two": 150, "dips_a": 0.4}
    assert checked(sheet_a)(1, **named) == pytest.approx(8.035)
    assert checked(sheet_a)(sheet=0, **named) == 0
    assert checked(sheet_a)(1, NOT_AVAILABLE, 0, 0, 0) is NOT_AVAILABLE


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"extent_a": 7200}, "sheet_a, extent_a: found 7200; accepted: a number from -50 to 1000 m (was that mm?)."),
        ({"extent_a": -72}, "sheet_a, extent_a: found -72; accepted: a number from -50 to 1000 m (was that mm?)."),
        ({"extent_a": math.nan}, "sheet_a, extent_a: found nan; accepted: a number from -50 to 1000 m."),
        ({"extent_a": math.inf}, "sheet_a, extent_a: found inf; accepted: a number from -50 to 1000 m."),
        ({"extent_a": "7.2"}, "sheet_a, extent_a: found '7.2'; accepted: a number from -50 to 1000 m."),
        ({"extent_a": None}, "sheet_a, extent_a: found nothing; accepted: a number from -50 to 1000 m."),
        ({"extent_a": True}, "sheet_a, extent_a: found True; accepted: a number from -50 to 1000 m."),
        ({"reach_b_one": 0.285}, "sheet_a, reach_b_one: found 0.285; accepted: 0, or from 1 to 60000 mm (was that m?)."),
        ({"dips_a": 1200}, "sheet_a, dips_a: found 1200; accepted: a number from -50 to 1000 m (was that mm?)."),
        ({"sheet": 2}, "sheet_a, sheet: found 2; accepted: a number from -1 to 1, whole."),
        ({"side": 7.2}, "sheet_a: found 'side'; accepted: each of these once: sheet, extent_a, reach_b_one, reach_b_two, dips_a."),
    ],
)  # fmt: skip
def test_a_slip_is_one_sentence(change: dict[str, Any], sentence: str) -> None:
    given = {"sheet": 1, "extent_a": 7.2, "reach_b_one": 285, "reach_b_two": 150, "dips_a": 0}
    assert said(sheet_a, **{**given, **change}) == sentence


def test_a_missing_or_surplus_argument_is_one_sentence() -> None:
    assert said(sheet_a, 1, 7.2, 285, 150) == (
        "sheet_a, dips_a: found nothing; accepted: a number from -50 to 1000 m."
    )
    assert said(sheet_a, 1, 7.2, 285, 150, 0, 3).startswith("sheet_a: found '6 arguments'")
    assert said(sheet_a, 1, 7.2, 285, 150, 0, extent_a=3).startswith("sheet_a: found 'extent_a'")


def test_a_spacing_of_nothing_is_refused() -> None:
    """450 mm is two perpends of 225 mm; nearer than one perpend no weep can be built."""
    assert rule_of(weep_step).arguments == ("weep_spacing",)
    assert checked(weep_step)(450) == 450
    assert said(weep_step, 0) == (
        "weep_step, weep_spacing: found 0; accepted: a number from 225 to 2000 mm."
    )
    assert said(weep_step, 0.45).endswith("225 to 2000 mm (was that m?).")


# ---- what a job holds is taken ----


def values(ledger: Ledger, source: Source, table: Table | None, row: int) -> Iterator[Any]:
    match source:
        case OwnCell(column) if table is not None:
            yield ledger.column(table.name, column)[row]
        case NamedCell(name):
            yield ledger.cell(name)
        case WholeColumn(other, column):
            yield from set(ledger.column(other, column))


@pytest.mark.parametrize("path", [DEMO_JOB, DEMO_FORM], ids=lambda p: p.stem)
def test_every_figure_of_a_job_is_taken(path: Any) -> None:
    """Each argument of each rule, as the job gives it: else a true figure would be refused."""
    ledger, refused, seen = estimate(read_job(path)), [], 0
    for item, table in _worked():
        rows = range(len(ledger.rows[table.name])) if table else range(1)
        guarded = table is not None and table.is_guarded(item.name)
        keys = ledger.column(table.name, table.key_in_use) if table and guarded else ()
        accepted = _accepted(item.rule.module, item.rule.name)
        sources = plan().sources(item, table)
        for argument, source in zip(item.rule.arguments, sources, strict=False):
            for row in rows:
                if guarded and keys[row] == "":
                    continue
                for value in values(ledger, source, table, row):
                    seen += 1
                    taken = value is NOT_AVAILABLE or any(
                        a.takes(value) for a in accepted[argument]
                    )
                    if not taken:
                        refused.append(
                            (item.rule.name, argument, value, accepted[argument][0].said)
                        )
                if isinstance(source, WholeColumn | NamedCell):
                    break
    assert seen > 10_000
    assert refused == []


def test_every_rule_says_what_it_takes() -> None:
    for found in RULES.values():
        if str(found.module).startswith("estimator."):
            accepted = _accepted(found.module, found.name)
            assert set(accepted) == {*found.arguments, *([found.several] if found.several else [])}
            assert all(a.said for of in accepted.values() for a in of)
