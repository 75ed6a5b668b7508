"""What lines would cost at each supplier: read off the job itself, estimated with them moved.

Lines that any supplier would send the same product for share its packs, so they are one group, and
every part of it is an option of its own at each supplier. Which sheet is bought decides how much
tape is needed, so all is worked out for one supplier of the sheet at a time.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import Any

from ..buying.lines import LINES
from ..buying.needs import SUPPLIERS
from ..errors import JobError
from ..language.ledger import Ledger, is_available
from ..language.rounding import pence
from ..model.estimate import estimate
from ..model.job import Job
from ..pricing.refusals import COUNTS
from .program import Option, Terms

SHEET, FOLLOW_SHEET = "dpm", ("lap_tape", "over_tape")  # as buying/sheet.py and buying/lines.py
_KEPT_OUT = "needs_uncovered"  # an option is only made where it is 0 for its lines
Key = tuple[str, frozenset[str]]  # a supplier, and lines


@dataclass(frozen=True)
class Group:
    """Lines that share products, and from whom each of them could be bought."""

    lines: tuple[str, ...]
    stocked_by: Mapping[str, frozenset[str]]

    def keys(self, suppliers: Sequence[str]) -> Iterator[Key]:
        """Every part of it with every supplier that stocks it, where another has each of the rest."""
        for number in range(len(self.lines), 0, -1):
            for part in combinations(self.lines, number):
                for s in suppliers:
                    if all(
                        s in self.stocked_by[x] if x in part else self.stocked_by[x] - {s}
                        for x in self.lines
                    ):
                        yield s, frozenset(part)


class Elsewhere:
    """A job as it stands, and with other suppliers named on its lines.

    Raises JobError for a job in which it is not known what is needed, or what it costs.
    """

    def __init__(self, job: Job) -> None:
        self.job, self.ledger = job, estimate(job)
        self.suppliers = [str(r["name"]) for r in job.rows["suppliers"] if r.get("name")]
        if not all(map(is_available, self.ledger.column("needs", "demand"))):
            raise JobError("quantities", "a need without a figure", "a job whose needs are known")
        missing = self.ledger.cell("prices_missing")
        if missing:
            raise JobError(
                "Prices", f"{missing:g} products needed that have no price", "a price for each"
            )
        first = next(iter(self.suppliers), "")
        usual = job.particulars.get("supplier_choice") or first
        self.stands = {
            line: job.line_suppliers.get(line) or str(usual)
            for line in dict.fromkeys(line for line, _ in needs(self.ledger))
        }

    def bought(self, suppliers: Mapping[str, str]) -> Ledger:
        """Its figures where these lines name these suppliers, and all others what they name."""
        job = self.job
        return estimate(replace(job, line_suppliers={**job.line_suppliers, **suppliers}))

    @cached_property
    def terms(self) -> dict[str, Terms]:
        """What each supplier asks for a delivery."""
        return {
            str(r["name"]): Terms(
                _in_pence(r["delivery"] or 0),
                None if r.get("free_over") is None else _in_pence(r["free_over"]),
                _in_pence(r.get("minimum_order") or 0),
            )
            for r in self.job.rows["suppliers"]
            if r.get("name")
        }

    @cached_property
    def groups(self) -> list[Group]:
        """The lines that are bought, those together that share a product anywhere."""
        ledger = self.ledger
        stocked = {line: set(self.suppliers) for line in self.stands}
        together = {line: {line} for line in self.stands}
        first: dict[Any, str] = {}
        for line, demand in needs(ledger):
            shared: list[Any] = []
            for supplier, slot in zip(self.suppliers, SUPPLIERS, strict=False):
                row = ledger.column("demands", f"pick_{slot}")[demand - 1]
                if row == 0:
                    stocked[line].discard(supplier)
                else:
                    shared.append(row)
            if line in self.following:  # whose product may differ with the sheet
                shared.append(ledger.column("demands", "material")[demand - 1])
            for what in shared:
                joined = together[line] | together[first.setdefault(what, line)]
                together |= dict.fromkeys(joined, joined)
        parts = {id(lines): lines for lines in together.values()}
        return [
            Group(
                tuple(x for x in self.stands if x in lines),
                {x: frozenset(stocked[x]) for x in lines},
            )
            for lines in parts.values()
        ]

    @cached_property
    def following(self) -> frozenset[str]:
        """Lines of a material of which the sheet decides how much is needed."""
        column = self.ledger.column("lines", "material")
        material = {x.key: m for x, m in zip(LINES, column, strict=True)}
        tapes = {material[x] for x in FOLLOW_SHEET if x in self.stands}
        return frozenset(x for x in self.stands if material[x] in tapes)

    @cached_property
    def sheets(self) -> list[str]:
        """Each supplier that the sheet could be bought from; none where none is bought."""
        of = next((g for g in self.groups if SHEET in g.lines), None)
        return [] if of is None else [s for s in self.suppliers if s in of.stocked_by[SHEET]]

    @cached_property
    def _alike(self) -> list[Option]:
        """The options that are the same whichever sheet is bought."""
        chosen = [n for n, g in enumerate(self.groups) if not self.following & {*g.lines}]
        return self._priced(chosen, {})

    def options(self, sheet: str | None) -> list[Option]:
        """Every option where the sheet is bought from this supplier; None: where no sheet is."""
        chosen = [n for n, g in enumerate(self.groups) if self.following & {*g.lines}]
        found = [*self._alike, *self._priced(chosen, {SHEET: sheet} if sheet else {})]
        return [o for o in found if sheet is None or SHEET not in o.lines or o.supplier == sheet]

    def _priced(self, groups: Sequence[int], fixed: Mapping[str, str]) -> list[Option]:
        """The options of some groups, priced one of each group at a time."""
        waiting = {n: dict.fromkeys(self.groups[n].keys(self.suppliers)) for n in groups}
        found: list[Option] = []
        while any(waiting.values()):
            now = [k for n, keys in waiting.items() if keys for k in self._next(n, keys)]
            ledger = self._with(now, fixed)
            now = self._sound(now, fixed, ledger)
            for n, (supplier, lines) in now:
                moves = sum(self.stands[x] != supplier for x in lines)
                found.append(Option(n, supplier, lines, cost_of(ledger, lines), moves))
        return found

    def _sound(
        self, keys: list[tuple[int, Key]], fixed: Mapping[str, str], ledger: Ledger
    ) -> list[tuple[int, Key]]:
        """Those by which nothing more stands against a total: half by half, to each alone.

        Part of a group is kept all the same, as the rest of it may be to blame: a mix that is
        refused with it is found when it is estimated.
        """
        if not self._refuses(ledger):
            return keys
        if len(keys) == 1:
            n, (_, lines) = keys[0]
            return keys if len(lines) < len(self.groups[n].lines) else []
        half = len(keys) // 2
        parts = (keys[:half], keys[half:])
        return [k for part in parts for k in self._sound(part, fixed, self._with(part, fixed))]

    def _next(self, n: int, keys: dict[Key, None]) -> list[tuple[int, Key]]:
        """The next to be priced of a group, and with it the rest of the group at another supplier."""
        supplier, lines = first = next(iter(keys))
        del keys[first]
        rest = frozenset(self.groups[n].lines) - lines
        beside = ((s, rest) for s in self.suppliers if s != supplier)
        other = next((k for k in beside if k in keys), None)
        if other is None:
            return [(n, first)]
        del keys[other]
        return [(n, first), (n, other)]

    def _with(self, keys: Sequence[tuple[int, Key]], fixed: Mapping[str, str]) -> Ledger:
        """The job with those lines at those suppliers, and the rest of their groups elsewhere."""
        suppliers = dict(fixed)
        placed = {x: s for _, (s, lines) in keys for x in lines}
        for n, (supplier, _) in keys:
            for line in self.groups[n].lines:
                others = self.groups[n].stocked_by[line] - {supplier}
                suppliers[line] = placed.get(line) or min(others)
        return self.bought(suppliers)

    def _refuses(self, ledger: Ledger) -> bool:
        """Whether more stands against a total than as the job stands, bar what is not covered."""
        return any(
            _more(ledger.cell(c.name), self.ledger.cell(c.name))
            for c in COUNTS
            if c.name != _KEPT_OUT
        )

    def refuses(self, ledger: Ledger) -> bool:
        """Whether more stands against a total than as the job stands."""
        return self._refuses(ledger) or ledger.cell(_KEPT_OUT) != 0


def needs(ledger: Ledger) -> Iterator[tuple[str, int]]:
    """The line of each need that is bought, and its demand, counted from 1."""
    for line, demand in zip(
        ledger.column("needs", "line"), ledger.column("needs", "demand"), strict=True
    ):
        if demand:
            yield line, int(demand)


def cost_of(ledger: Ledger, lines: frozenset[str]) -> int:
    """What the products for those lines cost, in pence; no other line may take any of them."""
    picks, costs = ledger.column("demands", "pick"), ledger.column("book", "cost")
    rows = {int(picks[d - 1]) for line, d in needs(ledger) if line in lines}
    return sum(_in_pence(costs[row - 1]) for row in rows)


def _more(now: Any, before: Any) -> bool:
    if not is_available(now) or not is_available(before):
        return is_available(before)
    return bool(now > before)


def _in_pence(pounds: float) -> int:
    return round(pence(pounds) * 100)
