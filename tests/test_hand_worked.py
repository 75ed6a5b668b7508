"""Worked by hand, or published: single rules from hand_worked/*.toml, whole jobs below."""

import tomllib
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.language.many import Many
from estimator.language.registry import rule_of
from estimator.model.estimate import estimate

from .small_jobs import (
    STOCK,
    SUPPLIER,
    bare_job,
    edge,
    opening,
    product,
    row,
    turned_up,
    wall,
    with_own,
    zone,
)

CASES = [
    case
    for path in sorted(Path(__file__).with_name("hand_worked").glob("*.toml"))
    for case in tomllib.loads(path.read_text("utf-8"))["case"]
]


@pytest.mark.parametrize("case", CASES, ids=[c["name"] for c in CASES])
def test_rule(case: dict[str, Any]) -> None:
    assert case["source"]
    assert case["working"]
    module, _, name = case["rule"].rpartition(".")
    work = getattr(import_module(f"estimator.{module}"), name)
    given = {k: None if v == "blank" else v for k, v in case["given"].items()}
    # A whole column of another list is given as its rows, or as its one row.
    columns = rule_of(work).arguments
    found = work(**{k: Many(v) if isinstance(v, list)
                    else Many([v]) if k in columns and k.startswith("vat_kind") else v
                    for k, v in given.items()})  # fmt: skip
    if "digits" in case:
        assert round(found, case["digits"]) == case["expect"]
    else:
        assert found == case["expect"]


def test_enough_cases() -> None:
    assert len(CASES) >= 30
    assert len({c["name"] for c in CASES}) == len(CASES)


def test_shared_edge_turns_up_24_metres_not_30() -> None:
    """Design notes, section 4: 6 × 4 beside 3 × 2 sharing 3 m.

    Working: 2(6 + 4) + 2(3 + 2) = 30; the shared 3 m is an edge of both: 30 - 6 = 24.
    """
    walls = {"kind": "new wall", "dpc_level": -0.15}
    edges = [
        edge("a", "Z1", "A1", 3, kind="joint", joins="Z2"),
        edge("b", "Z1", "A1", 3, **walls),
        edge("c", "Z1", "A2", 6, **walls),
        edge("d", "Z1", "B1", 4, **walls),
        edge("e", "Z1", "B2", 4, **walls),
        edge("f", "Z2", "A2", 3, kind="joint", joins="Z1"),
        edge("g", "Z2", "A1", 3, **walls),
        edge("h", "Z2", "B1", 2, **walls),
        edge("i", "Z2", "B2", 2, **walls),
    ]
    ledger = estimate(bare_job(zones=[zone("Z1", 6, 4), zone("Z2", 3, 2)], edges=edges))
    assert sum(ledger.column("zones", "turned_up")) == 24
    # Turn-up by levels: DPM at -0.335, DPC at -0.150: 185, and 100 dressed on to the DPC.
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(285)
    # The joint costs one lap of 300, once, on the zone lower in the list.
    assert ledger.column("edges", "joint_lap")[0] == 0
    assert ledger.column("edges", "joint_lap")[5] == 300


WALL = {"kind": "new wall", "dpc_level": -0.15}  # 185 up, 100 dressed on to the DPC: 285
HIGH = {"kind": "new wall", "dpc_level": -0.05}  # 285 up and 100: 385


def joined(parts: tuple[float, ...], side: float, other: float, lower: str) -> Any:
    """Z1 of 6 × 4 and Z2 of `side` × 2, meeting along `parts`; B1 of Z1 and B2 of Z2 turn up 385."""
    shared = sum(parts)
    edges = [
        *(edge(f"j{n}", "Z1", "A1", p, kind="joint", joins="Z2") for n, p in enumerate(parts)),
        *([edge("b", "Z1", "A1", other, **WALL)] if other else []),
        edge("c", "Z1", "A2", 6, **WALL),
        edge("d", "Z1", "B1", 4, **HIGH),
        edge("e", "Z1", "B2", 4, **WALL),
        *(edge(f"k{n}", "Z2", "A2", p, kind="joint", joins="Z1") for n, p in enumerate(parts)),
        *([edge("l", "Z2", "A2", side - shared, **WALL)] if side > shared else []),
        edge("g", "Z2", "A1", side, **WALL),
        edge("h", "Z2", "B1", 2, **WALL),
        edge("i", "Z2", "B2", 2, **HIGH),
    ]
    zones = [zone("Z1", 6, 4), zone("Z2", side, 2)]
    return bare_job(zones=zones if lower == "Z2" else zones[::-1], edges=edges)


