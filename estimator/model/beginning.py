"""How a job begins: with the starter price book, or with what a firm has in an earlier job."""

from dataclasses import replace

from ..files.resources import STARTER_PRICES
from ..pricing.terms import FIRM
from ..pricing.work import PROVISIONAL_SUM
from .job import Job, blank_job
from .plan import FILLED, bases
from .price_file import read_prices

# The first supplier is called this until somebody types its name; products that name no supplier
# are its own, so that they follow.
FIRST_SUPPLIER = "Supplier 1"

# Allowances for damage and loss in per cent: common practice, from memory. That of the separating
# layer holds its laps.
STARTER_WASTAGE = {
    "hardcore": 10,
    "blinding_sand": 10,
    "tape_double": 10,
    "tape_single": 10,
    "gas_tape_double": 10,
    "gas_tape_single": 10,
    "dpc_roll": 5,
    "tray_roll": 5,
    "duct": 0,
    "joint_filler": 5,
    "separating_layer": 15,
    "perimeter_strip": 5,
    "closer": 0,
    "sealant": 10,
    "cavity_support": 0,
    "channel": 0,
}


def with_starter(job: Job) -> Job:
    """The job with one supplier to be named, and a generic product of every material, unpriced.

    A job that has suppliers or products of its own keeps them, and gets none.
    """
    if job.rows["suppliers"] or job.rows["book"]:
        return job
    suppliers = next(t for t in FILLED if t.name == "suppliers")
    first = {**dict.fromkeys(i.name for i in suppliers.inputs), "name": FIRST_SUPPLIER}
    rows = {**job.rows, "suppliers": [first], "book": read_prices(STARTER_PRICES)}
    return replace(job, rows=rows, wastage={FIRST_SUPPLIER: dict(STARTER_WASTAGE)})


# What a firm decides for all its jobs; everything else typed on Start is of the one job.
OF_THE_FIRM = (
    *(i.name for i in FIRM),
    "prepared_by",
    "quote_valid",
    "supplier_choice",
    "sheet_joints",
    "tray_joints",
    "weep_kind",
    "loose_rule",
    "profit_rule",
    "profit_percent",
    "profit_on_delivery",
    "profit_on_work",
    "minimum_charge",
    "supplier_vat_percent",
    "price_limit",
)
_LISTS = ("suppliers", "book")


def begun_from(job: Job, earlier: Job) -> Job:
    """The job with what its firm has in an earlier one: suppliers, products, labour, allowances.

    Nothing else of the earlier job is taken. What the new job has of its own stays: each list in
    which it has rows, and what was typed on Start.
    """
    blank = blank_job(bases()[0].name).particulars
    given = {
        name: earlier.particulars.get(name)
        for name in OF_THE_FIRM
        if job.particulars.get(name) == blank[name]
    }
    # A provisional sum stands for something on the one job.
    work = [r for r in earlier.rows["work_lines"] if r.get("kind") != PROVISIONAL_SUM]
    listed = {name: earlier.rows[name] for name in _LISTS} | {"work_lines": work}
    # So many packs were for what that job takes.
    listed["book"] = [{**r, "own_packs": None} for r in earlier.rows["book"]]
    rows = {name: list(job.rows[name] or listed.get(name, ())) for name in job.rows}
    bought = rows["suppliers"] == list(earlier.rows["suppliers"])
    if not bought:
        given["supplier_choice"] = None
    return replace(
        job,
        particulars={**job.particulars, **{k: v for k, v in given.items() if v is not None}},
        rows={name: [dict(r) for r in found] for name, found in rows.items()},
        override={**earlier.override, **job.override},
        own={**earlier.own, **job.own},
        wastage=earlier.wastage if bought else job.wastage,
        discounts=earlier.discounts if bought else job.discounts,
        wastage_applies={**earlier.wastage_applies, **job.wastage_applies},
        house=job.house or earlier.house,
    )
