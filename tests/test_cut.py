"""Whole pieces from the cheapest rolls: published examples, optima known by construction, every way tried."""

import json
import random
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import product as every_way
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.sourcing import cutting_stock
from estimator.sourcing.cutting_stock import Cutting, Problem, Roll, least
from estimator.sourcing.stock import cut_from_stock

from .conftest import LONG
from .made import made
from .random_jobs import random_job
from .small_jobs import STOCK, bare_job, product, row

# Wikipedia, "Cutting stock problem", illustration: 13 widths of paper from rolls of 5600 mm, 73 rolls.
PAPER = dict(
    zip(
        (1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200),
        (22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20),
        strict=True,
    )
)
# GAMS model library, CUTSTOCK (after V. Chvátal, Linear Programming, 1983, chapter 13): raw width 100;
# 453 raws, that figure from memory.
RAWS = {45: 97, 36: 610, 31: 395, 14: 211}
# D. S. Johnson, "Approximation algorithms for combinatorial problems", Journal of Computer and System
# Sciences 9 (1974), from memory: the longest first takes 11, where 9 are filled to the end. Six times
# 51 + 26 + 23 = 100 and three times 27 + 27 + 23 + 23 = 100.
NINE_FULL = {51: 6, 27: 6, 26: 6, 23: 12}
# S. Martello and P. Toth, "Knapsack Problems", 1990, chapter 8, from memory: 300 in all would fill three of
# 100, but 70 leaves 30, and 11 + 7 + 3 is less: one of them is not full, so four.
KNAPSACKS = {70: 1, 60: 1, 50: 1, 33: 3, 11: 1, 7: 1, 3: 1}


@pytest.mark.parametrize(
    ("pieces", "roll", "rolls"),
    [
        (PAPER, 5600, 73),
        (RAWS, 100, 453),
        (NINE_FULL, 100, 9),
        (KNAPSACKS, 100, 4),
        ({12_000: 3}, 25_000, 2),
    ],
)
def test_published_examples(pieces: dict[int, int], roll: int, rolls: int) -> None:
    found = least(Problem(pieces), [Roll("a", roll, 100)])
    assert found is not None
    assert len(found.cuts) == rolls
    assert found.proven
    laid_out(found, pieces)


def laid_out(found: Cutting, pieces: dict[int, int]) -> None:
    """Every piece is there once, and no roll gives more than it is long."""
    assert Counter(n for cut in found.cuts for n in cut.pieces) == Counter(pieces)
    assert all(sum(cut.pieces) + cut.left == cut.roll.length for cut in found.cuts)
    assert all(cut.left >= 0 for cut in found.cuts)
    assert found.pence == sum(cut.roll.pence for cut in found.cuts)