# parts of the joint, side of Z2, wall beside the joint in Z1, length of the lap, working
JOINTS = [
    # the whole side of Z2: 3 m, up 285 at its B1 and 385 at its B2: 3 + 0.67
    ((3,), 3, 3, 3.67),
    # listed in two parts, the same joint: no more tape
    ((1, 2), 3, 3, 3.67),
    # the whole side of both: at either zone's corners 285 + 385 = 670
    ((6,), 6, 0, 6.67),
    # past each other, 3 m of sides of 6 and 5: a corner of each, the larger: 3 + 0.385 + 0.385
    ((3,), 5, 3, 3.77),
]


@pytest.mark.parametrize("lower", ["Z1", "Z2"])
@pytest.mark.parametrize(("parts", "side", "other", "metres"), JOINTS)
def test_the_lap_of_a_joint_runs_up_the_turn_ups_at_its_ends(
    parts: tuple[float, ...], side: float, other: float, metres: float, lower: str
) -> None:
    """Whichever zone is listed lower, and so carries the lap."""
    ledger = estimate(joined(parts, side, other, lower))
    assert ledger.cell("edges_disagree") == 0
    assert sum(ledger.column("edges", "joint_length")) == pytest.approx(metres)
    strips = sum(ledger.column("zones", "sheet_joint"))
    assert sum(ledger.column("zones", "lapped")) == pytest.approx(strips + metres)


@pytest.mark.parametrize(
    ("turn_up", "metres", "joint", "strips"), [(150, 5.30, 0, 1), (365, 8.26, 4.13, 2)]
)
def test_turn_up_decides_the_strips(
    turn_up: float, metres: float, joint: float, strips: int
) -> None:
    """Design notes, section 4: a 3.4 × 5.0 zone on a 4 m roll with lap 300.

    Working for 150: 3.4 + 0.3 = 3.70 fits in 4 m: one strip of 5.0 + 0.3 = 5.30 m.
    Working for 365: 3.4 + 0.73 = 4.13 does not; two strips of 4.13 m across 5.73 m.
    """
    job = bare_job(zones=[zone("Z1", 3.4, 5)], edges=turned_up("Z1", 3.4, 5, turn_up))
    ledger = estimate(job)
    laid = {
        c: ledger.figure("layouts", 1, c) for c in ("strip_count", "strip_length", "joint", "rolls")
    }
    assert laid["strip_count"] == strips
    assert laid["strip_count"] * laid["strip_length"] == pytest.approx(metres)
    assert laid["joint"] == pytest.approx(joint)
    assert laid["rolls"] == 1


def test_actual_lap_shares_the_spare_width() -> None:
    """Design notes: (n·W - B') / (n - 1). Two strips of 4 m over 5.73 m: 8 - 5.73 = 2.27 m."""
    job = bare_job(zones=[zone("Z1", 3.4, 5)], edges=turned_up("Z1", 3.4, 5, 365))
    assert estimate(job).figure("layouts", 1, "actual_lap") == pytest.approx(2270)


def test_a_strip_longer_than_the_roll_cannot_be_laid() -> None:
    """A 12 × 9 zone from 8 m rolls: no direction works; 0, a finding, and no total."""
    stock = [p for p in STOCK if p["code"] != "SHEET"]
    short = product("SHORT", "dpm_sheet", width=4000, length=8)
    job = bare_job(
        zones=[zone("Z1", 12, 9)], edges=turned_up("Z1", 12, 9, 150), book=[*stock, short]
    )
    ledger = estimate(job)
    assert ledger.figure("layouts", 1, "rolls") == 0
    assert ledger.figure("book", len(stock) + 1, "book_note") == (
        "too short or too narrow for a floor"
    )
    assert ledger.cell("needs_uncovered") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_five_runs_pool_into_one_roll() -> None:
    """Design notes, section 5: runs of 6 + 4 + 4 + 2.5 + 2.5 m of DPC are one 30 m roll, not five.

    Solid half-brick runs, so that there is one leaf: 19.0 m, laid as measured.
    """
    runs = [
        wall(f"W{n}", metres, cavity=0, inner_leaf=0)
        for n, metres in enumerate((6, 4, 4, 2.5, 2.5), 1)
    ]
    ledger = estimate(bare_job(walls=runs))
    dpc = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "DPC112")
    assert ledger.figure("book", dpc, "net") == pytest.approx(19)
    assert ledger.figure("book", dpc, "packs") == 1


