"""One job worked by hand before it was entered: an L in plan, to the last metre and penny.

An invented extension behind an invented house. Room one is 6.0 × 3.0 m along the rear wall; room
two, 2.0 × 4.0 m, goes on from its right-hand end into the garden, so that the walls turn in at
the corner between them. The house's DPC lies 75 mm below the new one. A bifold of 3.0 m opens
room one to the garden, two windows of one size and one of another light room two. The roof of
room one meets the old wall along its full width; that of a lean-to in the side return slopes up
against the wall of room two. Every figure below was worked with pencil and calculator from the
rules as docs/rules.md words them; none was taken from the program.
"""

from dataclasses import replace
from functools import cache

import pytest

from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import SUPPLIER, bare_job, edge, opening, product, row, wall, zone

# Levels, new floor 0: DPM at -0.335 (65 screed, 120 insulation, 150 slab). New DPC at 0: the
# sheet rises 335 and is dressed 100: 435. Old DPC at -0.075: it rises 260, and goes 25 into a
# chase: 285. At the bifold 335, typed.
NEW = {"kind": "new wall", "dpc_level": 0}
EDGES = [
    edge("E1", "Z1", "A1", 6, kind="existing wall with DPC", dpc_level=-0.075, dress=25),
    edge("E2", "Z1", "A2", 3, kind="threshold", typed_turn_up=335),
    edge("E3", "Z1", "A2", 1, **NEW),
    edge("E4", "Z1", "A2", 2, kind="joint", joins="Z2"),
    edge("E5", "Z1", "B1", 3, **NEW),
    edge("E6", "Z1", "B2", 3, **NEW),
    edge("E7", "Z2", "A1", 2, kind="joint", joins="Z1"),
    edge("E8", "Z2", "A2", 2, **NEW),
    edge("E9", "Z2", "B1", 4, **NEW),
    edge("E10", "Z2", "B2", 4, **NEW),
]
BOOK = [
    product("STONE", "hardcore", 30, weight=1000),
    product("SAND", "blinding_sand", 40, weight=1000),
    product("SHEET", "dpm_sheet", 60, width=4000, length=12.5),
    product("TAPE2", "tape_double", 14, length=15),
    product("TAPE1", "tape_single", 9, length=25),
    product("COLLAR", "collar", 6, width=110, pieces=1),
    product("DPC100", "dpc_roll", 8, width=100, length=30),
    product("DPC112", "dpc_roll", 9, width=112.5, length=30),
    product("DPC150", "dpc_roll", 11, width=150, length=30),
    product("DPC225", "dpc_roll", 16, width=225, length=30),
    product("TRAY450", "tray_roll", 50, width=450, length=20, made_of="polymer"),
    product("STOP", "stop_end", 12, pieces=10),
    product("WEEP", "weep", 5, pieces=10),
    product("UNIT", "cut_in_unit", 18, pieces=1),
    product("CATCH", "catchment_unit", 15, pieces=1),
    product("STEP", "step_unit", 13, pieces=1),
]
WASTAGE = {"hardcore": 10, "blinding_sand": 10, "tape_double": 5, "tape_single": 5, "dpc_roll": 5,
           "tray_roll": 5}  # fmt: skip


def the_job() -> Job:
    # Outside face: 3.3025 beside the house, 4.0 past the bifold to the corner that turns in, 4.0
    # out, 2.605 across and 7.3025 back: 21.21 m. Three corners turn out, one turns in.
    job = bare_job(
        zones=[zone("Z1", 6, 3), zone("Z2", 2, 4)],
        edges=EDGES,
        walls=[wall("W1", 21.21, external_corners=3, internal_corners=1, ends_at_existing=2,
                    dpc_height=150, cavity_below=225)],
        openings=[
            opening("O1", "W1", number=2, width=1.2, height=1.05, lintel=1.5, jamb_dpc=150),
            opening("O2", "W1", width=0.6, height=0.9, lintel=0.9, jamb_dpc=150),
            opening("O3", "W1", kind="level-access door", width=3, height=2.1, lintel=3.3,
                    jamb_dpc=150),
        ],
        penetrations=[row("penetrations", mark="P1", zone="Z1", diameter=110, number=1)],
        abutments=[row("abutments", mark="R1", wall="W1", kind="one slope", number=1, length=2.4,
                       pitch=25)],
        old_walls=[row("old_walls", mark="H1", kind="cavity, clear", outer_leaf=102.5, cavity=50)],
        cut_ins=[row("cut_ins", mark="C1", wall="H1", kind="above a new roof", number=1,
                     length=6.605, courses=2, unit_length=1, unit_lap=0, bay_most=1)],
        tie_ins=[row("tie_ins", mark="T1", wall="W1", number=2, height=2.4)],
        suppliers=[row("suppliers", name=SUPPLIER, delivery=35, free_over=1200)],
        book=BOOK,
    )  # fmt: skip
    # The figures that the guidance leaves open or that this job replaces, as an estimator would.
    figures = {
        "dpm_lap": 300, "dpm_dpc_lap": 100, "blinding_thickness": 50, "blinding_density": 1.9,
        "hardcore_density": 1.94, "dpc_lap": 100, "dpc_projection": 10, "sill_turn_up": 75,
        "tray_rise": 150, "tray_build_in": 100, "tray_past_lintel": 0, "tray_past_closer": 25,
        "tray_lap": 100, "weep_spacing": 450, "weep_from_end": 225, "weeps_min": 2,
        "threshold_past": 150,
    }  # fmt: skip
    particulars = {**job.particulars, "profit_percent": 15}
    return replace(job, override=figures, wastage={SUPPLIER: WASTAGE}, particulars=particulars)


@cache
def ledger() -> Ledger:
    return estimate(the_job())


