"""What random jobs say of buying beyond a price list: discounts, packs of one's own, cutting plans.

Each draws by a seed of its own, so that no other draw moves.
"""

import random
from collections import Counter
from dataclasses import replace
from typing import Any

from estimator.buying.materials import MATERIAL_ROWS
from estimator.language.ledger import is_available
from estimator.model.estimate import estimate
from estimator.model.job import Job

_PERCENT = (5, 7.5, 10, 12.5, 17.5, 33.3, 60)


def with_discounts(drawn_by: str, job: Job) -> Job:
    """One job in six with a discount of some suppliers, another on some of their materials, and
    prices that are net."""
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
    book = [
        {**row, "price_is": r.choice((None, None, None, "list", "net"))} for row in job.rows["book"]
    ]
    rows = {**job.rows, "suppliers": suppliers, "book": book}
    return replace(job, rows=rows, discounts=discounts)


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


def with_cutting_plan(drawn_by: str, job: Job) -> Job:
    """One job in five with a cutting plan; one roll of some is bought twice."""
    r = random.Random(f"cutting plan {drawn_by}")
    if r.random() > 1 / 5:
        return job
    rows = planned_rows(r, job)
    if rows and r.random() < 0.3:
        rows = [{**row, "rolls": 2} if row["roll_no"] == 1 else row for row in rows]
    return replace(job, rows={**job.rows, "planned_cuts": rows})


def planned_rows(r: random.Random, job: Job) -> list[dict[str, Any]]:
    """What the job cuts, each piece from the first roll begun that has room, else from a new one of
    any size: enough, and seldom the least."""
    ledger = estimate(job)
    pieces: dict[int, list[float]] = {}
    columns = (ledger.column("cuts", c) for c in ("kind", "length", "pieces"))
    for kind, length, count in zip(*columns, strict=True):
        if is_available(kind) and kind:
            pieces.setdefault(int(kind), []).extend([round(length, 6)] * round(count))
    book = list(
        zip(*(ledger.column("book", c) for c in ("kind_row", "length", "code")), strict=True)
    )
    priced = {row["code"] for row in job.rows["book"] if row["price"] is not None}
    rolls: list[tuple[str, float, list[float]]] = []
    for kind, lengths in pieces.items():
        sizes = [(code, roll) for k, roll, code in book if k == kind and roll and code in priced]
        begun = len(rolls)
        for length in sorted(lengths, reverse=True):
            fits = [n for n in range(begun, len(rolls)) if sum(rolls[n][2]) + length <= rolls[n][1]]
            if not fits:
                may = [(code, roll) for code, roll in sizes if length <= roll]
                if not may:  # none of its sizes has a price
                    del rolls[begun:]
                    break
                rolls.append((*r.choice(may), []))
                fits = [len(rolls) - 1]
            rolls[fits[0]][2].append(length)
    rows = [
        {"roll_no": n, "code": code, "rolls": 1, "length": length, "pieces": count, "dated": day}
        for n, (code, _, cut) in enumerate(rolls, 1)
        for day in (r.choice((None, 46_000)),)
        for length, count in Counter(cut).items()
    ]
    return [{"mark": f"P{n}", **row} for n, row in enumerate(rows, 1)]
