"""In a radon or gas area: the whole footprint, the grade made for it, and what is left to others."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.language.ledger import Ledger, is_available
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import STOCK, bare_job, edge, product, row, wall, zone


def job(radon_area: str = "yes", **meets: Any) -> Job:
    """4 × 3 m against a house; new walls of 302.5 mm (102.5 + 100 + 100) on three sides.

    DPM at -0.335, DPC at 0: rise 335.
    """
    dpc = {"kind": "new wall", "dpc_level": 0.0, "wall": "W", **meets}
    dpc |= {"dpc_level": None} if dpc["kind"] == "threshold" else {}
    found = bare_job(
        zones=[zone("Z", 4, 3)],
        edges=[
            edge("E1", "Z", "A1", 4, kind="existing wall with DPC", dpc_level=-0.1, dress=25),
            edge("E2", "Z", "A2", 4, **dpc),
            edge("E3", "Z", "B1", 3, **dpc),
            edge("E4", "Z", "B2", 3, **dpc),
        ],
        walls=[wall("W", 10, measured_on="inside face", external_corners=2)],
        penetrations=[row("penetrations", mark="P", zone="Z", number=1, diameter=110)],
    )
    return replace(found, particulars={**found.particulars, "radon_area": radon_area})


def bought(ledger: Ledger) -> set[str]:
    rows = zip(ledger.column("book", "material"), ledger.column("book", "packs"), strict=True)
    return {material for material, packs in rows if packs > 0}


def test_the_sheet_covers_the_new_walls() -> None:
    """Floor 12 m²; walls (4 + 3 + 3) × 0.3025 = 3.025 m², and two corners of 0.3025² = 0.0915.

    12 + 3.025 + 0.18301 = 15.20801 m²: as drawn outside, (4 + 0.605) × (3 + 0.3025).

    Past the new walls 335 + 302.5 = 637.5; at the house 235 + 25 = 260. Along A: 4 + 2 × 0.6375 =
    5.275; along B: 3 + 0.26 + 0.6375 = 3.8975.
    """
    ledger = estimate(job())
    assert ledger.figure("zones", 1, "sheet_area") == pytest.approx(4.605 * 3.3025)
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(637.5)
    assert ledger.figure("edges", 1, "turn_up") == pytest.approx(260)
    assert ledger.figure("zones", 1, "sheet_a") == pytest.approx(5.275)
    assert ledger.figure("zones", 1, "sheet_b") == pytest.approx(3.8975)


def test_a_threshold_and_a_typed_turn_up_reach_the_outer_face() -> None:
    """One side a threshold of 100: the sheet still crosses the wall of 302.5."""
    for edge_kind in ("threshold", "new wall"):
        ledger = estimate(job(kind=edge_kind, typed_turn_up=100))
        assert ledger.figure("edges", 2, "turn_up") == pytest.approx(302.5)
        assert ledger.figure("zones", 1, "sheet_area") == pytest.approx(4.605 * 3.3025)


def test_outside_such_an_area_nothing_changes() -> None:
    """The dress of 100 on to the DPC: 335 + 100 = 435; the floor alone is 12 m²."""
    ledger = estimate(job("no"))
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(435)
    assert ledger.figure("zones", 1, "sheet_area") == pytest.approx(12)
    assert not {m for m in bought(ledger) if m.startswith("gas_")}
    assert ledger.cell("gas_note") == ""


def test_sheet_tape_and_collars_are_of_that_grade() -> None:
    found = bought(estimate(job()))
    assert {"gas_sheet", "gas_tape_double", "gas_tape_single", "gas_collar"} <= found
    assert not {"dpm_sheet", "tape_double", "tape_single", "collar"} & found


def test_a_tray_crosses_every_cavity() -> None:
    """Outer leaf on its centre: 10 + 2 × 0.25125 × 2 = 11.005 m of tray."""
    lines = dict(zip(*(estimate(job()).column("lines", c) for c in ("key", "net")), strict=True))
    assert lines["base_trays"] == pytest.approx(11.005)


def test_ordinary_sheet_never_serves() -> None:
    only_plain = [p for p in STOCK if p["material"] != "gas_sheet"]
    found = job()
    rows = {**found.rows, "book": only_plain}
    ledger = estimate(replace(found, rows=rows))
    assert ledger.cell("needs_uncovered") == 1
    assert not is_available(ledger.cell("quote_total"))


def test_a_wall_that_is_not_named_refuses_the_total() -> None:
    ledger = estimate(job(wall=None))
    assert ledger.cell("edges_unwalled") == 3
    assert not is_available(ledger.cell("quote_total"))
    assert estimate(job("no", wall=None)).cell("edges_unwalled") == 0


def test_what_stays_with_a_specialist_is_said() -> None:
    ledger = estimate(job())
    assert "specialist" in ledger.cell("gas_note")
    states = dict(zip(*(ledger.column("checks", c) for c in ("key", "state")), strict=True))
    assert states["gas"] == "designer's detail"
    assert states["radon"] == "meets"


def test_a_dearer_roll_of_gas_sheet_is_not_taken_for_a_cheap_plain_one() -> None:
    """Two grades stocked, the plain one for a pound: the gas grade is laid and bought."""
    cheap = product("CHEAP", "dpm_sheet", price=1, width=4000, length=25)
    found = job()
    ledger = estimate(replace(found, rows={**found.rows, "book": [cheap, *STOCK]}))
    packs = dict(zip(*(ledger.column("book", c) for c in ("code", "packs")), strict=True))
    assert packs["CHEAP"] == 0
    assert packs["GASSHEET"] == 1


def test_an_internal_corner_is_covered_once() -> None:
    """An L: 6 × 4 m beside 3 × 2 m, new walls of 0.3025 round it all, one closed run.

    Floor 24 + 6 = 30. Outside: 6.605 × 4.605 and 3.605 × 2 beyond it, as the shared side's walls
    lie on one line at one end. 30.416025 + 7.21 = 37.626025 m². By edges: 24 m × 0.3025 = 7.26,
    five corners out less one in: 4 × 0.3025² = 0.366025; 30 + 7.626025.
    """
    walls = {"kind": "new wall", "dpc_level": 0.0, "wall": "W"}
    listed = [
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
    run = wall("W", 24, run="closed", measured_on="inside face", external_corners=5,
               internal_corners=1)  # fmt: skip
    found = bare_job(zones=[zone("Z1", 6, 4), zone("Z2", 3, 2)], edges=listed, walls=[run])
    ledger = estimate(replace(found, particulars={**found.particulars, "radon_area": "yes"}))
    assert sum(ledger.column("zones", "sheet_area")) == pytest.approx(37.626025)
