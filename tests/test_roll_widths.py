"""A wider roll, trimmed, where it costs less: what is bought, what is laid, and what is said.

Figures are worked by hand in the tests. Over random price books they are worked out here, by the plain
formula of packing, with none of the rules that choose.
"""

import itertools
import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from estimator.documents.orders import LINES, Drafted
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.reports import cost_of_all
from estimator.sourcing.mix import cheapest_mix

from .conftest import LONG, in_turn
from .hosts import by_gnumeric, by_libreoffice, figures
from .made import SMALL_ROOM, laid_out
from .small_jobs import STOCK, SUPPLIER, bare_job, opening, product, row, wall
from .test_parity import differences

LAP = 0.1  # m, of a DPC at each change of roll: NHBC Standards 2024, 5.1.19
B = "Invented supplier B"
WIDTHS = (100, 110, 112.5, 150, 165, 225, 300, 450)
LENGTHS = (8, 20, 30)
JOBS = 300 if LONG else 40

Roll = tuple[str, float, float, float | None]  # code, mm, m, pounds


def roll(
    code: str, width: float, length: float, price: float | None, **given: Any
) -> dict[str, Any]:
    """A roll of DPC."""
    return product(code, "dpc_roll", price=price, width=width, length=length, **given)  # type: ignore[arg-type]


def with_dpc(rolls: Sequence[dict[str, Any]], **rows: Any) -> Job:
    """A job whose stock has these rolls of DPC and no others."""
    return bare_job(book=[*(p for p in STOCK if p["material"] != "dpc_roll"), *rolls], **rows)


def one_leaf(metres: float, mark: str = "W1", leaf: float = 102.5, **given: Any) -> dict[str, Any]:
    """A straight wall of one leaf: so many metres of DPC, from the leaf's width to 10 mm more."""
    return wall(mark, metres, cavity=0, inner_leaf=0, outer_leaf=leaf, **given)


def packs_of(job: Job, ledger: Ledger) -> dict[str, float]:
    """Packs of each roll of DPC or tray that is bought."""
    found = zip(job.rows["book"], ledger.column("book", "packs"), strict=True)
    return {p["code"]: n for p, n in found if n and p["material"] in ("dpc_roll", "tray_roll")}


def bought(rolls: Sequence[dict[str, Any]], *walls: dict[str, Any]) -> dict[str, float]:
    """Packs of each roll for these walls."""
    job = with_dpc(rolls, walls=walls)
    return packs_of(job, estimate(job))


def note(ledger: Ledger, code: str) -> str:
    """What Prices says beside a product."""
    return str(ledger.figure("book", ledger.column("book", "code").index(code) + 1, "book_note"))


def of_line(ledger: Ledger, key: str, column: str) -> Any:
    """A figure of a line of the quantities."""
    return ledger.figure("lines", ledger.column("lines", "key").index(key) + 1, column)


# 10 m from rolls of 8 m: (10 - 0.1) / (8 - 0.1) = 1.25, so 2 rolls; from rolls of 30 m one.
@pytest.mark.parametrize(
    ("narrow", "wide", "packs"),
    [
        ({"price": 3}, {"price": 5}, {"W": 1}),  # 6 against 5
        ({"price": 3}, {"price": 7}, {"N": 2}),  # 6 against 7
        ({"price": 2.5}, {"price": 5}, {"N": 2}),  # alike: the narrower
        ({"price": 3}, {"price": 2.5, "minimum_packs": 2}, {"W": 2}),  # 6 against 2 x 2.50
        ({"price": 3}, {"price": 3.5, "minimum_packs": 2}, {"N": 2}),  # 6 against 2 x 3.50
        ({"price": 2, "minimum_packs": 3}, {"price": 5}, {"W": 1}),  # 3 x 2 against 5
        ({"price": 3, "made_of": "polymer"}, {"price": 5, "made_of": "polymer"}, {"W": 1}),
        ({"price": 3, "made_of": "polymer"}, {"price": 5, "made_of": "bitumen"}, {"N": 2}),
        ({"price": 3, "made_of": "polymer"}, {"price": 5}, {"N": 2}),  # not known of what
        ({"price": None}, {"price": 5}, {"N": 2}),  # its price is asked for
        ({"price": 3}, {"price": None}, {"N": 2}),
        ({"price": 3, "own_packs": 2}, {"price": 5}, {"N": 2}),  # a number of one's own is bought
        # So many of the wider as one types, whatever they cost: 4 x 5.
        ({"price": 3}, {"price": 5, "own_packs": 4}, {"W": 4}),
    ],
)  # fmt: skip
def test_what_is_bought_for_one_leaf(
    narrow: dict[str, Any], wide: dict[str, Any], packs: dict[str, float]
) -> None:
    rolls = [
        roll("N", **{"width": 110, "length": 8, **narrow}),
        roll("W", **{"width": 150, "length": 30, **wide}),
    ]
    assert bought(rolls, one_leaf(10)) == packs


