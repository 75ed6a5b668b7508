"""Whether what was a quotation is an estimate now, or the other way about, and why."""

from collections.abc import Iterator

from ...language.ledger import Ledger
from ...model.reports import Record, plain, rows_of
from .change import DOCUMENT, Change, State
from .words import say, words

ESTIMATE = "Estimate"


def document_changes(old: State, new: State) -> Iterator[Change]:
    """One sentence at most."""
    was, now = (plain(s.ledger.cell("document_word")) for s in (old, new))
    if was == now:
        return
    why = ""
    if now == ESTIMATE:
        items = "; ".join(dict.fromkeys(_may_change(new.ledger)))
        why = say("may_change", items=items) if items else ""
    elif now is not None:
        why = say("all_firm")
    called = words()["documents"]
    text = say("document", why=why, was=called[was or "none"], now=called[now or "none"])
    yield Change(DOCUMENT, ("document_word",), text, was, now, True)


def _may_change(ledger: Ledger) -> Iterator[str]:
    """The lines that are provisional, and the checks that stop them."""
    for row in rows_of(ledger, "checks", {"label": "label", "stops": "stops"}):
        if row["stops"]:
            yield say("stopped_by", check=row["label"])
    yield from _provisional(rows_of(ledger, "lines", _columns("label", "net")), "label", "net")
    work = rows_of(ledger, "work_lines", _columns("description", "amount"))
    yield from _provisional(work, "description", "amount")


def _columns(*more: str) -> dict[str, str]:
    return {c: c for c in (*more, "provisional")}


def _provisional(rows: list[Record], name: str, size: str) -> Iterator[str]:
    for row in rows:
        if row["provisional"] == 1 and row[size]:
            yield str(row[name])