@pytest.mark.parametrize("seed", range(6))
def test_triples_that_fill_their_roll(seed: int) -> None:
    """Made from full rolls of three pieces: as many rolls are the optimum, and nothing is left."""
    rng = random.Random(f"triples {seed}")
    pieces: Counter[int] = Counter()
    for _ in range(8):
        first = rng.randrange(380, 490)
        second = rng.randrange(250, (1000 - first) // 2 + 1)
        pieces.update([first, second, 1000 - first - second])
    found = least(Problem(pieces), [Roll("a", 1000, 7)])
    assert found is not None
    assert len(found.cuts) == 8
    assert not any(cut.left for cut in found.cuts)
    assert found.proven


def test_sizes_mixed() -> None:
    """3 strips of 12 m: one roll of 25 m (£90) and one of 12.5 m (£50) are £140; two of 25 m are £180,
    three of 12.5 m £150."""
    found = least(Problem({12_000: 3}), [Roll("25", 25_000, 9000), Roll("12.5", 12_500, 5000)])
    assert found is not None
    assert sorted(cut.roll.name for cut in found.cuts) == ["12.5", "25"]
    assert (found.pence, found.proven) == (14_000, True)


def cheapest_by_hand(pieces: dict[int, int], rolls: list[Roll]) -> int:
    """The least cost, by trying every set of pieces for every next roll."""
    lengths = sorted(pieces)

    @cache
    def cost(left: tuple[int, ...]) -> int:
        if not any(left):
            return 0
        found = 10**9
        for roll in rolls:
            for taken in every_way(*(range(n + 1) for n in left)):
                used = sum(n * length for n, length in zip(taken, lengths, strict=True))
                if any(taken) and used <= roll.length:
                    rest = tuple(a - b for a, b in zip(left, taken, strict=True))
                    found = min(found, roll.pence + cost(rest))
        return found

    return cost(tuple(pieces[n] for n in lengths))


@pytest.mark.parametrize("seed", range(400 if LONG else 40))
def test_small_problems_against_every_way_of_cutting(seed: int) -> None:
    rng = random.Random(f"cut {seed}")
    rolls = [
        Roll(str(n), rng.choice((5000, 8000, 12_500, 15_000)), rng.randrange(1000, 9000))
        for n in range(rng.randint(1, 3))
    ]
    few = {rng.randrange(600, 4900): rng.randint(1, 2) for _ in range(rng.randint(1, 3))}
    ways = [
        {"A": {rng.randrange(2000, 4900): rng.randint(1, 2)}, "B": {rng.randrange(2000, 4900): 1}}
        for _ in range(rng.randint(0, 1))
    ]
    found = least(Problem(few, ways), rolls)
    assert found is not None
    best = 10**9
    for chosen in every_way(*(choice.values() for choice in ways)):
        wanted = sum((Counter(c) for c in chosen), Counter(few))
        best = min(best, cheapest_by_hand(dict(wanted), rolls))
    assert found.pence == best
    assert found.proven
    cut = Counter(few)
    for way, choice in zip(found.ways, ways, strict=True):
        cut += Counter(choice[way])
    laid_out(found, dict(cut))


def test_a_piece_longer_than_every_roll_cannot_be_cut() -> None:
    assert least(Problem({9000: 1, 1000: 4}), [Roll("a", 8000, 1)]) is None


def test_what_is_not_proven_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no room for all patterns the cutting still gives every piece, and claims no more than its
    metres show. 3577 + 4094 + 2165 and 3952 + 3658 + 2165 fit into 10,000, the other four go by
    twos: four rolls, as their 34.9 m need. With two patterns only there are five, and no claim."""
    pieces = {3577: 2, 2165: 2, 4094: 2, 3658: 2, 3952: 2}
    found = least(Problem(pieces), [Roll("a", 10_000, 100)])
    assert found is not None
    assert (len(found.cuts), found.proven) == (4, True)
    monkeypatch.setattr(cutting_stock, "MOST_PATTERNS", 2)
    found = least(Problem(pieces), [Roll("a", 10_000, 100)])
    assert found is not None
    laid_out(found, pieces)
    assert (len(found.cuts), found.proven) == (5, False)


def trays(*widths: float) -> list[dict[str, object]]:
    """One-piece trays 300 mm longer than their openings, by the lintels given."""
    return [
        row("openings", mark=f"O{n}", wall="W1", kind="window", number=1, width=w, height=1.0, lintel=w)
        for n, w in enumerate(widths)
    ]  # fmt: skip


def test_a_job_by_hand() -> None:
    """Five trays of 2.4 m, one piece each. Three rolls of 5 m at £8 give two each: £24, the least of one
    size, as two of 10 m at £15 are £30. One of each gives four and one: £23."""
    wall = row("walls", mark="W1", run="open", length=20, measured_on="outside face",
               external_corners=0, internal_corners=0, ends_at_existing=0,
               outer_leaf=100, cavity=100, inner_leaf=100)  # fmt: skip
    book = [r for r in STOCK if r["material"] != "tray_roll"] + [
        product("T5", "tray_roll", 8, width=450, length=5),
        product("T10", "tray_roll", 15, width=450, length=10),
        product("T8", "tray_roll", 1, width=600, length=10),
    ]
    job = bare_job(walls=[wall], openings=trays(*[2.1] * 5), book=book)
    job = replace(job, particulars={**job.particulars, "tray_joints": "one piece"})
    narrow = [r for r in book if r["code"] != "T8"]
    (stock,) = cut_from_stock(estimate(replace(job, rows={**job.rows, "book": narrow})))
    assert (stock.code, stock.rolls, stock.pence) == ("T5", 3, 2400)
    assert stock.cutting is not None
    assert (stock.cutting.pence, stock.cutting.proven) == (2300, True)
    assert [cut.roll.name for cut in stock.cutting.cuts] == ["T10", "T5"]
    laid_out(stock.cutting, {2_400_000: 5})
    # A roll of another width is not mixed in, cheap as it is: its trays would be trimmed.
    (stock,) = cut_from_stock(estimate(job))
    assert stock.cutting is not None
    assert {cut.roll.name for cut in stock.cutting.cuts} == {"T10", "T5"}


@pytest.mark.parametrize("seed", range(60 if LONG else 6))
def test_never_dearer_than_the_sheet_and_never_short(seed: int) -> None:
    for stock in cut_from_stock(estimate(random_job(seed))):
        found = stock.cutting
        if found is None or not stock.pence:
            continue
        assert found.pence <= stock.pence
        if not stock.floors:
            laid_out(found, dict(stock.pieces))


def test_the_command_prints_each_roll() -> None:
    done = CliRunner().invoke(main, ["cut", str(DEMO_JOB)])
    assert done.exit_code == 0, done.output
    # The demo's floors by hand: Z1 5.17 m × 3 along B, Z2 2.565 m × 1 along B: 18.075 of 25 m.
    assert "1 roll F-03 of 25.000 m: 3 × 5.170, 1 × 2.565; left 6.925" in done.output
    found = json.loads(CliRunner().invoke(main, ["cut", str(DEMO_JOB), "--json"]).output)
    sheet = next(s for s in found["stock"] if s["product"] == "F-03")
    assert sheet["floors"] == {"Z1": "along B", "Z2": "along B"}
    assert sheet["cuts"][0]["left_m"] == pytest.approx(6.925)


def test_a_job_that_cuts_nothing_says_so(tmp_path: Path) -> None:
    assert cut_from_stock(estimate(made("blank").job)) == []


def test_what_is_joined_besides_is_said() -> None:
    """The lean-to: jambs 2 × 2.1 and 4 × 1.05 m from four lengths of 2.4 m. Below two sills of 1.2 m
    2.4 m more, which may be joined: a fifth length."""
    done = CliRunner().invoke(main, ["cut", str(DEMO_FORM)])
    assert done.exit_code == 0, done.output
    assert "as the job is now: 4 lengths, £27.40" in done.output
    assert "besides, 2.400 m that may be joined: it comes from another length" in done.output
    assert "floor X1: strips along A" in done.output
    ledger = estimate(read_job(DEMO_FORM))
    by = [n for n, m in enumerate(ledger.column("book", "material"), 1) if m == "closer"]
    assert sum(ledger.figure("book", n, "packs") for n in by) == 5
    besides = [s.joined for s in cut_from_stock(ledger) if s.pack == "length"]
    assert besides == [2_400_000]