def test_a_roll_without_a_price_is_still_asked_for() -> None:
    job = with_dpc([roll("N", 110, 8, None), roll("W", 150, 30, 5)], walls=[one_leaf(10)])
    ledger = estimate(job)
    assert note(ledger, "N") == "price missing"
    assert ledger.cell("prices_missing") == 1


def test_what_is_laid_stays_the_same() -> None:
    """CAWS F30 cl. 415 in a 2014 UK project specification: full lap (the DPC's width) at angles.

    10 m on its outside face with two corners of a leaf of 102.5: 10 - 4 x 0.05125 = 9.795 m. Two laps
    at corners as wide as what is laid, 2 x 0.110 = 0.22, on a roll of 110 and on one of 450 alike.
    From rolls of 8 m: (10.015 - 0.1) / 7.9 = 1.26, 2 rolls, one change of roll: 10.115 m laid. From
    one of 30 m: 10.015 m laid, 19.985 m left.
    """
    for price, code, laid, left in ((7, "N", 10.115, 5.885), (5, "W", 10.015, 19.985)):
        rolls = [roll("N", 110, 8, 3), roll("W", 450, 30, price)]
        job = with_dpc(rolls, walls=[one_leaf(10, external_corners=2)])
        ledger = estimate(job)
        assert set(packs_of(job, ledger)) == {code}
        assert of_line(ledger, "outer_dpc", "net") == pytest.approx(9.795)
        assert of_line(ledger, "outer_dpc", "laps") == pytest.approx(0.22)
        at = ledger.column("book", "code").index(code) + 1
        figures_of = [ledger.figure("book", at, c) for c in ("net", "laps", "laid", "left")]
        assert figures_of == pytest.approx([9.795, 0.22, laid, left])


@pytest.mark.parametrize(
    ("metres", "packs"),
    [
        # 8 m at 4: 2 rolls, 8. 10 m at 5: 9.5 / 9.9, one. 20 m at 7. 30 m at 10.
        (9.5, {"W10": 1}),
        # (34.9 / 7.9) 5 x 4 = 20; 35 / 9.9, 4 x 5 = 20; 35 / 19.9, 2 x 7 = 14; 35 / 29.9, 2 x 10 = 20:
        # neither the least for a metre (30 m) nor the least for a roll (10 m).
        (35, {"W20": 2}),
        # (58.9 / 7.9) 8 x 4 = 32; 59 / 9.9, 6 x 5 = 30; 59 / 19.9, 3 x 7 = 21; 59 / 29.9, 2 x 10 = 20.
        (59, {"W30": 2}),
    ],
)
def test_the_length_that_costs_least_for_what_is_needed(
    metres: float, packs: dict[str, float]
) -> None:
    rolls = [roll("N", 110, 8, 4), roll("W10", 150, 10, 5), roll("W20", 225, 20, 7),
             roll("W30", 300, 30, 10)]  # fmt: skip
    assert bought(rolls, one_leaf(metres)) == packs


