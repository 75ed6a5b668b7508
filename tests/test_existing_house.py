"""The existing house in whole jobs: what is cut in, carried through and tied in."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.language.ledger import Ledger, is_available
from estimator.model.estimate import estimate

from .small_jobs import STOCK, bare_job, opening, product, row, wall

OLD = row("old_walls", mark="H1", kind="cavity, clear", outer_leaf=102.5, cavity=50)
CUT = row(
    "cut_ins",
    mark="C1",
    wall="H1",
    kind="above a new roof",
    number=1,
    length=5.1,
    courses=2,
    unit_length=0.9,
    unit_lap=0,
    bay_most=0.9,
)


def net(ledger: Ledger, line: str) -> float:
    lines = ledger.column("lines", "key")
    return float(ledger.column("lines", "net")[lines.index(line)])


def measured(ledger: Ledger, key: str) -> float:
    keys = ledger.column("measures", "key")
    return float(ledger.column("measures", "measured")[keys.index(key)])


def test_a_tray_cut_in_above_a_lean_to() -> None:
    """5.10 m: 23 bricks, 5.175 m. Butted 0.9 m units: 6. Two courses: 46 bricks. 6 bays: 3, 3.

    Weeps at 450, the first at 225: (5175 - 450) / 450 = 10.5, up to 11 gaps: 12.
    """
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[CUT]))
    assert net(ledger, "cut_in_units") == 6
    assert net(ledger, "cut_in_stop_ends") == 2
    assert net(ledger, "cut_in_inserts") == 12
    assert measured(ledger, "bricks_out") == 46
    assert (measured(ledger, "bays_odd"), measured(ledger, "bays_even")) == (3, 3)
    assert measured(ledger, "made_good") == pytest.approx(5.175)
    assert measured(ledger, "cleared") == 0


def test_a_tray_that_goes_round_a_corner_of_the_old_house() -> None:
    """5.10 m along both walls, 23 bricks: 6 units, and one more cut at the corner; a corner unit.

    6 bays, and one more, for none goes round the corner: 4, then 3. Ends and weeps as before.
    """
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[{**CUT, "corners": 1}]))
    assert net(ledger, "cut_in_units") == 7
    assert net(ledger, "cut_in_corners") == 1
    assert (measured(ledger, "bays_odd"), measured(ledger, "bays_even")) == (4, 3)
    assert (net(ledger, "cut_in_stop_ends"), net(ledger, "cut_in_inserts")) == (2, 12)
    assert measured(ledger, "bricks_out") == 46


@pytest.mark.parametrize(("cut", "wrong"), [(CUT, 0), ({**CUT, "kind": "stepped up a slope"}, 1)])
def test_only_a_level_tray_goes_round_a_corner(cut: dict[str, Any], wrong: int) -> None:
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[{**cut, "corners": 2}]))
    assert ledger.cell("old_walls_disagree") == wrong


def test_units_of_two_bricks_are_stocked_and_bought() -> None:
    """5.175 m in units of 450 mm, two bricks and their joints: 11.5, up to 12; packs of 2: 6."""
    others = [p for p in STOCK if p["material"] != "cut_in_unit"]
    short = product("U450", "cut_in_unit", length=0.45, pieces=2)
    job = bare_job(old_walls=[OLD], cut_ins=[{**CUT, "unit_length": 0.45}], book=[*others, short])
    ledger = estimate(job)
    assert net(ledger, "cut_in_units") == 12
    assert ledger.figure("book", len(others) + 1, "packs") == 6


@pytest.mark.parametrize(
    "small",
    [
        {"material": "closer", "width": 100, "length": 0.225},  # one brick and its joint
        {"material": "tape_double", "width": 6, "length": 8},  # a sealing strip of 6 mm
        {"material": "separating_layer", "width": 1000, "length": 500},  # film by the long roll
        {"material": "blinding_sand", "weight": 0.5},
    ],
)
def test_real_goods_have_a_place_in_the_price_book(small: dict[str, Any]) -> None:
    """Small pieces, small packs and long rolls, as merchants sell them; none was accepted."""
    assert bare_job(book=[*STOCK, product("SMALL", **small)]).rows["book"][-1]["code"] == "SMALL"


STEPPED = {**CUT, "kind": "stepped up a slope", "length": 3.6, "pitch": 30, "number": 2}


def test_a_tray_stepped_into_an_existing_wall_is_counted_as_in_a_new_one() -> None:
    """3.6 m on plan at 30°: 3.6 × 0.57735 = 2.078 m; courses of 75: 27.7, 28 units a slope.

    One catchment and 27 others; two stop ends and one weep to the catchment; two roofs. Lead and
    sealant up the slope: 3.6 / 0.86603 = 4.157 m; in pieces of 1.5 lapped 100: 4.057 / 1.4 = 2.9, 3.
    """
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[STEPPED]))
    assert net(ledger, "cut_in_catchments") == 2
    assert net(ledger, "cut_in_intermediates") == 54
    assert net(ledger, "cut_in_ridges") == 0
    assert net(ledger, "cut_in_stop_ends") == 4
    assert net(ledger, "cut_in_inserts") == 2
    assert net(ledger, "cut_in_lead") == 6
    assert net(ledger, "cut_in_sealant") == pytest.approx(2 * 3.6 / 0.8660254)
    # Cutting in and support stay the designer's.
    assert net(ledger, "cut_in_units") == measured(ledger, "bricks_out") == 0
    assert measured(ledger, "uncounted") == 2
    assert "Support and order of cutting" in ledger.figure("cut_ins", 1, "note")


def test_two_slopes_that_meet_in_an_existing_wall() -> None:
    """One roof, 3.6 m a slope, in courses of 80: 2078 / 80 = 25.98, 26 a slope; one ridge."""
    cut = {**STEPPED, "kind": "stepped up two slopes meeting", "number": 1, "course": 80}
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[cut]))
    found = [net(ledger, f"cut_in_{k}") for k in ("catchments", "intermediates", "ridges")]
    assert found == [2, 50, 1]
    assert (net(ledger, "cut_in_stop_ends"), net(ledger, "cut_in_inserts")) == (4, 2)
    steps = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "STEP")
    assert ledger.figure("book", steps, "packs") == 50


@pytest.mark.parametrize(("wall_kind", "pitch"), [("cavity, clear", None), ("stone", 30)])
def test_a_stepped_tray_without_pitch_or_cavity_has_no_count(
    wall_kind: str, pitch: float | None
) -> None:
    old = {**OLD, "kind": wall_kind}
    ledger = estimate(bare_job(old_walls=[old], cut_ins=[{**STEPPED, "pitch": pitch}]))
    for kind in ("catchments", "intermediates", "stop_ends", "inserts"):
        assert net(ledger, f"cut_in_{kind}") == 0
    assert "no count" in ledger.figure("cut_ins", 1, "note")


def test_cover_flashing_is_measured_in_metres_too() -> None:
    """Over the old wall 5.1 m, 4 pieces, 3 laps of 0.1; on a new wall 2 × 2.9 m, 2 pieces each.

    (2.9 - 0.1) / 1.4 = 2. Net 5.1 + 5.8 = 10.9 m; laps 0.3 + 2 × 0.1 = 0.5 m.
    """
    roof = row("abutments", mark="R", wall="W1", kind="level", number=2, length=2.9)
    job = bare_job(old_walls=[OLD], cut_ins=[CUT], walls=[wall("W1", 9)], abutments=[roof])
    ledger = estimate(job)
    assert measured(ledger, "cover_flashing") == pytest.approx(10.9)
    assert measured(ledger, "cover_flashing_laps") == pytest.approx(0.5)
    assert measured(ledger, "lead") + measured(ledger, "cut_in_lead") == 8


def test_a_new_opening_takes_closers_or_a_dpc_never_both() -> None:
    """Two openings 1.2 × 2.1 m: 2 × 2 × 2.1 = 8.4 m of closer, or of DPC; without a height, neither."""
    opening = {**CUT, "kind": "over a new opening", "number": 2, "length": 1.2, "closer": 50,
               "height": 2.1}  # fmt: skip
    closed = estimate(bare_job(old_walls=[OLD], cut_ins=[opening]))
    assert (net(closed, "cut_in_closers"), net(closed, "cut_in_jambs")) == (pytest.approx(8.4), 0)
    dpc = estimate(bare_job(old_walls=[OLD], cut_ins=[{**opening, "jamb_dpc": 112.5}]))
    assert (net(dpc, "cut_in_closers"), net(dpc, "cut_in_jambs")) == (0, pytest.approx(8.4))
    blank = estimate(bare_job(old_walls=[OLD], cut_ins=[{**opening, "height": None}]))
    assert blank.cell("old_walls_disagree") == 1


def test_lead_over_the_roof_is_counted_for_others_whatever_the_wall() -> None:
    """5.1 m in pieces of 1.5 lapped 100: (5.1 - 0.1) / 1.4 = 3.57, up to 4; sealant 5.1 m."""
    for kind in ("cavity, clear", "solid"):
        ledger = estimate(bare_job(old_walls=[{**OLD, "kind": kind}], cut_ins=[CUT]))
        assert net(ledger, "cut_in_lead") == 4
        assert net(ledger, "cut_in_sealant") == pytest.approx(5.1)


def test_filled_cavity_is_cleared_along_the_tray() -> None:
    old = {**OLD, "kind": "cavity, filled"}
    ledger = estimate(bare_job(old_walls=[old], cut_ins=[CUT]))
    assert measured(ledger, "cleared") == pytest.approx(5.175)


@pytest.mark.parametrize("kind", ["solid", "stone", "unknown"])
def test_a_wall_that_cannot_be_counted_is_not(kind: str) -> None:
    old = row("old_walls", mark="H1", kind=kind)
    ledger = estimate(bare_job(old_walls=[old], cut_ins=[CUT]))
    for line in ("cut_in_units", "cut_in_stop_ends", "cut_in_inserts"):
        assert net(ledger, line) == 0
    assert measured(ledger, "bricks_out") == 0
    assert measured(ledger, "uncounted") == 1
    assert "designer's detail" in ledger.figure("cut_ins", 1, "note")


def test_a_lintel_is_longer_than_its_new_opening() -> None:
    opening = {**CUT, "kind": "over a new opening", "length": 2.4}
    for lintel, wrong in ((None, 1), (2.4, 1), (2.7, 0)):
        job = bare_job(old_walls=[OLD], cut_ins=[{**opening, "lintel": lintel}])
        assert estimate(job).cell("old_walls_disagree") == wrong


def test_a_duct_of_another_length_than_the_one_bought_refuses() -> None:
    vent = row("old_vents", mark="V1", wall="W1", number=1, projection=3, old_leaf=102.5, size=110,
               stock=6)  # fmt: skip
    ledger = estimate(bare_job(walls=[wall("W1", 5)], old_vents=[vent]))
    assert ledger.cell("stocks_disagree") == 1


def test_no_count_and_no_provisional_sum_is_no_quote() -> None:
    """150 set aside for the designer's detail makes it an estimate."""
    job = bare_job(old_walls=[row("old_walls", mark="H1", kind="stone")], cut_ins=[CUT])
    assert not is_available(estimate(job).cell("quote_total"))
    work = row("work_lines", mark="P", description="Tray in stone", kind="provisional sum",
               way="fixed", figure=150)  # fmt: skip
    ledger = estimate(replace(job, rows={**job.rows, "work_lines": [work]}))
    assert ledger.cell("quote_net") == 150
    assert ledger.cell("document_word") == "Estimate"


