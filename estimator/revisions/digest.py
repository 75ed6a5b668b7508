"""One issue of the quote and the next: the digest of what was given, the revision's mark, its row."""

import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from ..errors import JobError
from ..language import Table
from ..language.ledger import Ledger, is_available
from ..model import reports
from ..model.issued import REVISIONS
from ..model.job import Job
from ..model.plan import FILLED, TYPED_CELLS
from ..questionnaire.offers import marks
from .defaults import unusual, usual_status, usual_wastage_applies

DIGITS = 16  # of the digest: 64 bits tell any two states of one job apart
# Lists whose order decides something: a joint's lap goes to the zone lower in the list, equal
# products and suppliers are chosen by their place, and the lines of work are quoted as they stand.
ORDERED = frozenset({"zones", "suppliers", "book", "work_lines"})
_LETTERS = re.compile(r"[A-Za-z]{1,2}")


def digest(job: Job) -> str:
    """A short hexadecimal text that changes when any input of the job does, and only then.

    3 and 3.0 agree, and so do a blank and what was left out, and what is the same as it would be
    unsaid (a line's usual status). Revisions are a record, not an input. SHA-256 (FIPS 180-4) over
    one canonical form of the inputs, shortened.
    """
    text = json.dumps(_canonical(job), ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:DIGITS]


def next_revision(job: Job) -> str:
    """The mark of the next issue: A, B ... Z, AA; after the furthest that was used already.

    Marks of another kind, such as P1, are left out of the count.
    """
    used = {str(r.get("revision") or "").upper() for r in job.rows.get(REVISIONS.name, ())}
    letters = [_place(u) for u in used if _LETTERS.fullmatch(u)]
    return _mark(max(letters, default=0) + 1)


def revision_row(job: Job, ledger: Ledger, issued_on: str) -> dict[str, Any]:
    """The row of the next issue, as it is put into the list of revisions.

    Raises JobError while the job has no total: there is nothing to issue then.
    """
    if not is_available(ledger.cell("quote_total")):
        raise JobError("quote", reports.reasons(ledger) or None, "a quote that has a total")
    return {
        "revision": next_revision(job),
        "date": issued_on,
        "basis": job.guidance,
        "document": ledger.cell("document_word"),
        "net": ledger.cell("quote_net"),
        "vat": ledger.cell("quote_vat"),
        "total": ledger.cell("quote_total"),
        "digest": digest(job),
        "note": None,
    }


def marked_rows(job: Job, table: Table) -> list[tuple[str, Mapping[str, Any]]]:
    """The rows of a list that hold anything, each by its mark: typed, or the form's for its place."""
    offered = marks(table.name) if job.uses_form else ()
    inputs, found = table.inputs, []
    for n, row in enumerate(job.rows.get(table.name, ())):
        mark = row.get(table.key) or (offered[n] if n < len(offered) else "")
        if any(not _is_blank(row.get(i.name)) for i in inputs):
            found.append((str(mark), row))
    return found


def _canonical(job: Job) -> dict[str, Any]:
    return {
        "particulars": _entries({i.name: job.particulars.get(i.name) for i in TYPED_CELLS}),
        "rows": {t.name: _rows(job, t) for t in FILLED if t is not REVISIONS},
        "override": _entries(job.override),
        "own": _entries(job.own),
        "line_suppliers": _entries(job.line_suppliers),
        "line_status": _entries(unusual(job.line_status, usual_status())),
        "reasons": _entries(job.reasons),
        "own_notices": _entries(job.own_notices),
        "wastage": _by_supplier(job.wastage),
        "wastage_applies": _entries(unusual(job.wastage_applies, usual_wastage_applies())),
        "assumed": _entries(job.assumed),
        **_discounts(job),
        **_house(job),
    }


def _by_supplier(percents: Mapping[str, Mapping[str, float]]) -> dict[str, Any]:
    return {k: _entries(v) for k, v in percents.items() if _entries(v)}


def _discounts(job: Job) -> dict[str, Any]:
    """Those of materials; without any the digest is as it was before there were discounts."""
    found = _by_supplier(job.discounts)
    return {"discounts": found} if found else {}


def _house(job: Job) -> dict[str, Any]:
    """The figures of a firm's own basis, where it is the one chosen: the program does not hold them."""
    basis = job.house_basis
    return (
        {} if basis is None else {"house": _entries({k: v.number for k, v in basis.values.items()})}
    )


def _rows(job: Job, table: Table) -> Sequence[Any]:
    names = [i.name for i in table.inputs if i.name != table.key]
    rows = [
        (mark, _entries({n: row.get(n) for n in names})) for mark, row in marked_rows(job, table)
    ]
    return rows if table.name in ORDERED else sorted(rows, key=lambda r: r[0])


def _entries(given: Mapping[str, Any]) -> dict[str, str]:
    return {k: _spelt(v) for k, v in given.items() if not _is_blank(v)}


def _spelt(value: Any) -> str:
    """One spelling of a value: texts and numbers never agree."""
    if isinstance(value, str):
        return "t" + value
    return f"n{value + 0.0:.15g}" if value else "n0"  # no -0


def _is_blank(value: Any) -> bool:
    return value is None or value == ""


def _place(letters: str) -> int:
    """A is 1, Z 26, AA 27."""
    found = 0
    for letter in letters:
        found = found * 26 + ord(letter) - ord("A") + 1
    return found


def _mark(place: int) -> str:
    found = ""
    while place:
        place, rest = divmod(place - 1, 26)
        found = chr(ord("A") + rest) + found
    return found