def test_of_wider_rolls_alike_the_narrowest_then_the_first_is_bought() -> None:
    rolls = [roll("N", 110, 8, 4), roll("W225", 225, 30, 5), roll("W150", 150, 30, 5),
             roll("AGAIN", 150, 30, 5)]  # fmt: skip
    assert bought(rolls, one_leaf(10)) == {"W150": 1}
    # 10 m from two of 6 m at 2.50: as much as one of 30 m. The fewest rolls.
    assert bought([*rolls, roll("TWO", 112.5, 6, 2.5)], one_leaf(10)) == {"W150": 1}


def test_wastage_counts_in_the_comparison() -> None:
    """14 m: 2 x 3 from 8 m, or 14 / 14.9, one of 15 m, 5. With 10 %: 15.4 m, (15.3 / 7.9) 2 still,
    15.4 / 14.9, 2 x 5."""
    job = with_dpc([roll("N", 110, 8, 3), roll("W", 150, 15, 5)], walls=[one_leaf(14)])
    assert packs_of(job, estimate(job)) == {"W": 1}
    wasted = replace(job, wastage={SUPPLIER: {"dpc_roll": 10}})
    assert packs_of(wasted, estimate(wasted)) == {"N": 2}


def test_a_discount_counts_in_the_comparison() -> None:
    """A price that is net against a list price of which half comes off: 2 x 3 against 7, or 3.50."""
    rolls = [roll("N", 110, 8, 3, price_is="net"), roll("W", 150, 30, 7)]
    job = with_dpc(rolls, walls=[one_leaf(10)])
    assert packs_of(job, estimate(job)) == {"N": 2}
    cheaper = replace(job, discounts={SUPPLIER: {"dpc_roll": 50}})
    assert packs_of(cheaper, estimate(cheaper)) == {"W": 1}


def test_two_widths_from_one_wide_roll_cost_no_more_than_apart() -> None:
    """Leaves of 100 and 102.5, 29.9 m each: (29.8 / 7.9) 4 x 4 = 16 each from 8 m; 29.9 / 29.9, one
    of 30 m at 10. Together 59.8 m: (59.7 / 29.9) 2 rolls, 20 against 32.

    With 30 m each, one roll is just enough for either alone and three for both, 30 against 32. So a
    lap more is asked of a roll, and 2 x 10 for one leaf are not less than 16.
    """
    rolls = [roll("N1", 100, 8, 4), roll("N2", 112.5, 8, 4), roll("W", 150, 30, 10)]
    assert bought(rolls, one_leaf(29.9, "W1", 100), one_leaf(29.9, "W2")) == {"W": 2}
    assert bought(rolls, one_leaf(30, "W1", 100), one_leaf(30, "W2")) == {"N1": 4, "N2": 4}
    assert bought(rolls, one_leaf(30)) == {"N2": 4}


def test_one_step_and_no_chain() -> None:
    """10 m of 100: one of N1, 9. M serves it for 8, whatever serves M's own 10 m of 110: W, for 7.

    W is of 450 and 20 m: for the 100 it costs 7 as well, and is bought for both: 20 m, (19.9 / 19.9) one.
    """
    rolls = [roll("N1", 100, 30, 9), roll("M", 112.5, 30, 8), roll("W", 450, 20, 7)]
    assert bought(rolls, one_leaf(10, "W1", 100), one_leaf(10, "W2")) == {"W": 1}
    # W of 12 m does for the 10 m of either, and M for 8: two of W, 14.
    rolls[-1] = roll("W", 450, 12, 7)
    assert bought(rolls, one_leaf(10, "W1", 100), one_leaf(10, "W2")) == {"W": 2}
    # 15 m of 100: N1 9, M 8, W 14. 10 m of 110: W 7. M serves the first and not its own.
    assert bought(rolls, one_leaf(15, "W1", 100), one_leaf(10, "W2")) == {"M": 1, "W": 1}


def test_a_wider_roll_is_compared_up_to_eight() -> None:
    """With rolls of 10 m, 79 m are 8 (79 / 9.9), 80 m 9: then the narrower stays."""
    rolls = [roll("N", 110, 30, 60), roll("W", 150, 10, 1)]
    assert bought(rolls, one_leaf(79)) == {"W": 8}
    assert bought(rolls, one_leaf(80)) == {"N": 3}


