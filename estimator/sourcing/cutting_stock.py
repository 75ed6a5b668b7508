"""Pieces cut from rolls at the least cost: an integer program over cutting patterns, solved by HiGHS.

Nothing is known here of materials. Lengths are whole micrometres, costs whole pence, so that sums are
exact. Cutting patterns: P. C. Gilmore and R. E. Gomory, "A linear programming approach to the
cutting-stock problem", Operations Research 9 (1961).
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import highspy

from .program import silent_solver

MOST_PATTERNS = 30_000  # of all rolls together: with more, those found first are used
SECONDS = 20.0  # for one problem: then the best so far, not proven


@dataclass(frozen=True)
class Roll:
    """A size of roll that may be bought: its length in micrometres, its cost in pence."""

    name: str
    length: int
    pence: int


Pieces = Mapping[int, int]  # how many of each length, in micrometres


@dataclass(frozen=True)
class Problem:
    """What is cut: pieces, and sets of pieces of which one each is cut (a floor laid either way)."""

    pieces: Pieces
    either: Sequence[Mapping[str, Pieces]] = ()

    def most(self) -> Counter[int]:
        """At most how many pieces of each length there can be."""
        every = Counter(self.pieces)
        for ways in self.either:
            widest: Counter[int] = Counter()
            for pieces in ways.values():
                widest |= Counter(pieces)
            every += widest
        return every


@dataclass(frozen=True)
class Cut:
    """One roll, and the pieces cut from it, the longest first."""

    roll: Roll
    pieces: tuple[int, ...]

    @property
    def left(self) -> int:
        """What is left of it, in micrometres."""
        return self.roll.length - sum(self.pieces)


@dataclass(frozen=True)
class Cutting:
    """The rolls, what is cut from each, which way each choice fell, and whether none costs less."""

    cuts: tuple[Cut, ...]
    ways: tuple[str, ...]
    proven: bool
    pence: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "pence", sum(cut.roll.pence for cut in self.cuts))


def least(problem: Problem, rolls: Sequence[Roll]) -> Cutting | None:
    """The cheapest rolls that give every piece; of equal cost, the fewest.

    None where a piece is longer than every roll.
    """
    most = problem.most()
    patterns, every = _patterns(most, rolls)
    if any(not any(n in pattern for _, pattern in patterns) for n in most):
        return None
    found = _solved(problem, most, patterns)
    if found is None:
        return None
    counts, ways, bound = found
    wanted = Counter(problem.pieces)
    for way, choice in zip(ways, problem.either, strict=True):
        wanted += Counter(choice[way])
    cuts = _dealt(wanted, [(roll, pattern) for (roll, pattern), n in counts for _ in range(n)])
    pence = sum(cut.roll.pence for cut in cuts)
    proven = (every and bound >= pence) or (
        not problem.either and _metres_need(wanted, rolls) >= pence
    )
    return Cutting(cuts, ways, proven)


def _metres_need(wanted: Pieces, rolls: Sequence[Roll]) -> int:
    """What no cutting costs less than: as if every metre of the best roll could be used."""
    metres = sum(length * n for length, n in wanted.items())
    if len(rolls) == 1:
        return math.ceil(metres / rolls[0].length) * rolls[0].pence
    return math.ceil(metres * min(r.pence / r.length for r in rolls) - 1e-9)


def _patterns(
    most: Pieces, rolls: Sequence[Roll]
) -> tuple[list[tuple[Roll, dict[int, int]]], bool]:
    """What may be cut from one roll, nothing left that would still give a piece; and whether these
    are all. Where there are too many, the fullest of each roll's first cuts come first."""
    lengths = sorted(most, reverse=True)
    found: list[tuple[Roll, dict[int, int]]] = []
    every = True
    for roll in rolls:
        room = MOST_PATTERNS * (rolls.index(roll) + 1) // len(rolls)
        for pattern in _from_one(lengths, most, roll.length, {}):
            if len(found) >= room:
                every = False
                found += [
                    (roll, {n: min(roll.length // n, most[n])}) for n in lengths if n <= roll.length
                ]
                break
            found.append((roll, pattern))
    return found, every


def _from_one(
    lengths: Sequence[int], most: Pieces, left: int, so_far: dict[int, int]
) -> Iterator[dict[int, int]]:
    if not lengths:
        if so_far and all(so_far.get(n, 0) == most[n] or n > left for n in most):
            yield dict(so_far)
        return
    longest, *others = lengths
    for n in range(min(left // longest, most[longest]), -1, -1):
        taken = {**so_far, longest: n} if n else so_far
        yield from _from_one(others, most, left - n * longest, taken)


def _solved(
    problem: Problem, most: Pieces, patterns: Sequence[tuple[Roll, Pieces]]
) -> tuple[list[tuple[tuple[Roll, Pieces], int]], tuple[str, ...], int] | None:
    """How many rolls of each pattern, which way each choice fell, and the bound in pence."""
    weight = sum(most.values()) + 1  # more than there can be rolls: cost first, then their number
    solver = silent_solver()
    settings = {"output_flag": False, "threads": 1, "mip_rel_gap": 0.0, "mip_abs_gap": 0.5,
                "time_limit": SECONDS}  # fmt: skip
    for name, value in settings.items():
        solver.setOptionValue(name, value)
    ways = [(n, way) for n, choice in enumerate(problem.either) for way in choice]
    for roll, _ in patterns:
        solver.addVar(0, float(weight))
        solver.changeColCost(solver.getNumCol() - 1, float(roll.pence * weight + 1))
    for _ in ways:
        solver.addVar(0, 1)
    for n in range(solver.getNumCol()):
        solver.changeColIntegrality(n, highspy.HighsVarType.kInteger)
    at = {way: len(patterns) + n for n, way in enumerate(ways)}
    for length in most:
        of = {n: float(p[length]) for n, (_, p) in enumerate(patterns) if length in p}
        for n, choice in enumerate(problem.either):
            of |= {at[n, way]: -float(pieces.get(length, 0)) for way, pieces in choice.items()}
        needed = float(problem.pieces.get(length, 0))
        solver.addRow(needed, highspy.kHighsInf, len(of), list(of), list(of.values()))
    for n, choice in enumerate(problem.either):
        columns = [at[n, way] for way in choice]
        solver.addRow(1, 1, len(columns), columns, [1.0] * len(columns))
    solver.run()
    values = solver.getSolution().col_value
    if not values or solver.getInfo().primal_solution_status != 2:  # no solution that fits
        return None
    counts = [(p, round(values[n])) for n, p in enumerate(patterns) if round(values[n])]
    chosen = tuple(
        next(way for way in choice if values[at[n, way]] > 0.5)
        for n, choice in enumerate(problem.either)
    )
    bound = math.ceil((solver.getInfo().mip_dual_bound - 0.5) / weight - 1e-6)
    return counts, chosen, bound


def _dealt(wanted: Counter[int], rolls: Sequence[tuple[Roll, Pieces]]) -> tuple[Cut, ...]:
    """The pieces that are wanted, roll by roll; a roll that would give none is not bought."""
    still = Counter(wanted)
    cuts = []
    for roll, pattern in sorted(rolls, key=lambda each: (-each[0].length, -max(each[1]))):
        here = []
        for length in sorted(pattern, reverse=True):
            n = min(pattern[length], still[length])
            still[length] -= n
            here += [length] * n
        if here:
            cuts.append(Cut(roll, tuple(here)))
    return tuple(cuts)
