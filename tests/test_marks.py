"""Two marks that any spreadsheet program could take for one are refused."""

import re

import pytest

from estimator.errors import JobError
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.model.spelling import folded

from .small_jobs import bare_job, row

ALIKE = [
    ("W1", "w1"), ("ﬁre", "fire"), ("µ1", "μ1"), ("Straße", "STRASSE"), ("é1", "e\u03011"),
    ("Ａ1", "A1"), ("W\u00a01", "W 1"), ("W１", "W1"), ("ﬀ", "ff"), ("K1", "\u212a1"),
    ("Å", "\u212b"), ("①", "1"), ("ſ1", "s1"), ("ς", "σ"), ("W\u20091", "W 1"), ("½", "1⁄2"),
    ("№1", "No1"), ("ﬃ", "ffi"), ("ö", "o\u0308"), ("ñ", "n\u0303"), ("ẞ", "ss"), ("Ⅳ", "IV"),
    ("m²", "m2"), ("W\u2011", "W\u2010"), ("ǆ", "dž"), ("Ω", "\u2126"), ("ﾊ", "ハ"), ("㎜", "mm"),
    ("ﬅ", "st"), ("W\u3000", "W "),
]  # fmt: skip
APART = [("W1", "W2"), ("e1", "é1"), ("W-1", "W1"), ("o", "ö"), ("W 1", "W1")]


@pytest.mark.parametrize(("one", "other"), ALIKE)
def test_marks_that_could_be_taken_for_one(one: str, other: str) -> None:
    assert folded(one) == folded(other)


@pytest.mark.parametrize(("one", "other"), APART)
def test_marks_that_no_program_takes_for_one(one: str, other: str) -> None:
    assert folded(one) != folded(other)


@pytest.mark.parametrize(("one", "other"), [ALIKE[1], ALIKE[3], ALIKE[4], ALIKE[6]])
def test_two_suppliers_alike_are_one_sentence(one: str, other: str) -> None:
    names = [row("suppliers", name=name, delivery=0) for name in (one, other)]
    job = bare_job()
    job = type(job)(**{**job.__dict__, "rows": {**job.rows, "suppliers": names, "book": []}})
    with pytest.raises(JobError, match=re.escape("a name used once (row 1 has it already)")):
        check_job(
            type(job)(
                **{**job.__dict__, "particulars": {**job.particulars, "supplier_choice": one}}
            ),
            InJobFile("test"),
        )