def test_trays_cut_in_one_piece_keep_the_narrowest() -> None:
    """One tray of 2.4 m, girth 383 mm: of 450 at 9, or 600 at 5, trimmed."""
    stock = [
        *(p for p in STOCK if p["material"] != "tray_roll"),
        product("T450", "tray_roll", price=9, width=450, length=20),
        product("T600", "tray_roll", price=5, width=600, length=20),
    ]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")], book=stock)
    for joints, code in (("joined", "T600"), ("one piece", "T450")):
        cut = replace(job, particulars={**job.particulars, "tray_joints": joints})
        ledger = estimate(cut)
        trays = {c for c in packs_of(cut, ledger) if c[0] == "T"}
        assert trays == {code}
        assert of_line(ledger, "trays", "trim_said") == (
            "trim to 450 mm" if joints == "joined" else ""
        )


def test_closers_and_ducts_are_not_trimmed() -> None:
    """Of what is no roll the narrowest that covers is bought, and dearer ones stay."""
    stock = [
        *(p for p in STOCK if p["material"] != "closer"),
        product("C100", "closer", price=9, width=100, length=2.4),
        product("C150", "closer", price=1, width=150, length=2.4),
    ]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", closer=100)], book=stock)
    ledger = estimate(job)
    packs = dict(zip((p["code"] for p in stock), ledger.column("book", "packs"), strict=True))
    assert packs["C100"] > 0
    assert packs["C150"] == 0


def test_what_is_said() -> None:
    """Both leaves of a cavity wall, 10 m each, from one roll of 150: of 100, and of 112.5."""
    rolls = [roll("N1", 100, 8, 4), roll("N2", 112.5, 8, 4), roll("W", 150, 30, 5)]
    job = with_dpc(rolls, walls=[wall("W1", 10)])
    ledger = estimate(job)
    assert packs_of(job, ledger) == {"W": 1}
    assert of_line(ledger, "inner_dpc", "line_note") == "trim to 100 mm"
    assert of_line(ledger, "outer_dpc", "line_note") == "trim to 112.5 mm"
    for code in ("N1", "N2"):
        assert note(ledger, code) == "a wider roll is taken instead: W"
    assert note(ledger, "W") == ""
    said = zip(*(ledger.column("order_lines", c) for c in ("code", "note")), strict=True)
    assert dict(said)["W"] == "trim: 100 to 112.5 mm, wastage 0 %"
    used_for = {r["code"]: r["used_for"] for r in LINES.rows(Drafted(ledger, SUPPLIER))}
    assert used_for["W"] == (
        "DPC in outer leaf, trim to 112.5 mm; DPC in inner leaf, trim to 100 mm"
    )
    on_site = ledger.column("dpc_before_building_on_items", "what")
    assert "DPC in inner leaf, 100 mm wide, laps 100 mm, wider rolls trimmed" in on_site


def test_nothing_is_said_of_a_roll_laid_as_it_comes() -> None:
    job = with_dpc([roll("N", 110, 30, 4), roll("W", 150, 30, 5)], walls=[one_leaf(10)])
    ledger = estimate(replace(job, wastage={SUPPLIER: {"dpc_roll": 5}}))
    assert of_line(ledger, "outer_dpc", "line_note") == ""
    assert note(ledger, "N") == note(ledger, "W") == ""
    assert "" in ledger.column("order_lines", "note")
    (what,) = filter(None, ledger.column("dpc_before_building_on_items", "what"))
    assert what == "DPC in outer leaf, 110 mm wide, laps 100 mm"


# ---- random price books, worked out again without the rules that choose ----


@dataclass(frozen=True)
class Need:
    """Metres of DPC of a width, and how many laps at corners, each as wide as what is laid."""

    metres: float
    corners: float
    width: float