def test_a_cavity_wall_of_unknown_size_refuses_the_total() -> None:
    old = row("old_walls", mark="H1", kind="cavity, clear")
    ledger = estimate(bare_job(old_walls=[old], cut_ins=[CUT]))
    assert ledger.cell("old_walls_disagree") == 2  # the wall, and what is cut into it
    assert not is_available(ledger.cell("quote_total"))


def test_an_air_brick_carried_through() -> None:
    """3.0 + 0.3025 + 0.1025 = 3.405 m each; two ducts 6.81 m; 3 m lengths: one coupler each.

    Outer 102.5 + cavity 100 + inner 100 = 302.5. Tray 0.215 + 2 × 0.150 past what bridges = 0.515 each.
    """
    vent = row("old_vents", mark="V1", wall="W1", number=2, projection=3, old_leaf=102.5, size=110,
               stock=3)  # fmt: skip
    ledger = estimate(bare_job(walls=[wall("W1", 5)], old_vents=[vent]))
    assert net(ledger, "ducts") == pytest.approx(6.81)
    assert net(ledger, "couplers") == 2
    assert net(ledger, "sleeves") == net(ledger, "outer_air_bricks") == 2
    assert net(ledger, "vent_trays") == pytest.approx(1.03)
    assert net(ledger, "vent_stop_ends") == 4
    assert net(ledger, "vent_inserts") == 4


