"""What a client sees dearer, line by line, though nothing but the profit put on it has changed."""

from collections.abc import Iterator
from dataclasses import replace

from ...language.ledger import Ledger
from ...model.job import Job
from .price import line_sentence, quote_of

_CELLS = ("profit_rule", "profit_percent", "profit_on_delivery", "profit_on_work")


def at_profit_of(old: Job, new: Job) -> Job | None:
    """The new job with the old one's profit; None where its profit is what it was."""
    before, after = ({c: j.particulars.get(c) for c in _CELLS} for j in (old, new))
    if before == after:
        return None
    return replace(new, particulars={**new.particulars, **before})


def dearer_by_profit(old: Ledger, new: Ledger, new_at_old_profit: Ledger) -> Iterator[str]:
    """A sentence for each line of as many packs that costs more, and would not at the old profit."""
    before, after, unraised = (quote_of(x) for x in (old, new, new_at_old_profit))
    for key, now in after.lines.items():
        was, without = before.lines.get(key), unraised.lines.get(key)
        if was is None or without is None or not was.same_goods(now):
            continue
        prices = was.pence, now.pence, without.pence
        if None not in prices and without.pence <= was.pence < now.pence:  # type: ignore[operator]
            yield line_sentence(key, was, now)