def random_rolls(seed: int, sellers: Sequence[str] = (SUPPLIER,)) -> Job:
    """1 to 3 runs and windows, 3 to 7 rolls of DPC of each supplier, at prices of all kinds."""
    r = random.Random(f"roll widths {seed}")
    walls = [
        wall(f"W{n}", round(r.uniform(2, 25), 2), outer_leaf=r.choice((100, 102.5, 140)),
             inner_leaf=r.choice((100, 140)), external_corners=r.randint(0, 3))
        for n in range(r.randint(1, 3))
    ]  # fmt: skip
    openings = [opening(f"O{n}", "W0", number=r.randint(1, 4)) for n in range(r.randint(0, 2))]
    rolls = []
    for place, seller in enumerate(sellers):
        # One that lies on each leaf as it comes, and for what else there is; then any.
        widths = [100, 112.5, 150, 450, *r.choices(WIDTHS, k=r.randint(0, 4))]
        for n, width in enumerate(widths):
            length = r.choice(LENGTHS)
            each = round(length * width * r.uniform(0.002, 0.006), 2)
            rolls.append(roll(f"R{place}{n}", width, length, each, supplier=seller,
                              minimum_packs=r.choice((None, None, 2))))  # fmt: skip
    suppliers = [row("suppliers", name=n, delivery=5 * k) for k, n in enumerate(sellers)]
    others = [p for p in STOCK if p["material"] != "dpc_roll"]
    job = bare_job(book=[*others, *rolls], walls=walls, openings=openings, suppliers=suppliers)
    return replace(job, wastage={SUPPLIER: {"dpc_roll": r.choice((0, 5, 10))}})


def needs_of(ledger: Ledger) -> list[Need]:
    """What DPC is needed, as the take-off has it."""
    columns = ("material", "wanted", "added", "corners", "width")
    found = zip(*(ledger.column("demands", c) for c in columns), strict=True)
    return [Need(wanted + added, corners, width)
            for material, wanted, added, corners, width in found if material == "dpc_roll"]  # fmt: skip


def packs_for(of: Mapping[str, Any], metres: float, wastage: float) -> int:
    """Rolls for so many metres: with wastage, a lap at each change of roll, as many as sold at once."""
    run = metres * (1 + wastage / 100)
    return max(of["minimum_packs"] or 1, math.ceil(round((run - LAP) / (of["length"] - LAP), 6)))


def narrowest(rolls: Sequence[Mapping[str, Any]], needs: Sequence[Need], wastage: float) -> float:
    """What the narrowest that cover cost, of each width the roll that costs least."""
    metres: dict[float, float] = {}
    for need in needs:
        width = min(p["width"] for p in rolls if p["width"] >= need.width)
        metres[width] = metres.get(width, 0) + need.metres + need.corners * width / 1000
    return sum(
        min(packs_for(p, m, wastage) * p["price"] for p in rolls if p["width"] == width)
        for width, m in metres.items()
    )


def one_by_one(rolls: Sequence[Mapping[str, Any]], needs: Sequence[Need], wastage: float) -> float:
    """What the roll that costs least for each width alone, a lap more counted, costs with the others.

    Each class of needs that has one narrowest width goes to the cheapest roll of that width, or to a
    wider one that costs less for it alone.
    """
    metres: dict[float, float] = {}
    for need in needs:
        width = min(p["width"] for p in rolls if p["width"] >= need.width)
        metres[width] = metres.get(width, 0) + need.metres + need.corners * width / 1000
    from_roll: dict[str, float] = {}
    for width, run in metres.items():
        own = min(
            (p for p in rolls if p["width"] == width),
            key=lambda p, run=run: packs_for(p, run, wastage) * p["price"],
        )
        margin = LAP / (1 + wastage / 100)
        best, cost = own, packs_for(own, run, wastage) * own["price"]
        for p in sorted(rolls, key=lambda p: p["width"]):
            packs = packs_for(p, run + margin, wastage)
            if p["width"] > width and packs <= 8 and round(packs * p["price"], 2) < round(cost, 2):
                best, cost = p, packs * p["price"]
        from_roll[best["code"]] = from_roll.get(best["code"], 0) + run
    coded = {p["code"]: p for p in rolls}
    return sum(packs_for(coded[c], m, wastage) * coded[c]["price"] for c, m in from_roll.items())


