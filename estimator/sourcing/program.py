"""The choice itself: an integer program in whole pence, solved by HiGHS and held against its bound.

Nothing is known here of materials: options that cover lines, and suppliers with their terms.
"""

import math
import os
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import highspy

_NEVER_MORE = 0.5  # pence: less than one is nothing, as all costs are whole pence


@dataclass(frozen=True)
class Option:
    """Some lines that share products, bought together from one supplier, and what they cost."""

    group: int
    supplier: str
    lines: frozenset[str]
    pence: int
    moves: int = 0  # how many of its lines are bought elsewhere as the job stands


@dataclass(frozen=True)
class Terms:
    """What a supplier asks for a delivery, in pence; None where it never delivers free."""

    delivery: int
    free_over: int | None = None
    minimum: int = 0

    def due(self, goods: int) -> int:
        """Delivery of goods that cost so much."""
        free = self.free_over is not None and goods >= self.free_over
        return self.delivery if goods and not free else 0


@dataclass(frozen=True)
class Choice:
    """The options chosen, what they cost delivered in pence, and whether none can cost less."""

    options: tuple[Option, ...]
    pence: int
    proven: bool


def cheapest(
    options: Sequence[Option],
    terms: Mapping[str, Terms],
    most_suppliers: int,
    refused: Sequence[Sequence[Option]] = (),
) -> Choice | None:
    """The cheapest choice in which every line is in one option; among equals the fewest moves.

    No order is below its supplier's minimum, none of the choices `refused` is taken. None where
    there is no such choice.
    """
    found = _solved(options, terms, most_suppliers, refused, None)
    if found is None:
        return None
    fewest = _solved(options, terms, most_suppliers, refused, found.pence)
    if fewest is None or fewest.pence > found.pence:
        return found
    return Choice(fewest.options, fewest.pence, found.proven)


def _solved(
    options: Sequence[Option],
    terms: Mapping[str, Terms],
    most_suppliers: int,
    refused: Sequence[Sequence[Option]],
    most_pence: int | None,
) -> Choice | None:
    """The least cost; or, at that cost at the most, the fewest moves."""
    solver = silent_solver()
    settings = {
        "output_flag": False, "threads": 1, "mip_rel_gap": 0.0, "mip_abs_gap": _NEVER_MORE,
        "mip_feasibility_tolerance": 1e-9, "primal_feasibility_tolerance": 1e-9,
    }  # fmt: skip
    for name, value in settings.items():
        solver.setOptionValue(name, value)
    names = list(terms)
    taken = {o: n for n, o in enumerate(options)}
    used = {s: len(options) + n for n, s in enumerate(names)}  # anything is ordered there
    free = {s: len(options) + len(names) + n for n, s in enumerate(names)}  # delivered free
    pence = {
        **{n: o.pence for o, n in taken.items()},
        **{n: terms[s].delivery for s, n in used.items()},
        **{n: -terms[s].delivery for s, n in free.items()},
    }
    moves = {n: o.moves for o, n in taken.items()}
    for n in range(len(options) + 2 * len(names)):
        solver.addVar(0, 1)
        solver.changeColIntegrality(n, highspy.HighsVarType.kInteger)
        solver.changeColCost(n, float((pence if most_pence is None else moves).get(n, 0)))

    def row(least: float, most: float, of: Mapping[int, float]) -> None:
        solver.addRow(least, most, len(of), list(of), [float(v) for v in of.values()])

    none, no_end = -highspy.kHighsInf, highspy.kHighsInf
    for line in sorted({x for o in options for x in o.lines}):
        row(1, 1, {n: 1 for o, n in taken.items() if line in o.lines})
    for group, supplier in sorted({(o.group, o.supplier) for o in options}):
        mine = {n: 1 for o, n in taken.items() if (o.group, o.supplier) == (group, supplier)}
        row(none, 0, {**mine, used[supplier]: -1})
    for s in names:
        goods = {n: o.pence for o, n in taken.items() if o.supplier == s}
        row(0, no_end, {**goods, used[s]: -max(terms[s].minimum, 1)})
        row(none, 0, {free[s]: 1, used[s]: -1})
        over = terms[s].free_over
        if over is None:
            solver.changeColBounds(free[s], 0, 0)
        else:
            row(0, no_end, {**goods, free[s]: -over})
    row(none, most_suppliers, {used[s]: 1 for s in names})
    for choice in refused:
        row(none, len(choice) - 1, {taken[o]: 1 for o in choice if o in taken})
    if most_pence is not None:
        row(none, most_pence, pence)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    values = solver.getSolution().col_value
    chosen = tuple(o for o, n in taken.items() if values[n] > 0.5)
    total = ordered(chosen, terms, most_suppliers)
    if total is None:  # what is true within a hair only
        return None
    bound = solver.getInfo().mip_dual_bound
    return Choice(chosen, total, most_pence is None and math.ceil(bound - 1e-3) >= total)


def silent_solver() -> highspy.Highs:
    """A solver; while it is made it would print its name where a program reads our JSON."""
    sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        return highspy.Highs()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


def ordered(
    chosen: Sequence[Option], terms: Mapping[str, Terms], most_suppliers: int
) -> int | None:
    """What a choice costs delivered, counted in whole pence; None where it cannot be ordered so."""
    goods: dict[str, int] = {}
    for option in chosen:
        goods[option.supplier] = goods.get(option.supplier, 0) + option.pence
    if len(goods) > most_suppliers or any(terms[s].minimum > g for s, g in goods.items()):
        return None
    return sum(g + terms[s].due(g) for s, g in goods.items())
