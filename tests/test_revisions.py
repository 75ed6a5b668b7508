"""The record of what was issued: its mark, its row, and the digest that tells whether inputs moved."""

import hashlib
import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE, Table
from estimator.model.estimate import estimate
from estimator.model.issued import REVISIONS
from estimator.model.job import Job
from estimator.model.plan import FILLED, TYPED_CELLS
from estimator.revisions.digest import ORDERED, digest, next_revision, revision_row
from tests.conftest import in_turn
from tests.mutations import mutations
from tests.random_jobs import random_job
from tests.small_jobs import bare_job, row, wall


def issued(**given: Any) -> dict[str, Any]:
    usual = {"revision": "A", "date": "today", "basis": "nhbc_2024", "document": "Quotation"}
    return row("revisions", **{**usual, "net": 50, "vat": 10, "total": 60, **given})


def with_issues(*rows: dict[str, Any]) -> Job:
    return bare_job(walls=[wall("W1", 20)], revisions=list(rows))


@pytest.mark.parametrize("seed", in_turn(range(8), 8))
def test_the_digest_moves_with_every_single_input(seed: int) -> None:
    job = random_job(seed)
    before = digest(job)
    seen: dict[str, str] = {}
    found = list(mutations(job, random.Random(seed)))
    assert len(found) > 300
    for what, mutated in found:
        after = digest(mutated)
        assert after != before, what
        assert seen.setdefault(after, what) == what, "two different jobs, one digest"
    assert digest(job) == before


@pytest.mark.parametrize("seed", range(8))
def test_the_digest_moves_with_nothing_else(seed: int) -> None:
    job = random_job(seed)
    before = digest(job)
    noted = [{**r, "note": "sent again", "total": 1.0} for r in job.rows["revisions"]]
    assert digest(replace(job, rows={**job.rows, "revisions": noted})) == before
    assert digest(replace(job, rows={**job.rows, "revisions": []})) == before
    assert digest(_otherwise_spelt(job)) == before
    if not job.uses_form:
        turned = {n: r if n in ORDERED else list(reversed(r)) for n, r in job.rows.items()}
        assert digest(replace(job, rows=turned)) == before


def _otherwise_spelt(job: Job) -> Job:
    """The same job: numbers as floats, blanks left out or as empty texts, keys in another order."""

    def spelt(entries: Mapping[str, Any]) -> dict[str, Any]:
        turned = dict(reversed(list(entries.items())))
        blank: Iterator[Any] = iter(["", None] * len(turned))
        return {
            k: float(v) if isinstance(v, int) else v
            for k, v in turned.items()
            if v is not None or next(blank) is None
        }

    given = {"particulars", "override", "own", "line_suppliers", "line_status", "reasons",
             "own_notices", "assumed"}  # fmt: skip
    return replace(
        job,
        **{name: spelt(getattr(job, name)) for name in given},
        rows={name: [spelt(r) for r in rows] for name, rows in reversed(list(job.rows.items()))},
        wastage={k: spelt(v) for k, v in job.wastage.items()},
    )


def test_the_digest_knows_the_order_where_it_decides_something() -> None:
    job = random_job(3)
    for name in ORDERED:
        if len(job.rows[name]) > 1:
            turned = {**job.rows, name: list(reversed(job.rows[name]))}
            assert digest(replace(job, rows=turned)) != digest(job), name


@pytest.mark.parametrize("seed", [1, 5, 7, 11])
def test_elsewhere_the_order_decides_nothing(seed: int) -> None:
    """What ORDERED leaves out may stand in any order: every total and quantity stays."""
    job = random_job(seed)
    assert not job.uses_form  # its rows stand first in their lists
    turned = {n: r if n in ORDERED else list(reversed(r)) for n, r in job.rows.items()}
    one, other = estimate(job), estimate(replace(job, rows=turned))
    for column in ("net", "laid", "ordered", "cost"):
        for a, b in zip(one.column("totals", column), other.column("totals", column), strict=True):
            assert a == pytest.approx(b, abs=1e-9) if a is not NOT_AVAILABLE else b is a
    assert one.cell("quote_total") == other.cell("quote_total")


def test_a_digest_is_sixteen_hexadecimal_digits_of_sha_256() -> None:
    """FIPS 180-4, Appendix B.1: the function meant by that name, on its own example."""
    example = hashlib.sha256(b"abc").hexdigest()
    assert example.startswith("ba7816bf8f01cfea")
    found = digest(bare_job())
    assert len(found) == 16
    assert int(found, 16) >= 0


