"""What the command line prints, as plain data: quantities, checks, comparisons."""

from dataclasses import replace
from typing import Any

from ..checks import MEETS, NOT_APPLICABLE
from ..checks.rows import rows_spoken_of
from ..guidance.allowances import basis_rows
from ..guidance.basis import KEYS
from ..language import rule_of
from ..language.ledger import Ledger, is_available
from ..language.wording import so_many
from ..pricing.refusals import COUNTS, ROWS_UNCHECKED, problems_measured
from .estimate import estimate
from .job import Job

Record = dict[str, Any]
QUIET = (MEETS, NOT_APPLICABLE)  # states that ask nothing of anybody


def rows_of(ledger: Ledger, table: str, columns: dict[str, str]) -> list[Record]:
    """Rows of a list: {name in the report: column}. A figure that cannot be given is None.

    Spare rows are left out.
    """
    of = ledger.plan.tables[table]
    keys = ledger.column(table, of.key_in_use)
    return [
        {name: plain(ledger.figure(table, n, column)) for name, column in columns.items()}
        for n, key in enumerate(keys, 1)
        if not (of.guarded and key == "")
    ]


def quantities(ledger: Ledger) -> Record:
    """Net, laid and ordered by material; the lines they serve; the price."""
    materials = ("label", "net", "laid", "ordered", "unit", "cost")
    lines = ("label", "net", "laps", "unit", "standing", "line_note")
    bought = ("supplier", "code", "description", "packs", "content", "unit", "laid", "left", "cost")
    work = ("description", "kind", "way", "quantity", "unit", "hours", "amount", "work_note")
    cells = (
        "work_sum",
        "firm_sum",
        "provisional_sum",
        "quote_net",
        "quote_vat",
        "quote_total",
        "document_word",
        "vat_total_label",
    )
    return {
        "materials": rows_of(ledger, "totals", {c: c for c in materials}),
        "lines": rows_of(ledger, "lines", {c: c for c in lines}),
        "orders": [
            r for r in rows_of(ledger, "order_lines", {c: c for c in bought}) if r["supplier"]
        ],
        "work": rows_of(ledger, "work_lines", {c: c for c in work}),
        "price": {c: plain(ledger.cell(c)) for c in cells},
        "notes": notes(ledger),
        "checks": checks_in_words(ledger),
        "against": against(ledger),
    }


def uses(ledger: Ledger) -> dict[str, list[Record]]:
    """What each material is for: its lines that are not nought, whoever buys them."""
    labels = dict(zip(*(ledger.column("materials", c) for c in ("key", "label")), strict=True))
    columns = ("label", "net", "laps", "unit", "standing", "material")
    found: dict[str, list[Record]] = {}
    for row in rows_of(ledger, "lines", {c: c for c in columns}):
        if row["net"] != 0:
            found.setdefault(labels[row["material"]], []).append(row)
    return found


def open_questions(ledger: Ledger) -> list[Record]:
    """What has still to be measured or found out on site."""
    columns = {"what": "label", "how": "find_out", "open": "open"}
    return [r for r in rows_of(ledger, "open_questions", columns) if r["open"]]


def against(ledger: Ledger) -> list[Record]:
    """What stands against a total: each count above 0, and each allowance without a figure."""
    found = [
        {"what": item.label + _which(ledger, item.name), "count": plain(ledger.cell(item.name))}
        for item in COUNTS
        if ledger.cell(item.name) is not None and plain(ledger.cell(item.name)) != 0
    ]
    document = ledger.cell("document_title")
    labels = {k.name: k.label for k in KEYS}
    if is_available(ledger.cell("quote_total")):
        return []
    for key in unstated(ledger):
        what = f"{labels[key]}: {document} states no figure. Type your own on Guidance"
        found.append({"what": what, "count": 1})
    return found


def unstated(ledger: Ledger) -> list[str]:
    """The allowances that this job needs and that have no figure."""
    return [
        row["key"]
        for n, row in enumerate(ledger.rows["allowances"], 1)
        if ledger.figure("allowances", n, "missing") == 1
    ]


def assumed(ledger: Ledger) -> list[Record]:
    """The allowances that this job needs and takes from common practice, and each figure."""
    columns = {c: c for c in ("key", "label", "unit", "in_use", "assumed", "needed")}
    rows = rows_of(ledger, "allowances", columns)
    return [r for r in rows if r["assumed"] and r["needed"] and r["in_use"] is not None]


def _which(ledger: Ledger, count: str) -> str:
    """The lines that nothing covers, named."""
    if count != "needs_uncovered":
        return ""
    rows = rows_of(ledger, "lines", {"label": "label", "uncovered": "uncovered"})
    return " (" + "; ".join(r["label"] for r in rows if r["uncovered"]) + ")"


def reasons(ledger: Ledger) -> str:
    """Why there is no total, in one line."""
    return "; ".join(
        f"{e['what']}: {'not known' if e['count'] is None else format(e['count'], 'g')}"
        for e in against(ledger)
    )


def not_measured(ledger: Ledger) -> str:
    """What keeps the quantities from being known, in one line; empty where they all are."""
    names = (ROWS_UNCHECKED.name, *rule_of(problems_measured).arguments)
    counts = {ledger.plan.cells[n].label: plain(ledger.cell(n)) for n in names}
    found = [
        f"{label}: {'not known' if n is None else format(n, 'g')}"
        for label, n in counts.items()
        if n != 0
    ]
    rows = rows_of(ledger, "lines", {"label": "label", "net": "net"})
    unknown = [r["label"] for r in rows if r["net"] is None]
    return "; ".join([*found, *(f"{label}: not known" for label in unknown)])


