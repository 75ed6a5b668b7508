"""What random jobs say of prices beyond a price list: trade discounts.

Each draws by a seed of its own, so that no other draw moves.
"""

import random
from dataclasses import replace

from estimator.buying.materials import MATERIAL_ROWS
from estimator.model.job import Job

_PERCENT = (5, 7.5, 10, 12.5, 17.5, 33.3, 100)


def with_discounts(drawn_by: str, job: Job) -> Job:
    """One job in six with a discount of some suppliers, and another on some of their materials."""
    r = random.Random(f"discounts {drawn_by}")
    if r.random() > 1 / 6:
        return job
    suppliers = [
        {**row, "discount": r.choice((None, 0, *_PERCENT[:-1]))} for row in job.rows["suppliers"]
    ]
    discounts = {
        str(row["name"]): {
            str(m["key"]): r.choice((0, *_PERCENT)) for m in MATERIAL_ROWS if r.random() < 0.2
        }
        for row in suppliers
        if r.random() < 0.7
    }
    return replace(job, rows={**job.rows, "suppliers": suppliers}, discounts=discounts)
