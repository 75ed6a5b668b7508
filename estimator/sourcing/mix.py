"""The cheapest mix of suppliers for a job, held against the job's own estimate."""

from collections.abc import Mapping
from dataclasses import dataclass

from ..language.ledger import Ledger
from ..model.job import Job
from ..model.reports import cost_of_all
from .options import Elsewhere
from .program import Choice, cheapest

_MOST_REFUSED = 50  # mixes that the job itself refuses a total for: then it is not proven


@dataclass(frozen=True)
class Mix:
    """From whom each line is bought in the cheapest mix, what that costs, and what it saves.

    Costs are in pounds, delivered, without VAT; None where not all that is needed can be bought.
    `proven`: no other mix costs less, and the estimate comes to this total to the penny.
    """

    suppliers: Mapping[str, str]
    moves: Mapping[str, tuple[str, str]]  # by line: from whom, to whom
    total: float
    proven: bool
    stands: float | None
    alone: Mapping[str, float | None]  # all from one supplier
    before: Ledger
    after: Ledger


def cheapest_mix(job: Job, most_suppliers: int | None = None) -> Mix | None:
    """The mix of at most so many suppliers; None where none stocks all and meets every minimum.

    Raises JobError for a job in which it is not known what is needed.
    """
    found = Elsewhere(job)
    refused = 0
    best: tuple[Choice, dict[str, str], Ledger] | None = None
    for sheet in found.sheets or (None,):
        options = found.options(sheet)
        if {x for o in options for x in o.lines} != set(found.stands):
            continue
        stopped: list[tuple[object, ...]] = []
        while len(stopped) < _MOST_REFUSED:
            choice = cheapest(
                options,
                found.terms,
                most_suppliers or len(found.suppliers),
                stopped,  # type: ignore[arg-type]
            )
            if choice is None or (best is not None and _rank(choice) >= _rank(best[0])):
                break
            suppliers = {x: o.supplier for o in choice.options for x in o.lines}
            ledger = found.bought(suppliers)
            if not found.refuses(ledger):
                best = choice, suppliers, ledger
                break
            stopped.append(choice.options)
        else:
            refused += 1
    if best is None:
        return None
    choice, suppliers, ledger = best
    total = cost_of_all(ledger)
    alone = {s: cost_of_all(found.bought(dict.fromkeys(found.stands, s))) for s in found.suppliers}
    return Mix(
        suppliers=suppliers,
        moves={x: (w, suppliers[x]) for x, w in found.stands.items() if w != suppliers[x]},
        total=choice.pence / 100 if total is None else total,
        proven=choice.proven and total == choice.pence / 100 and not refused,
        stands=cost_of_all(found.ledger),
        alone=alone,
        before=found.ledger,
        after=ledger,
    )


def _rank(choice: Choice) -> tuple[int, int]:
    return choice.pence, sum(o.moves for o in choice.options)