@pytest.mark.parametrize(
    ("used", "following"),
    [
        ((), "A"),
        (("A",), "B"),
        (("A", "B", "C"), "D"),
        (("B", "A"), "C"),  # sorted otherwise by hand
        (("a", "b"), "C"),
        (("Z",), "AA"),
        (("AZ",), "BA"),
        (("P1", "P2"), "A"),  # a mark of another kind starts no letters
        (("P1", "A"), "B"),
    ],
)
def test_the_next_revision(used: tuple[str, ...], following: str) -> None:
    assert next_revision(with_issues(*(issued(revision=u) for u in used))) == following


def test_marks_follow_each_other_as_the_columns_of_a_sheet_do() -> None:
    """As ECMA-376 Part 1, 18.17.2.3 writes columns: Z, then AA; 27 issues later AB follows."""
    rows: list[dict[str, Any]] = []
    for _ in range(28):
        rows.append(issued(revision=next_revision(with_issues(*rows))))
    assert [r["revision"] for r in rows][24:] == ["Y", "Z", "AA", "AB"]


def test_the_row_of_an_issue() -> None:
    """20 m of wall: a roll of 30 m for each leaf, 112.5 and 100 wide, at £10 each.

    Net £20; VAT at 20 % £4; total £24.
    """
    job = with_issues(issued())
    found = revision_row(job, estimate(job), "2 March 2026")
    assert found == {
        "revision": "B",
        "date": "2 March 2026",
        "basis": "NHBC Standards (2024)",
        "document": "Quotation",
        "net": 20,
        "vat": 4,
        "total": 24,
        "digest": digest(job),
        "note": None,
    }
    assert set(found) == {i.name for i in REVISIONS.inputs}
    assert revision_row(job, estimate(job), "Lady Day")["date"] == "Lady Day"


def test_nothing_is_issued_without_a_total() -> None:
    job = bare_job()
    with pytest.raises(JobError, match="Nothing to quote for"):
        revision_row(job, estimate(job), "today")


@pytest.mark.parametrize(
    ("rows", "last", "total", "moved", "state"),
    [
        # The job's total is £24, worked above.
        ((), "not issued yet", NOT_AVAILABLE, NOT_AVAILABLE, ""),
        ((issued(total=24),), "A", 24, 0, "The total is as it was issued."),
        (
            (issued(total=24), issued(revision="B", total=30)),
            *("B", 30, -6, "The total has moved since it was issued."),
        ),
        (
            (issued(total=23.99),),
            *("A", 23.99, 0.01, "The total has moved since it was issued."),
        ),
    ],
)
def test_the_job_says_whether_the_total_has_moved(
    rows: tuple[dict[str, Any], ...], last: str, total: Any, moved: Any, state: str
) -> None:
    ledger = estimate(with_issues(*rows))
    assert ledger.cell("last_issued") == last
    assert ledger.cell("last_issued_total") == total
    assert ledger.cell("moved_since") == moved
    assert ledger.cell("issue_state") == state


def test_a_total_that_is_gone_is_said_to_be_gone() -> None:
    ledger = estimate(bare_job(revisions=[issued()]))
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert ledger.cell("issue_state") == "There is no total now to compare with the one issued."


def test_a_record_prices_nothing() -> None:
    """No column and no cell outside the record reads it."""
    found = estimate(with_issues()).plan
    own = {"last_issue_no", "last_issued", "last_issued_on", "last_issued_total", "moved_since",
           "issue_state"}  # fmt: skip
    tables: list[Table | None] = [*found.tables.values(), None]
    for table in tables:
        items = found.cells.values() if table is None else table.columns
        for item in items:
            if item.name in own or not hasattr(item, "rule"):
                continue
            for source in found.sources(item, table):
                assert getattr(source, "table", "") != "revisions", item.name
                assert getattr(source, "name", "") not in own, item.name


def test_every_input_is_in_the_digest() -> None:
    """Each typed column and cell of the plan is reached by a mutation, so none can be forgotten."""
    reached = {w for seed in range(25) for w, _ in mutations(random_job(seed), random.Random(0))}
    places = {what.rpartition("|")[0] for what in reached}
    for table in FILLED:
        if table is not REVISIONS:
            for item in table.inputs:
                assert f"{table.name}.{item.name}" in places, (table.name, item.name)
    assert {f"particulars.{i.name}" for i in TYPED_CELLS} <= places
