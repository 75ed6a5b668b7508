"""Differences in the price, as each quote says it: lines, stages, and the sums below them.

Pounds are compared as whole pence, so that the differences of the lines add up to that of the total.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from ...language import rounding
from ...language.ledger import Ledger
from ...model.levels import LINES, QUANTITIES, STAGES
from ...model.reports import plain, reasons, rows_of
from .change import PRICE, Change, State
from .words import packs, pounds, say, word

_OFTEN_NOUGHT = ("minimum_added", "vat_accounted")  # not missed where there is no figure yet
_UNCOUNTED = ("item", "sum")  # one of it goes without saying


@dataclass
class Quoted:
    """What a quote says of one thing in one stage: equal lines are taken together."""

    pence: int | None = 0
    quantity: float | None = 0
    counted_in: str = ""
    status: str = ""

    def add(self, pence: int | None, quantity: float | None, counted_in: str, status: str) -> None:
        """One more line of the same."""
        self.pence = None if self.pence is None or pence is None else self.pence + pence
        same_kind = self.counted_in in ("", counted_in)
        self.quantity = self.quantity + (quantity or 0) if same_kind and self.quantity is not None else None  # fmt: skip
        self.counted_in = counted_in
        self.status = status if self.status != "provisional" else self.status

    def same_goods(self, other: "Quoted") -> bool:
        """Whether it is as many of the same, whatever the price."""
        return (self.quantity, self.counted_in) == (other.quantity, other.counted_in)

    def text(self) -> str:
        """Its price, and how many of what."""
        amount = pounds(self.pence)
        if self.quantity is None or (self.counted_in in _UNCOUNTED and self.quantity == 1):
            return amount
        counted = packs(self.quantity, self.counted_in)
        return say("priced", amount=amount, quantity=counted)


Key = tuple[str, str]  # stage, item


@dataclass
class Quote:
    """The lines of one quote, stage by stage; `known` is false while they have no figures."""

    lines: dict[Key, Quoted] = field(default_factory=dict)
    known: bool = True


def price_changes(old: State, new: State) -> Iterator[Change]:
    """Lines, then stages, then the sums; last what only the estimator reads."""
    before, after = quote_of(old.ledger), quote_of(new.ledger)
    if before.known != after.known:
        was, now = (word("there" if q.known else "no_figure") for q in (before, after))
        text = say("no_lines", was=was, now=now)
        yield Change(PRICE, ("quote", "lines"), text, before.known, after.known, True, STAGES)
    elif before.known:
        yield from _lines(before, after)
        yield from _stages(before, after)
    yield from _sums(old.ledger, new.ledger)
    yield from _costs(old.ledger, new.ledger)


def quote_of(ledger: Ledger) -> Quote:
    """What a quote says, line by line."""
    names = ("item", "stage_no", "quantity", "counted_in", "status", "amount")
    columns = {c: c for c in names}
    stages = [str(s) for s in ledger.column("stages", "name")]
    found = Quote()
    for row in rows_of(ledger, "quote_lines", columns):
        if row["item"] == "":
            continue
        if None in (row["item"], row["stage_no"]):
            return Quote(known=False)
        key = (stages[int(row["stage_no"]) - 1], row["item"])
        found.lines.setdefault(key, Quoted()).add(
            *(_pence(row["amount"]), row["quantity"], row["counted_in"] or ""),
            row["status"] or "",
        )
    return found


def _lines(before: Quote, after: Quote) -> Iterator[Change]:
    moved = _moved(before, after)
    old = {moved.get(k, k): q for k, q in before.lines.items()}
    for was_at, now_at in moved.items():
        text = say("line_moved", item=now_at[1], was=was_at[0], now=now_at[0])
        yield Change(PRICE, ("stage of", *now_at), text, was_at[0], now_at[0], True, LINES)
    for key in [*after.lines, *(k for k in old if k not in after.lines)]:
        was, now = old.get(key), after.lines.get(key)
        stage, item = key
        at = (PRICE, ("line", stage, item))
        if was is None and now is not None:
            text = say("line_new", stage=stage, item=item, now=now.text())
            yield Change(*at, text, 0, in_pounds(now.pence), True, QUANTITIES)
        elif now is None and was is not None:
            text = say("line_gone", stage=stage, item=item, was=was.text())
            yield Change(*at, text, in_pounds(was.pence), 0, True, QUANTITIES)
        elif was is not None and now is not None:
            if (was.pence, was.text()) != (now.pence, now.text()):
                text = line_sentence(key, was, now)
                yield Change(
                    *at, text, in_pounds(was.pence), in_pounds(now.pence), True, QUANTITIES
                )
            if was.status != now.status:
                text = say("line_status", stage=stage, item=item, was=was.status, now=now.status)
                yield Change(PRICE, ("status of", stage, item), text, was.status, now.status,
                             True, LINES)  # fmt: skip


def line_sentence(key: Key, was: Quoted, now: Quoted) -> str:
    """What differs between two states of one line."""
    stage, item = key
    return say("line", stage=stage, item=item, was=was.text(), now=now.text(),
               difference=_difference(was.pence, now.pence))  # fmt: skip


def _moved(before: Quote, after: Quote) -> dict[Key, Key]:
    """Items that stand in one stage only, and in another than before."""

    def only(quote: Quote) -> dict[str, Key]:
        items = [item for _, item in quote.lines]
        return {item: (stage, item) for stage, item in quote.lines if items.count(item) == 1}

    old, new = only(before), only(after)
    return {old[i]: new[i] for i in old if i in new and old[i] != new[i]}


def _stages(before: Quote, after: Quote) -> Iterator[Change]:
    stages = dict.fromkeys(stage for stage, _ in [*after.lines, *before.lines])
    for stage in stages:
        was, now = (_sum_of_stage(q, stage) for q in (before, after))
        if was != now:
            text = say("stage", stage=stage, was=pounds(was), now=pounds(now),
                       difference=_difference(was, now))  # fmt: skip
            yield Change(PRICE, ("stage", stage), text, in_pounds(was), in_pounds(now), True,
                         STAGES)  # fmt: skip


def _sum_of_stage(quote: Quote, stage: str) -> int | None:
    found = [q.pence for (at, _), q in quote.lines.items() if at == stage]
    return None if None in found else sum(p for p in found if p is not None)


def _sums(old: Ledger, new: Ledger) -> Iterator[Change]:
    cells = new.plan.cells
    for name in ("minimum_added", "quote_net", "quote_vat", "quote_total", "vat_accounted"):
        label = cells[name].label
        if name == "quote_total":
            label = str(plain(new.cell("vat_total_label")) or label)
        if name not in _OFTEN_NOUGHT or any(plain(x.cell(name)) for x in (old, new)):
            yield from _sum(name, label, old.cell(name), new.cell(name), True)


def _costs(old: Ledger, new: Ledger) -> Iterator[Change]:
    """What only the estimator reads: orders, and why there is no total."""
    columns = {"name": "name", "order": "order_total"}
    before, after = (
        {r["name"]: r["order"] for r in rows_of(x, "suppliers", columns) if r["name"]}
        for x in (old, new)
    )
    for supplier in dict.fromkeys([*after, *before]):
        what = say("order", supplier=supplier)
        was, now = before.get(supplier, 0), after.get(supplier, 0)
        yield from _sum(f"order of {supplier}", what, was, now, False)
    label = new.plan.cells["cost_total"].label
    yield from _sum("cost_total", label, old.cell("cost_total"), new.cell("cost_total"), False)
    was_why, now_why = reasons(old), reasons(new)
    if now_why and now_why != was_why:
        yield Change(PRICE, ("reasons",), say("reasons", why=now_why), was_why, now_why)


def _sum(name: str, label: str, old: object, new: object, seen: bool) -> Iterator[Change]:
    was, now = _pence(plain(old)), _pence(plain(new))
    if was != now:
        text = say("sum", what=label, was=pounds(was), now=pounds(now),
                   difference=_difference(was, now))  # fmt: skip
        yield Change(PRICE, ("sum", name), text, in_pounds(was), in_pounds(now), seen, STAGES)


def _difference(was: int | None, now: int | None) -> str:
    if was is None or now is None or was == now:
        return ""
    return say("more" if now > was else "less", amount=pounds(abs(now - was)))


def _pence(value: float | None) -> int | None:
    return None if value is None else round(rounding.pence(value) * 100)


def in_pounds(pence: int | None) -> float | None:
    """Whole pence as pounds, None for no figure."""
    return None if pence is None else pence / 100