LINES = {
    # 6 × 3 + 2 × 4 = 26 m². Hardcore 550 - 335 - 50 = 165 deep: 4.29 m³ × 1.94.
    "hardcore": 8.3226,
    "blinding": 2.47,  # 26 × 0.050 × 1.9
    # One strip in each room, so none laps another. The joint: 2 m, and up 435 at either end.
    "lap_tape": 2.87,
    "over_tape": 2.87,
    # Old wall 6, new walls 1 + 3 + 3 + 2 + 4 + 4, bifold 3.
    "bond_tape": 26,
    "seal_tape": 6,
    "collar_tape": 0.345575,  # π × 0.110
    # Centre of the outer leaf: 51.25 in, 21.21 - 2 × 0.05125 × (3 - 1). Inner: 252.5 in.
    "outer_dpc": 21.005,
    "inner_dpc": 20.2,
    "tie_dpc": 4.8,  # 2 × 2.4
    # max(1.5, 1.2 + 0.05) twice, max(0.9, 0.65), max(3.3, 3.05)
    "trays": 7.2,
    "threshold_trays": 3.3,  # 3.0 + 2 × 0.150
    "jamb_dpc": 10.2,  # 2 × 2 × 1.05 + 2 × 0.9 + 2 × 2.1
    "sill_dpc": 3.0,  # 2 × 1.2 + 0.6
    "stop_ends": 8,
    # 1.5: (1500 - 450) / 450 = 2.3, 3 gaps, 4 weeps, twice; 0.9: 2; 3.3: 6.3, 7 gaps, 8.
    "inserts": 18,
    # 2.4 × tan 25° = 1.1191 m; / 0.075 = 14.9, 15 units of which one is the catchment.
    "catchments": 1,
    "intermediates": 14,
    "roof_stop_ends": 2,
    "roof_inserts": 1,
    # 6.605 / 0.225 = 29.4: 30 bricks, 6.75 m; butted units of 1 m: 7.
    "cut_in_units": 7,
    "cut_in_stop_ends": 2,
    "cut_in_inserts": 15,  # (6750 - 450) / 450 = 14 gaps
}


@pytest.mark.parametrize("line", LINES)
def test_every_line_to_the_last_metre(line: str) -> None:
    keys = ledger().column("lines", "key")
    found = ledger().column("lines", "net")[keys.index(line)]
    assert found == pytest.approx(LINES[line], abs=1e-6)


PACKS = {
    "STONE": 10,  # 8.3226 × 1.10 = 9.155 t
    "SAND": 3,  # 2.47 × 1.10 = 2.717 t
    "TAPE2": 3,  # (2.87 + 26 + 0.346) × 1.05 = 30.68 m of 15
    "TAPE1": 1,  # (2.87 + 6) × 1.05 = 9.31 m of 25
    "COLLAR": 1,
    "DPC100": 1,  # 20.20 + ends 0.20 + four corners of 0.100 = 20.80, × 1.05 = 21.84 m of 30
    # 21.005 + 0.20 + four corners of 0.1125 = 21.655, tie-ins 4.8 + 0.20: 26.655 × 1.05 = 27.99
    "DPC112": 1,
    "DPC150": 1,  # 10.2 + sixteen laps of 0.1 = 11.8, × 1.05 = 12.39
    "DPC225": 1,  # 102.5 + 75 = 177.5 wide; 3.0 + three sills turned up 0.15 = 3.45, × 1.05 = 3.62
    # 102.5 + √(100² + 150²) + 100 = 383, and 102.5 + 100 + 75 = 277.5 wide:
    # 7.2 + 3.3 + 0.15 = 10.65, × 1.05 = 11.18 m of 20.
    "TRAY450": 1,
    "STOP": 2,  # 8 + 2 + 2 = 12, in tens
    "WEEP": 4,  # 18 + 1 + 15 = 34, in tens
    "UNIT": 7,
    "CATCH": 1,
    "STEP": 14,
}


@pytest.mark.parametrize("code", PACKS)
def test_every_pack(code: str) -> None:
    codes = ledger().column("book", "code")
    assert ledger().column("book", "packs")[codes.index(code)] == PACKS[code]


def test_one_roll_serves_both_rooms() -> None:
    """Room one: 3 + 0.285 + 0.435 = 3.72 across, one strip of 6 + 2 × 0.435 = 6.87 m.

    Room two: 2 + 2 × 0.435 = 2.87 across, one strip of 4 + 0.435 + the lap of 0.300 = 4.735 m.
    Both come from one roll of 12.5 m: 6.87 + 4.735 = 11.605 m, and 0.895 m is left.
    """
    codes = ledger().column("book", "code")
    assert ledger().column("book", "packs")[codes.index("SHEET")] == 1
    assert ledger().column("book", "counted_how")[codes.index("SHEET")] == "least, proven"


def test_to_the_last_penny() -> None:
    """Goods: stone 300, sand 120, sheet 60, tapes 42 + 9, collar 6, DPC 8 + 9 + 11 + 16, tray 50,
    stop ends 24, weeps 20, units 126, catchment 15, stepped 182: 998.00.

    With 15 %, line by line: 345.00 + 138.00 + 69.00 + 48.30 + 10.35 + 6.90 + 9.20 + 10.35 + 12.65
    + 18.40 + 57.50 + 27.60 + 23.00 + 144.90 + 17.25 + 209.30 = 1,147.70. Delivery, since 998 is
    less than 1,200, at cost: 35.00. Without VAT 1,182.70; VAT 236.54; total 1,419.24.
    """
    found = ledger()
    assert found.cell("cost_total") == 1033
    assert found.cell("quote_net") == 1182.7
    assert found.cell("quote_vat") == 236.54
    assert found.cell("quote_total") == 1419.24