def dpc_of(job: Job) -> tuple[list[Mapping[str, Any]], float]:
    """Its rolls of DPC and their wastage."""
    rolls = [p for p in job.rows["book"] if p["material"] == "dpc_roll"]
    return rolls, job.wastage[SUPPLIER]["dpc_roll"]


def paid(job: Job, ledger: Ledger) -> float:
    """What the job pays for DPC."""
    costs = zip(job.rows["book"], ledger.column("book", "cost"), strict=True)
    return float(sum(cost for p, cost in costs if p["material"] == "dpc_roll"))


def test_no_job_costs_more_than_with_the_narrowest() -> None:
    cost = before = 0.0
    for seed in range(JOBS):
        job = random_rolls(seed)
        ledger = estimate(job)
        rolls, wastage = dpc_of(job)
        needs = needs_of(ledger)
        was = narrowest(rolls, needs, wastage)
        now = paid(job, ledger)
        assert now <= was + 0.005, seed
        assert now == pytest.approx(one_by_one(rolls, needs, wastage), abs=0.005), seed
        assert ledger.figure("suppliers", 1, "all_total") == ledger.cell("cost_total") > 0
        cost, before = cost + now, before + was
    assert cost < before


# ---- from two suppliers ----


def elsewhere(job: Job, lines: Sequence[str]) -> Iterator[Job]:
    """The job with each of these lines at one supplier or the other, in every way."""
    for chosen in itertools.product((SUPPLIER, B), repeat=len(lines)):
        yield replace(job, line_suppliers=dict(zip(lines, chosen, strict=True)))


def picks_of(ledger: Ledger) -> set[tuple[Any, ...]]:
    """What each supplier would send for each width."""
    columns = ("material", "width", "limit", "pick_one", "pick_two")
    found = zip(*(ledger.column("demands", c) for c in columns), strict=True)
    return {r for r in found if r[0] == "dpc_roll"}


@pytest.mark.parametrize("seed", in_turn(range(24), 6))
def test_a_mix_of_suppliers_is_as_cheap_as_every_mix_tried(seed: int) -> None:
    job = random_rolls(seed, (SUPPLIER, B))
    lines = ("outer_dpc", "inner_dpc", *(("jamb_dpc",) if seed % 2 else ()))
    excluded = {"outer_dpc", "inner_dpc", "jamb_dpc"} - {*lines}
    job = replace(job, line_status={
        **{x: "excluded" for x in estimate(job).column("lines", "key") if x not in lines},
        **dict.fromkeys(excluded, "excluded"),
    })  # fmt: skip
    tried, seen = [], []
    for other in elsewhere(job, lines):
        ledger = estimate(other)
        cost = cost_of_all(ledger)
        tried += [cost] if cost is not None else []
        seen.append(picks_of(ledger))
        if len({*other.line_suppliers.values()}) == 1:
            at = 1 if SUPPLIER in other.line_suppliers.values() else 2
            assert ledger.figure("suppliers", at, "all_total") == cost
    assert all(picks == seen[0] for picks in seen)
    mix = cheapest_mix(job)
    assert mix is not None
    assert mix.proven
    assert mix.total == min(tried)


@pytest.mark.host
def test_spreadsheets_choose_the_same(tmp_path: Path) -> None:
    rolls = [roll("N1", 100, 8, 4), roll("N2", 112.5, 8, 4), roll("W", 150, 30, 5)]
    jobs = {"hand": with_dpc(rolls, walls=[wall("W1", 10, external_corners=2)]),
            "random": random_rolls(3, (SUPPLIER, B))}  # fmt: skip
    files, built = [], {}
    for name, job in jobs.items():
        built[name], data = laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)
        files.append(tmp_path / f"{name}.xlsx")
        files[-1].write_bytes(data)
    for host in (by_libreoffice, by_gnumeric):
        for name, path in host(files, tmp_path).items():
            assert list(differences(built[name], figures(path))) == []