def test_wastage_is_not_put_on_whole_strips() -> None:
    """Design notes, section 5: 24.6 m of a 25 m roll is one roll, not two.

    6 strips of 4.1 m: a 4.1 × 22.5 zone on a 4 m roll with lap 300: (22.5 - 0.3) / 3.7 = 6.
    """
    job = bare_job(
        zones=[zone("Z1", 4.1, 22.5)],
        edges=[
            edge(f"E{s}", "Z1", s, 4.1 if s[0] == "A" else 22.5) for s in ("A1", "A2", "B1", "B2")
        ],
    )
    job = type(job)(**{**vars(job), "wastage": {SUPPLIER: {"dpm_sheet": 10}}})
    ledger = estimate(job)
    sheet = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "SHEET")
    assert ledger.figure("layouts", 1, "strip_count") == 6
    assert ledger.figure("layouts", 1, "strip_length") == pytest.approx(4.1)
    assert ledger.figure("book", sheet, "packs") == 1
    # The named switch puts it on, and says so in the sheet.
    applies = type(job)(**{**vars(job), "wastage_applies": {"dpm_sheet": 1}})
    assert estimate(applies).figure("book", sheet, "wastage") == 10


def test_dpc_is_not_narrower_than_the_leaf_nor_much_wider() -> None:
    """Design notes, section 4: for a 102.5 leaf 100 is short, 112.5 right, 150 needs trimming."""
    run = wall("W1", 5, cavity=0, inner_leaf=0)

    def bought(*widths: float) -> list[str]:
        stock = [product(f"DPC{w:g}", "dpc_roll", price=w, width=w, length=30) for w in widths]
        ledger = estimate(bare_job(walls=[run], book=stock))
        packs = ledger.column("book", "packs")
        return [p["code"] for p, n in zip(stock, packs, strict=True) if n]

    assert bought(100, 112.5, 150) == ["DPC112.5"]
    assert bought(100, 150) == []
    assert bought(150) == []


def test_tray_girth_picks_the_roll() -> None:
    """Design notes, section 4: a girth of 383 takes a 450 roll, though 375 is cheaper."""
    stock = [
        *(p for p in STOCK if p["material"] != "tray_roll"),
        product("T375", "tray_roll", price=1, width=375, length=20),
        product("T600", "tray_roll", price=3, width=600, length=20),
        product("T450", "tray_roll", price=3, width=450, length=20),
    ]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")], book=stock)
    ledger = estimate(with_own(job, tray_rise=150))
    assert ledger.figure("openings", 1, "tray_girth") == pytest.approx(382.78, abs=0.01)
    assert ledger.column("book", "packs")[-3:] == [0, 0, 1]


def test_a_corner_laps_by_the_width_of_the_roll() -> None:
    """CAWS F30 cl. 415 in a 2014 UK project specification: full lap (the DPC's width) at angles.

    Working: a solid 102.5 run of 10 m on its outside face with one external corner; centre line
    51.25 mm in: 10 - 2 × 0.05125 = 9.8975; one corner lap of the 112.5 roll: 10.01.
    """
    run = wall("W1", 10, cavity=0, inner_leaf=0, external_corners=1, ends_at_existing=0)
    ledger = estimate(bare_job(walls=[run]))
    dpc = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "DPC112")
    assert ledger.figure("book", dpc, "net") == pytest.approx(9.8975)
    assert ledger.figure("book", dpc, "laid") == pytest.approx(10.01)


def test_three_quantities_of_a_run_longer_than_a_roll() -> None:
    """Worked by hand. 61 m straight, both ends at the old house, lap 100, rolls of 30 m, 5 %.

    Net 61.0. End laps 0.2: 61.2; with 5 %: 64.26. Rolls: (64.26 - 0.1) / 29.9 = 2.15, so 3.
    Laid: 61.2 and two changes of roll: 61.4. Ordered 90. Left 28.6.
    """
    run = wall("W1", 61, cavity=0, inner_leaf=0, ends_at_existing=2)
    job = bare_job(walls=[run])
    ledger = estimate(type(job)(**{**vars(job), "wastage": {SUPPLIER: {"dpc_roll": 5}}}))
    dpc = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "DPC112")
    names = ("net", "laps", "required", "packs", "laid", "ordered", "left")
    figures = [ledger.figure("book", dpc, n) for n in names]
    assert figures == pytest.approx([61, 0.2, 64.26, 3, 61.4, 90, 28.6])


def test_what_one_window_needs() -> None:
    """Worked by hand, allowances as in tests/random_jobs.py and the warranty basis.

    Tray: lintel 2.1 + 2 × 0.150 = 2.4 m (1.81 + 2 × 0.025 is less). Weeps: (2400 - 450) / 450 =
    4.33, 5 gaps, 6 weeps. Two stop ends. Jambs 2 × 1.2 = 2.4 and 4 laps of 100: 0.4. Sill 1.81
    and two turn-ups of 75: 0.15.
    """
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", closer=None, jamb_dpc=150)])
    ledger = estimate(job)
    names = ("trays", "weeps", "stop_ends", "jambs", "jamb_laps", "sills", "sill_ends")
    found = [ledger.figure("openings", 1, n) for n in names]
    assert found == pytest.approx([2.4, 6, 2, 2.4, 0.4, 1.81, 0.15])