def test_a_tie_in_that_is_not_listed_refuses_the_total() -> None:
    job = bare_job(walls=[wall("W1", 5, ends_at_existing=1)])
    assert not is_available(estimate(job).cell("quote_total"))
    tie = row("tie_ins", mark="T1", wall="W1", number=1, height=2.6)
    ledger = estimate(bare_job(walls=[wall("W1", 5, ends_at_existing=1)], tie_ins=[tie]))
    assert is_available(ledger.cell("quote_total"))
    assert net(ledger, "tie_dpc") == pytest.approx(2.6)
    assert net(ledger, "tie_joints") == pytest.approx(2.6)


def test_weeps_are_counted_once_for_site() -> None:
    """Lintel 2.1 m and 150 past it each end: (2400 - 450) / 450 = 4.3, 5 gaps, 6; the tray cut in 12."""
    job = bare_job(old_walls=[OLD], cut_ins=[CUT], walls=[wall("W1", 5)], openings=[
        opening("O1", "W1")])  # fmt: skip
    built = estimate(job)
    assert (net(built, "inserts"), net(built, "cut_in_inserts")) == (6, 12)
    assert measured(built, "weeps_built") == 18
    assert measured(built, "open_perpends") == 0
    left = estimate(replace(job, particulars={**job.particulars, "weep_kind": "open perpends"}))
    assert (net(left, "inserts"), net(left, "cut_in_inserts")) == (0, 0)
    assert measured(left, "weeps_built") == measured(left, "open_perpends") == 18


@pytest.mark.parametrize(("bought", "wrong"), [(None, 0), (0.9, 0), (1.2, 1), (0.45, 1)])
def test_tray_units_of_another_length_than_the_one_bought_refuse(
    bought: float | None, wrong: int
) -> None:
    """Counted by 0.9 m: bought at 0.45 m, half of the wall would be open. A pack that states no
    length cannot be compared."""
    units = [r for r in STOCK if r["material"] != "cut_in_unit"]
    unit = product("UNIT", "cut_in_unit", pieces=1, length=bought)
    ledger = estimate(bare_job(old_walls=[OLD], cut_ins=[CUT], book=[*units, unit]))
    assert ledger.cell("units_disagree") == wrong
    assert is_available(ledger.cell("quote_total")) == (not wrong)
