"""What random jobs say of buying beyond a price list: trade discounts, packs of one's own.

Each draws by a seed of its own, so that no other draw moves.
"""

import random
from dataclasses import replace

from estimator.buying.materials import MATERIAL_ROWS
from estimator.language.ledger import is_available
from estimator.model.estimate import estimate
from estimator.model.job import Job

_PERCENT = (5, 7.5, 10, 12.5, 17.5, 33.3, 60)


def with_discounts(drawn_by: str, job: Job) -> Job:
    """One job in six with a discount of some suppliers, and another on some of their materials."""
    r = random.Random(f"discounts {drawn_by}")
    if r.random() > 1 / 6:
        return job
    suppliers = [
        {**row, "discount": r.choice((None, 0, *_PERCENT))} for row in job.rows["suppliers"]
    ]
    discounts = {
        str(row["name"]): {
            str(m["key"]): r.choice((0, *_PERCENT)) for m in MATERIAL_ROWS if r.random() < 0.2
        }
        for row in suppliers
        if r.random() < 0.7
    }
    return replace(job, rows={**job.rows, "suppliers": suppliers}, discounts=discounts)


def with_own_packs(drawn_by: str, job: Job) -> Job:
    """One job in eight with packs of its own: as many as are needed or more, and of one product
    that nothing takes."""
    r = random.Random(f"own packs {drawn_by}")
    if r.random() > 1 / 8:
        return job
    packs = estimate(job).column("book", "packs_worked")
    taken = [n for n, count in enumerate(packs) if is_available(count) and count > 0]
    idle = [n for n, count in enumerate(packs) if count == 0]
    chosen = {n: packs[n] + r.choice((0, 1, 4)) for n in r.sample(taken, min(3, len(taken)))}
    chosen |= dict.fromkeys(r.sample(idle, min(1, len(idle))), 2)
    book = [
        {**row, "own_packs": chosen[n]} if n in chosen else row
        for n, row in enumerate(job.rows["book"])
    ]
    return replace(job, rows={**job.rows, "book": book})