def test_equal_products_are_summed_before_rounding_up() -> None:
    """Worked by hand: jambs 2.8 m and sills 1.96 m from one 225 roll of 8 m: one roll, not two."""
    stock = [p for p in STOCK if p["material"] != "dpc_roll"]
    stock += [product("D112", "dpc_roll", width=112.5, length=30)]
    stock += [product("D225", "dpc_roll", width=225, length=8)]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", jamb_dpc=200)], book=stock)
    ledger = estimate(job)
    assert ledger.figure("book", len(stock), "net") == pytest.approx(2.4 + 1.81)
    assert ledger.figure("book", len(stock), "packs") == 1


def test_the_quote_adds_up() -> None:
    """Worked by hand: 3 × £9.99 at 12.5 %, delivery 45 not marked up, VAT 20 %.

    29.97 × 1.125 = 33.71625, to 33.72; with 45.00: 78.72; VAT 15.744, to 15.74; 94.46.
    """
    run = wall("W1", 61, cavity=0, inner_leaf=0)
    stock = [product("D", "dpc_roll", price=9.99, width=112.5, length=30)]
    suppliers = [row("suppliers", name=SUPPLIER, delivery=45)]
    job = bare_job(walls=[run], book=stock, suppliers=suppliers)
    particulars = {**job.particulars, "profit_percent": 12.5}
    ledger = estimate(type(job)(**{**vars(job), "particulars": particulars}))
    assert ledger.column("quote_lines", "amount")[:2] == [33.72, 45.0]
    cells = ("quote_net", "quote_vat", "quote_total")
    assert [ledger.cell(c) for c in cells] == [78.72, 15.74, 94.46]


def test_one_piece_trays_count_in_pieces() -> None:
    """Design notes, section 4: five trays of 4.2 m need five 8 m rolls; joined they need three.

    Working: 8 / 4.2 = 1.9, one to a roll: 5 rolls. Joined: (21 - 0.1) / 7.9 = 2.65, so 3.
    """
    stock = [p for p in STOCK if p["material"] != "tray_roll"]
    stock.append(product("T8", "tray_roll", width=450, length=8))
    windows = opening("O1", "W1", number=5, width=3.6, lintel=3.9)  # 3.9 + 2 × 0.150 = 4.2
    job = bare_job(walls=[wall("W1", 30)], openings=[windows], book=stock)
    whole = {**job.particulars, "tray_joints": "one piece"}
    assert estimate(job).figure("openings", 1, "tray_length") == pytest.approx(4.2)
    assert estimate(job).column("book", "packs")[-1] == 3
    assert estimate(replace(job, particulars=whole)).column("book", "packs")[-1] == 5


def test_a_tray_longer_than_every_roll_is_not_covered() -> None:
    """In one piece, 2.4 m does not come from a 2 m roll; joined it does."""
    stock = [p for p in STOCK if p["material"] != "tray_roll"]
    stock.append(product("T2", "tray_roll", width=450, length=2))
    job = bare_job(walls=[wall("W1", 30)], openings=[opening("O1", "W1")], book=stock)
    assert estimate(job).cell("needs_uncovered") == 0
    whole = {**job.particulars, "tray_joints": "one piece"}
    assert estimate(replace(job, particulars=whole)).cell("needs_uncovered") == 1


def test_cross_joints_pool_the_metres() -> None:
    """Design notes, section 5: packs = (metres - lap) / (roll - lap), each change costs one lap.

    A 12 × 3.4 zone, nothing turned up, 4 m × 8 m rolls, lap 300: along A one strip of 12 m.
    Whole strips: 12 m does not come from 8 m; across, 3.4 m strips: (12 - 0.3) / 3.7 = 3.16, so 4
    of 3.4 m, two to a roll: 2 rolls, 13.6 m. Joined: 12 m is less than 13.6 m: (12 - 0.3) / 7.7 =
    1.52, so 2 rolls, and laid 12 + 0.3 = 12.3 m × 4 m = 49.2 m².
    """
    stock = [p for p in STOCK if p["material"] != "dpm_sheet"]
    stock.append(product("S8", "dpm_sheet", width=4000, length=8))
    sides = (("A1", 12), ("A2", 12), ("B1", 3.4), ("B2", 3.4))
    job = bare_job(
        zones=[zone("Z1", 12, 3.4)],
        edges=[edge(f"E{s}", "Z1", s, m) for s, m in sides],
        book=stock,
    )
    whole = estimate(job)
    assert [whole.figure("layouts", 1, c) for c in ("direction", "strip_count", "rolls")] == [
        "along B",
        4,
        2,
    ]
    crossed = estimate(
        replace(job, particulars={**job.particulars, "sheet_joints": "cross joints"})
    )
    assert crossed.figure("layouts", 1, "direction") == "along A"
    assert crossed.column("book", "packs")[-1] == 2
    assert crossed.column("book", "laid")[-1] == pytest.approx(49.2)