def notes(ledger: Ledger) -> list[str]:
    """What a total does not show by itself."""
    found = []
    if plain(ledger.cell("wastages_blank")):
        products = so_many(ledger.cell("wastages_blank"), "product")
        found.append(f"{products} bought with no wastage given: 0 % is used.")
    if plain(ledger.cell("orders_below")):
        found.append(
            f"{so_many(ledger.cell('orders_below'), 'order')} below the supplier's minimum."
        )
    if plain(ledger.cell("open_perpends")):
        found.append(f"{ledger.cell('open_perpends'):g} weeps are open perpends, left on site.")
    if plain(ledger.cell("work_provisional")):
        count = ledger.cell("work_provisional")
        lines = so_many(count, "line")
        found.append(
            f"An estimate, not a quote: {lines} of work {'is' if count == 1 else 'are'} provisional."
        )
    resting = sum(1 for n in ledger.column("lines", "rests_on") if plain(n))
    if resting:
        found.append(
            f"An estimate, not a quote: {so_many(resting, 'line')} {'rests' if resting == 1 else 'rest'} "
            "on figures assumed from common practice, which neither the guidance nor the job states."
        )
    for row in checks(ledger):
        if row.get("stops"):
            found.append(f'An estimate, not a quote: stopped by "{row["what"]}".')
    return found


def checks_in_words(ledger: Ledger) -> str:
    """How many checks are short, not given or the designer's, in one line; empty where none."""
    counts = (
        ("checks_short", "{:g} short"),
        ("checks_not_given", "{:g} not given"),
        ("checks_designers", "{:g} left to the designer"),
    )
    found = {words: plain(ledger.cell(name)) for name, words in counts}
    if None in found.values():
        return "Checks: some cannot be worked out."
    said = ", ".join(words.format(n) for words, n in found.items() if n)
    return f"Checks: {said}." if said else ""


def checks(ledger: Ledger) -> list[Record]:
    """Every detail check: what was given, what is asked, by whom, the state, and of which rows."""
    columns = {
        "check": "key",
        "what": "label",
        "state": "state",
        "assumed": "assumed",
        "given": "found",
        "asked": "asked",
        "unit": "unit",
        "by": "asked_by",
        "regulatory": "regulatory",
        "regulation": "regulation_note",
        "reason": "reason",
    }
    found = []
    for table, asked in (("checks", {**columns, "stops": "stops"}), ("product_checks", columns)):
        for n, row in enumerate(rows_of(ledger, table, asked), 1):
            spoken_of = rows_spoken_of(ledger, table, n)
            listed, names = ("", ()) if spoken_of is None else (spoken_of.list, spoken_of.names)
            found.append({**row, "list": listed, "rows": list(names)})
    return found


def findings(rows: list[Record]) -> list[Record]:
    """The checks that ask something of somebody."""
    return [r for r in rows if r["state"] not in QUIET]


def suppliers(ledger: Ledger) -> list[Record]:
    """The whole list from each supplier alone, in one drop."""
    columns = {
        "supplier": "name",
        "goods": "all_goods",
        "delivered": "all_total",
        "lacks": "all_lacking",
        "unlaid": "all_unlaid",
        "note": "all_note",
    }
    return [r for r in rows_of(ledger, "suppliers", columns) if r["supplier"]]


def by_basis(job: Job, given: Ledger) -> list[Record]:
    """What each basis would order and cost for this job, everything else unchanged.

    `given` holds the job's figures by its own basis.
    """
    found = []
    names = {r["name"]: r["label"] for r in basis_rows(job.bases)}
    for basis in job.bases:
        particulars = {**job.particulars, "basis_choice": basis.name}
        own = basis.name == given.cell("basis_choice")
        ledger = given if own else estimate(replace(job, particulars=particulars))
        ordered = rows_of(ledger, "totals", {c: c for c in ("label", "ordered", "unit")})
        found.append(
            {
                "basis": basis.name,
                "guidance": names[basis.name],
                "ordered": {r["label"]: r["ordered"] for r in ordered},
                "units": {r["label"]: r["unit"] for r in ordered},
                "document": plain(ledger.cell("document_word")) or "",
                "why": "" if is_available(ledger.cell("quote_total")) else reasons(ledger),
                "cost": None if not_priced(ledger) else cost_of_all(ledger),
                "total": plain(ledger.cell("quote_total")),
                "total_label": plain(ledger.cell("vat_total_label")),
            }
        )
    return found


def rolls_laid_out(ledger: Ledger) -> int:
    """As many rolls of sheet as there is room for in the layouts of each zone."""
    return max((int(n) for n in ledger.column("layouts", "roll_no")), default=0)


def cost_of_all(ledger: Ledger) -> float | None:
    """Cost of all orders; None where they do not hold all that is to be bought."""
    return None if not_ordered(ledger) else plain(ledger.cell("cost_total"))


def not_ordered(ledger: Ledger) -> str:
    """Why the orders do not hold all that is to be bought; empty where they do."""
    return _counted(ledger, "needs_uncovered", "rolls_beyond")


def not_priced(ledger: Ledger) -> str:
    """Why it is not known what the orders cost; empty where it is."""
    return _counted(
        ledger, "needs_uncovered", "rolls_beyond", "prices_missing", "deliveries_missing"
    )


def _counted(ledger: Ledger, *cells: str) -> str:
    counts = {c: plain(ledger.cell(c)) for c in cells}
    return "; ".join(
        f"{ledger.plan.cells[c].label}: {'not known' if n is None else format(n, 'g')}"
        for c, n in counts.items()
        if n != 0
    )


def plain(value: Any) -> Any:
    """A figure as JSON has it; None where it cannot be given."""
    if not is_available(value):
        return None
    return round(value, 6) if isinstance(value, float) else value
