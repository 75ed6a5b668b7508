"""The sheet for site: hold points in order, what is counted at each, who is told. No prices."""

from ..language import Fixed, Plan, Table
from ..language.ledger import Ledger
from ..language.units import AMOUNT, TEXT
from ..model.plan import HOLD_BLOCKS
from .hold_points import hold_points
from .issue import Issue
from .replacing import BUILD, NOTE, REPLACES, replaced

_COPIED = ("job_title", "site_address", "site_nation", "prepared_by", "gas_note")


def _items(name: str, title: str) -> Table:
    columns = (
        Fixed("what", f"Counted at: {title}", TEXT),
        Fixed("quantity", "Quantity", AMOUNT),
        Fixed("unit", "Unit", TEXT),
        Fixed("standing", "Whose, and how sure", TEXT),
    )
    return Table(name, f"{name}_row", title, columns, key="what", guarded=False, numbered=False)


GAS = Table("gas_area", "gas_area_part", "Radon or gas", (), guarded=False, numbered=False)
PLAN = Plan(
    (REPLACES, *(_items(table, name) for name, table, _ in HOLD_BLOCKS), GAS),
    cells=[
        NOTE,
        *(
            Fixed(name, label, TEXT)
            for name, label in (
                ("job_title", "Work"),
                ("site_address", "Site"),
                ("site_nation", "Nation"),
                ("prepared_by", "From"),
                ("gas_note", "Radon or gas"),
                ("quote_date", "Date"),
                ("revision_mark", "Revision"),
            )
        ),
        *(Fixed(cell, cell, TEXT) for _, _, cells in HOLD_BLOCKS for cell in cells),
    ],
    keyed={},
)


def site_ledger(job: Ledger, issue: Issue) -> Ledger:
    """The sheet for site as figures: a hold point that concerns nothing on the job is left out."""
    there = {h.table: h for h in hold_points(job)}
    rows = {table: list(there[table].items) or [{}] if table in there else []
            for _, table, _ in HOLD_BLOCKS}  # fmt: skip
    typed = {name: job.cell(name) for name in _COPIED} | {
        "quote_date": issue.date,
        "revision_mark": issue.revision,
        NOTE.name: replaced(issue, BUILD),
    }
    for _, table, (look, tell, source) in HOLD_BLOCKS:
        if table in there:
            found = there[table]
            typed |= {look: found.look_for, tell: found.notice, source: found.source}
    rows[REPLACES.name] = [{}] if issue.earlier else []
    rows[GAS.name] = [{}] if job.cell("gas_note") else []
    return Ledger(PLAN, rows, typed)