def test_tapes_follow_the_laps_bonds_and_collars() -> None:
    """Worked by hand: a 3.4 × 5 zone, turned up 365 on new walls, one 110 pipe.

    One lap of 4.13 m (two strips across 5.73 m). Bonds: all four edges, 16.8 m. Collar:
    3.14159 × 0.110 = 0.3456 m. Double-sided 4.13 + 16.8 + 0.3456; single-sided 4.13.
    """
    walls = {"kind": "new wall", "dpc_level": -0.335, "typed_turn_up": 365}
    sides = (("A1", 3.4), ("A2", 3.4), ("B1", 5), ("B2", 5))
    pipe = row("penetrations", mark="P1", zone="Z1", number=1, diameter=110)
    job = bare_job(
        zones=[zone("Z1", 3.4, 5)],
        edges=[edge(f"E{s}", "Z1", s, m, **walls) for s, m in sides],
        penetrations=[pipe],
    )
    ledger = estimate(job)
    found = dict(zip(ledger.column("totals", "key"), ledger.column("totals", "net"), strict=True))
    assert found["tape_double"] == pytest.approx(4.13 + 16.8 + 0.34558, abs=1e-4)
    assert found["tape_single"] == pytest.approx(4.13)
    assert found["collar"] == 1


@pytest.mark.parametrize(
    ("kind", "inserts", "vents"), [("inserts", 6, 0), ("vents", 0, 6), ("open perpends", 0, 0)]
)
def test_weeps_by_kind(kind: str, inserts: int, vents: int) -> None:
    """Six weeps over a 2.4 m tray at 450: open perpends are counted for site and buy nothing."""
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")])
    ledger = estimate(replace(job, particulars={**job.particulars, "weep_kind": kind}))
    assert ledger.figure("openings", 1, "weeps") == 6
    found = dict(zip(ledger.column("totals", "key"), ledger.column("totals", "net"), strict=True))
    assert (found["weep"], found["weep_vent"]) == (inserts, vents)


def test_a_level_abutment_on_a_new_wall() -> None:
    """Worked by hand: 3.6 m, weeps at 450 from 225: (3600 - 450) / 450 = 7 gaps, 8 weeps."""
    roof = row("abutments", mark="R1", wall="W1", kind="level", number=1, length=3.6)
    ledger = estimate(bare_job(walls=[wall("W1", 5)], abutments=[roof]))
    names = ("tray", "stop_ends", "weeps", "catchments", "intermediates", "ridges")
    assert [ledger.figure("abutments", 1, n) for n in names] == [3.6, 2, 8, 0, 0, 0]


def test_two_slopes_meeting() -> None:
    """Worked by hand: each slope 1.8 m at 30°: 1800 × 0.57735 / 75 = 13.86, 14 units."""
    roof = row(
        "abutments", mark="R1", wall="W1", kind="two slopes meeting", number=1, length=1.8, pitch=30
    )
    ledger = estimate(bare_job(walls=[wall("W1", 5)], abutments=[roof]))
    names = ("tray", "stop_ends", "weeps", "catchments", "intermediates", "ridges")
    assert [ledger.figure("abutments", 1, n) for n in names] == [0, 4, 2, 2, 26, 1]


def quoted(**particulars: Any) -> Any:
    """A bare job of one product at £1,000, with the given terms."""
    stock = [product("D", "dpc_roll", price=1000, width=112.5, length=30)]
    job = bare_job(walls=[wall("W1", 10, cavity=0, inner_leaf=0)], book=stock)
    return estimate(replace(job, particulars={**job.particulars, **particulars}))


def test_markup_and_margin_are_different_words() -> None:
    """Design notes, section 5: 1,000 + 20 % markup = 1,200; a margin of 20 % = 1,250."""
    assert quoted(profit_percent=20).cell("quote_net") == 1200
    margin = quoted(profit_percent=20, profit_rule="margin on price")
    assert margin.cell("quote_net") == 1250
    impossible = quoted(profit_percent=100, profit_rule="margin on price")
    assert impossible.cell("quote_total") is NOT_AVAILABLE


