"""What a merge does to the job, in plain words: prices, orders, totals before and after."""

from collections.abc import Iterator, Mapping
from typing import Any

from ...language.ledger import Ledger, is_available
from ...model.job import Job
from .asked import pack_in_words
from .merging import Merge

_TOTALS = (
    ("cost_total", "Cost of orders, delivered, without VAT"),
    ("quote_net", "Quoted, without VAT"),
    ("quote_total", "Quoted in all"),
)


def effect(job: Job, found: Merge, before: Ledger, after: Ledger) -> dict[str, Any]:
    """Lines in words, and each total before and after; None where there is none.

    `before` holds the figures of the job as it is, `after` those of the job with it.
    """
    done = orders_and_totals(before, after)
    return {**done, "lines": [*_changes(job, found, _discounted(after)), *done["lines"]]}


def orders_and_totals(before: Ledger, after: Ledger) -> dict[str, Any]:
    """The same without the changes: which orders and totals follow from them."""
    totals = {
        name: {"before": _plain(before, name), "after": _plain(after, name)} for name, _ in _TOTALS
    }
    lines = [*_orders(before, after), *_deliveries(before, after)]
    for name, label in _TOTALS:
        one, other = (_pounds(totals[name][when]) for when in ("before", "after"))
        lines.append(
            f"{label}: {one} before, {other} now."
            if one != other
            else f"{label}: {one}, unchanged."
        )
    return {"lines": lines, "totals": totals}


def _discounted(after: Ledger) -> dict[str, str]:
    """What is said of the price of each product on which a trade discount is typed."""
    columns = (after.column("book", c) for c in ("code", "discount", "net_price"))
    return {
        code: f" Less the discount of {discount:g} %, {_pounds(price)} is used."
        for code, discount, price in zip(*columns, strict=False)
        if code and discount and is_available(price) and price != ""
    }


def _changes(job: Job, found: Merge, discounted: Mapping[str, str]) -> Iterator[str]:
    descriptions = {r["code"]: r["description"] for r in job.rows["book"]}
    for change in found.changes:
        one, other = _pounds(change.old), _pounds(change.new)
        if change.table == "book":
            text = f"{change.key} ({descriptions[change.key]}): {one} before, {other} now, a pack."
            yield text + discounted.get(change.key, "")
        else:
            what = {"delivery": "delivery", "free_over": "free delivery over"}[change.field]
            yield f"{change.key}, {what}: {one} before, {other} now."
    for row in found.new_rows:
        yield (
            f"{row['code']} is new in the book, offered instead: {row['description']}, "
            f"{pack_in_words(row)}, £{row['price']:,.2f} a pack.{discounted.get(row['code'], '')}"
        )
    if found.confirmed:
        yield f"{found.confirmed} prices came back as they were."


def _orders(before: Ledger, after: Ledger) -> Iterator[str]:
    """Products of which other numbers of packs are ordered now."""
    old, new = (_packs(ledger) for ledger in (before, after))
    for code, packs in new.items():
        was = old.get(code, 0)
        if packs != was:
            yield f"{code}: {_count(was)} ordered before, {_count(packs)} now."


def _deliveries(before: Ledger, after: Ledger) -> Iterator[str]:
    """Suppliers whose delivery the goods make free now, or do not any more."""
    dues = [_due(ledger) for ledger in (before, after)]
    for name, (goods, charge, over) in dues[1].items():
        was_goods, was_charge, _ = dues[0].get(name, (0, 0, None))
        if not goods or not was_goods or bool(charge) == bool(was_charge):
            continue
        of_goods = f"the goods come to {_pounds(goods)}"
        if charge:
            below = f", below {_pounds(over)}" if over is not None else ""
            yield f"{name}: delivery is no longer free: {of_goods}{below}. It costs {_pounds(charge)}."
        else:
            reach = f" and reach {_pounds(over)}" if over is not None else ""
            yield f"{name}: delivery is free now: {of_goods}{reach}. It cost {_pounds(was_charge)}."


def _due(ledger: Ledger) -> dict[str, tuple[float, float, float | None]]:
    """Of each supplier: goods ordered, what their delivery costs, and from where on it is free."""
    columns = [
        ledger.column("suppliers", c) for c in ("name", "goods", "delivery_due", "free_over")
    ]
    return {
        name: (goods, charge, over if isinstance(over, int | float) else None)
        for name, goods, charge, over in zip(*columns, strict=True)
        if name and is_available(goods) and is_available(charge)
    }


def _packs(ledger: Ledger) -> dict[str, float]:
    found = zip(ledger.column("book", "code"), ledger.column("book", "packs"), strict=False)
    return {code: packs if is_available(packs) else 0 for code, packs in found}


def _count(packs: float) -> str:
    return "none" if packs == 0 else f"{packs:g} {'pack' if packs == 1 else 'packs'}"


def _plain(ledger: Ledger, name: str) -> float | None:
    value = ledger.cell(name)
    return value if is_available(value) else None


def _pounds(value: float | None) -> str:
    return "none" if value is None else f"£{value:,.2f}"