def test_not_registered_carries_the_suppliers_vat() -> None:
    """Design notes, section 5: 1,040 without VAT costs 1,248; no VAT line."""
    ledger = quoted(profit_percent=4, vat_status="not registered")
    assert quoted(profit_percent=4).cell("quote_net") == 1040
    cells = ("quote_net", "quote_vat", "quote_total")
    assert [ledger.cell(c) for c in cells] == [1248, 0, 1248]


def test_reverse_charge_is_shown_and_not_payable() -> None:
    """HMRC Notice 735: no VAT is charged by the supplier; never to a householder."""
    ledger = quoted(vat_status="reverse charge", client_is_householder="no")
    cells = ("quote_net", "quote_vat", "vat_accounted", "quote_total")
    assert [ledger.cell(c) for c in cells] == [1000, 0, 200, 1000]
    home = quoted(vat_status="reverse charge", client_is_householder="yes")
    assert home.cell("vat_to_householder") == 1
    assert home.cell("quote_total") is NOT_AVAILABLE


def test_a_lower_rate_asks_for_its_reason() -> None:
    """5 % on 1,000 is 50; without a reason there is no total."""
    lower = {"vat_status": "zero or reduced", "vat_percent": 5}
    assert quoted(**lower).cell("quote_total") is NOT_AVAILABLE
    assert quoted(**lower, vat_reason="empty two years").cell("quote_total") == 1050


def test_minimum_charge_comes_before_vat() -> None:
    """Worked by hand: 1,000 brought up to 1,500; VAT on 1,500 is 300."""
    ledger = quoted(minimum_charge=1500)
    cells = ("minimum_added", "quote_net", "quote_vat", "quote_total")
    assert [ledger.cell(c) for c in cells] == [500, 1500, 300, 1800]
    assert quoted(minimum_charge=900).cell("minimum_added") == 0


def test_totals_by_status_are_apart() -> None:
    """One provisional line, one firm, one excluded, one by others; worked by hand."""
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", jamb_dpc=150)])
    status = {"trays": "provisional", "stop_ends": "excluded", "sill_dpc": "by others"}
    ledger = estimate(replace(job, line_status=status))
    lines = {
        ledger.figure("quote_lines", n, "item"): ledger.figure("quote_lines", n, "status")
        for n in range(1, len(ledger.rows["quote_lines"]) + 1)
    }
    assert lines["TRAY450"] == "provisional"
    assert lines["DPC112"] == lines["DPC150"] == lines["WEEP"] == "firm"
    assert "STOP" not in lines
    assert "DPC225" not in lines, "the sill DPC is by others"
    # DPC100, DPC112, DPC150 at 10 each, 6 weeps at 10 each; one roll of tray at 10.
    assert ledger.cell("firm_sum") == 90
    assert ledger.cell("provisional_sum") == 10
    assert ledger.cell("document_word") == "Estimate"
    columns = ("scope", "counted", "net", "unit")
    scope = [tuple(ledger.figure("scope_lines", n, c) for c in columns) for n in range(1, 8)]
    # Two leaves of DPC, trays, weeps and jambs are bought, as the lines stand; then what is by
    # others: a sill as wide as the window, 1.81 m; then what is excluded: two ends of one tray.
    assert [s for s, *_ in scope] == [
        "in",
        "in",
        "provisional",
        "in",
        "in",
        "by others",
        "excluded",
    ]
    assert scope[2][:2] == ("provisional", "Trays over openings")
    assert scope[5:] == [
        ("by others", "DPC under sills", 1.81, "m"),
        ("excluded", "Stop ends to trays", 2, "nr"),
    ]


def refused_by(job: Any, cell: str) -> None:
    ledger = estimate(job)
    assert ledger.cell(cell) >= 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_strips_of_two_zones_share_a_roll() -> None:
    """Worked by hand: 3 strips of 5.17 m and one of 2.565 m are 18.08 m: one roll of 25 m holds all.

    Zone by zone it would be two. Any roll but the last gives more than 25 - 5.17 = 19.83 m before
    a strip is put off to the next, so 18.08 m never needs a second.
    """
    zones = [zone("Z1", 9, 5.17), zone("Z2", 2.5, 2.565)]
    edges = [
        edge(f"{z['mark']}{s}", z["mark"], s, z["side_a"] if s[0] == "A" else z["side_b"])
        for z in zones
        for s in ("A1", "A2", "B1", "B2")
    ]
    ledger = estimate(bare_job(zones=zones, edges=edges))
    assert [ledger.figure("layouts", n, "rolls") for n in (1, 21)] == [1, 1]
    sheet = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "SHEET")
    assert ledger.figure("book", sheet, "packs") == 1


def test_joints_across_are_taped() -> None:
    """Worked by hand: 20 × 3.4 m along A from 8 m rolls of 4 m, lap 300: (20 - 0.3) / 7.7 = 2.56.

    3 rolls, 2 joints across of 4 m each: 8 m of each tape, and no other lap.
    """
    stock = [p for p in STOCK if p["material"] != "dpm_sheet"]
    stock.append(product("S8", "dpm_sheet", width=4000, length=8))
    sides = (("A1", 20), ("A2", 20), ("B1", 3.4), ("B2", 3.4))
    job = bare_job(
        zones=[zone("Z1", 20, 3.4)],
        edges=[edge(f"E{s}", "Z1", s, m) for s, m in sides],
        book=stock,
    )
    crossed = {**job.particulars, "sheet_joints": "cross joints"}
    ledger = estimate(replace(job, particulars=crossed))
    assert ledger.column("book", "packs")[-1] == 3
    found = dict(zip(ledger.column("totals", "key"), ledger.column("totals", "net"), strict=True))
    assert (found["tape_double"], found["tape_single"]) == (8, 8)


def test_what_does_not_hold_together_has_no_total() -> None:
    """Each would otherwise be quietly low: found by an independent reading of the rules."""
    short = wall("W1", 1, external_corners=4)
    refused_by(bare_job(walls=[short]), "walls_disagree")
    high = zone("Z1", 2, 2, formation_level=0.55)
    edges = [edge(f"E{s}", "Z1", s, 2) for s in ("A1", "A2", "B1", "B2")]
    refused_by(bare_job(zones=[high], edges=edges), "levels_disagree")
    walls = {"kind": "new wall", "dpc_level": 15.0}
    absurd = [edge("EA1", "Z1", "A1", 2, **walls), *edges[1:]]
    refused_by(bare_job(zones=[zone("Z1", 2, 2)], edges=absurd), "edges_disagree")
    refused_by(bare_job(), "nothing_quoted")
    lone = [edge("EA1", "Z1", "A1", 2, kind="joint", joins="Z2"), *edges[1:]]
    other = [edge(f"F{s}", "Z2", s, 2) for s in ("A1", "A2", "B1", "B2")]
    zones = [zone("Z1", 2, 2), zone("Z2", 2, 2)]
    refused_by(bare_job(zones=zones, edges=[*lone, *other]), "edges_disagree")


def test_a_solid_wall_has_no_cavity_tray() -> None:
    """No cavity to cross: nothing is counted, the note says whose it is, the check is short."""
    solid = wall("W1", 5, outer_leaf=215, cavity=0, inner_leaf=0)
    ledger = estimate(bare_job(walls=[solid], openings=[opening("O1", "W1")]))
    assert ledger.figure("openings", 1, "trays") == 0
    assert "designer's detail" in ledger.figure("openings", 1, "note")


def test_wastage_buys_rolls_and_lays_nothing() -> None:
    """60 % on a sheet joined across buys more rolls; laid, laps and tape stay as they are."""
    stock = [p for p in STOCK if p["material"] != "dpm_sheet"]
    stock.append(product("S8", "dpm_sheet", width=4000, length=8))
    sides = (("A1", 20), ("A2", 20), ("B1", 3.4), ("B2", 3.4))
    job = bare_job(
        zones=[zone("Z1", 20, 3.4)],
        edges=[edge(f"E{s}", "Z1", s, m) for s, m in sides],
        book=stock,
    )
    job = replace(job, particulars={**job.particulars, "sheet_joints": "cross joints"})
    more = replace(job, wastage={SUPPLIER: {"dpm_sheet": 60}})
    bare, wasted = estimate(job), estimate(more)
    assert wasted.column("book", "packs")[-1] > bare.column("book", "packs")[-1]
    assert wasted.column("book", "laid") == bare.column("book", "laid")
    assert wasted.column("zones", "lapped") == bare.column("zones", "lapped")


def test_a_roof_against_a_solid_wall_is_the_designers() -> None:
    solid = wall("W1", 5, outer_leaf=215, cavity=0, inner_leaf=0)
    roof = row("abutments", mark="R1", wall="W1", kind="level", number=1, length=3)
    ledger = estimate(bare_job(walls=[solid], abutments=[roof]))
    names = ("tray", "stop_ends", "weeps", "catchments")
    assert [ledger.figure("abutments", 1, n) for n in names] == [0, 0, 0, 0]
    assert "designer's detail" in ledger.figure("abutments", 1, "note")


def test_open_perpends_are_counted_for_site() -> None:
    """Six weeps over one 2.4 m tray at 450, as above."""
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")])
    opened = {**job.particulars, "weep_kind": "open perpends"}
    assert estimate(replace(job, particulars=opened)).cell("open_perpends") == 6
    assert estimate(job).cell("open_perpends") == 0


def test_a_reduced_rate_lies_below_the_standard_one() -> None:
    reason = {"vat_reason": "empty two years"}
    refused = quoted(vat_status="zero or reduced", vat_percent=20, **reason)
    assert refused.cell("quote_total") is NOT_AVAILABLE
    nought = quoted(vat_status="reverse charge", vat_percent=0, client_is_householder="no")
    assert nought.cell("quote_total") is NOT_AVAILABLE
    free = quoted(vat_status="not registered")
    assert free.cell("vat_total_label") == "Total, no VAT charged"


def test_a_delivery_is_as_sure_as_its_order() -> None:
    """Trays provisional: what is delivered with them is provisional too."""
    suppliers = [row("suppliers", name=SUPPLIER, delivery=45)]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")], suppliers=suppliers)
    assert estimate(job).cell("provisional_sum") == 0
    ledger = estimate(replace(job, line_status={"trays": "provisional"}))
    assert ledger.cell("provisional_sum") == 10 + 45


def test_tape_of_a_sheet_by_others_is_said() -> None:
    job = bare_job(zones=[zone("Z1", 3, 5)], edges=turned_up("Z1", 3, 5, 600))
    ledger = estimate(replace(job, line_status={"dpm": "by others"}))
    notes = dict(
        zip(ledger.column("lines", "key"), ledger.column("lines", "line_note"), strict=True)
    )
    assert notes["lap_tape"] == notes["over_tape"] == "laps of a sheet that is not bought here"
    assert notes["hardcore"] == ""


def test_the_sheet_reaches_as_far_as_the_largest_turn_up_on_a_side() -> None:
    """Side A1 is two edges, turned up 300 and 200 mm; B sides 150 each, A2 100.

    Across A, the sheet is 4 + 0.300 (the larger of two, not 0.500) + 0.100 = 4.4 m; across B,
    6 + 0.150 + 0.150 = 6.3 m.
    """
    up = {"kind": "existing wall, DPC unknown"}
    edges = [
        edge("a", "Z1", "A1", 3.5, typed_turn_up=300, **up),
        edge("b", "Z1", "A1", 2.5, typed_turn_up=200, **up),
        edge("c", "Z1", "A2", 6, typed_turn_up=100, **up),
        edge("d", "Z1", "B1", 4, typed_turn_up=150, **up),
        edge("e", "Z1", "B2", 4, typed_turn_up=150, **up),
    ]
    ledger = estimate(bare_job(zones=[zone("Z1", 6, 4)], edges=edges))
    assert ledger.figure("zones", 1, "sheet_a") == pytest.approx(6.3)
    assert ledger.figure("zones", 1, "sheet_b") == pytest.approx(4.4)


def test_only_lines_with_an_amount_are_counted_on_the_quote() -> None:
    """A floor with a sheet, of one supplier: sand, stone, sheet, tape in its laps and along the
    thresholds, tape over its laps. Five lines; the spare ones, which have no amount, are none.
    """
    edges = turned_up("Z1", 6, 4, 150)
    ledger = estimate(bare_job(zones=[zone("Z1", 6, 4)], edges=edges))
    assert len(ledger.rows["quote_lines"]) > 5
    assert ledger.cell("lines_quoted") == 5


def test_strips_run_along_a_where_both_ways_take_as_much() -> None:
    """A square floor of 4 m, turned up 150 all round: 4.3 m each way on a roll of 4 m.

    (4.3 − 0.3) ÷ (4 − 0.3) = 1.08, up to 2 strips of 4.3 m, along A or along B: the same rolls, the
    same metres, the same joint, so along A.
    """
    ledger = estimate(bare_job(zones=[zone("Z1", 4, 4)], edges=turned_up("Z1", 4, 4, 150)))
    assert ledger.figure("layouts", 1, "strip_count") == 2
    assert ledger.figure("layouts", 1, "roll_metres") == pytest.approx(8.6)
    assert ledger.figure("layouts", 1, "direction") == "along A"


def test_each_product_has_its_own_line_of_the_orders() -> None:
    """The same floor: its five products in the order of the price book, each once, none between."""
    ledger = estimate(bare_job(zones=[zone("Z1", 6, 4)], edges=turned_up("Z1", 6, 4, 150)))
    codes = [c for c in ledger.column("order_lines", "code") if c]
    assert codes == ["SAND", "STONE", "SHEET", "TAPE2", "TAPE1"]
