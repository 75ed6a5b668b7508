"""Whole jobs worked by hand: jambs, thresholds, base trays, parapets, tray units, flashings."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from estimator.buying.lines import LINES
from estimator.buying.materials import MATERIAL_ROWS
from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import STOCK, SUPPLIER, bare_job, opening, product, row, wall


def given(job: Job, **particulars: Any) -> Job:
    return replace(job, particulars={**job.particulars, **particulars})


def net(ledger: Ledger) -> Mapping[str, float]:
    """What each line of the quantities needs, net."""
    return dict(zip(ledger.column("lines", "key"), ledger.column("lines", "net"), strict=True))


def bought(ledger: Ledger, code: str) -> dict[str, Any]:
    """What is taken of one product."""
    at = [b["code"] for b in ledger.rows["book"]].index(code) + 1
    return {c: ledger.figure("book", at, c) for c in ("net", "laid", "packs", "left")}


def of_opening(**given: Any) -> Job:
    return bare_job(walls=[wall("W1", 20)], openings=[opening("O1", "W1", **given)])


DOOR = "level-access door"  # without a sill


# ---- jambs ---------------------------------------------------------------------------------


def test_closers_are_cut_whole_from_stock_lengths() -> None:
    """Two windows 1.2 m high, 100 closers of 2.4 m: 4 pieces of 1.2, two to a length, 2 lengths.

    Below their sills 2 × 1.81 = 3.62 m, joined: 1.51, 2 more.
    """
    ledger = estimate(of_opening(number=2, closer=100))
    assert net(ledger)["closers"] == pytest.approx(4.8)
    assert net(ledger)["jamb_dpc"] == 0
    assert bought(ledger, "CLOSER")["packs"] == 4


@pytest.mark.parametrize(
    ("kind", "closer", "jamb_dpc", "sills"),
    [
        ("window", 100, None, 2.4),  # two of 1.2 m
        ("raised door", 100, None, 2.4),
        ("level-access door", 100, None, 0),  # a threshold tray lies there
        ("window", 100, 150, 0),  # closed by a DPC
        ("window", None, None, 0),
    ],
)
def test_a_cavity_is_closed_below_its_sill_too(
    kind: str, closer: float | None, jamb_dpc: float | None, sills: float
) -> None:
    job = of_opening(kind=kind, number=2, width=1.2, lintel=1.5, height=1.2, closer=closer,
                     jamb_dpc=jamb_dpc)  # fmt: skip
    assert net(estimate(job))["sill_closers"] == pytest.approx(sills)


def test_closers_below_a_wide_sill_are_joined() -> None:
    """A window of 3 m: two jambs of 1.2 from one length of 2.4; 3.0 / 2.4 = 1.25: two more."""
    job = of_opening(width=3, lintel=3.3, height=1.2, closer=100)
    ledger = estimate(job)
    closer = next(n for n, b in enumerate(ledger.rows["book"], 1) if b["code"] == "CLOSER")
    assert ledger.figure("book", closer, "packs") == 3


def test_what_is_left_of_the_closers_shows() -> None:
    """1.3 m high: one piece to a length of 2.4: 4 lengths hold 9.6 m, 5.2 laid, 4.4 left over."""
    ledger = estimate(of_opening(kind=DOOR, number=2, height=1.3, closer=100))
    found = bought(ledger, "CLOSER")
    assert found["packs"] == 4
    assert (found["laid"], found["left"]) == pytest.approx((5.2, 4.4))


def test_closers_carry_no_wastage_even_when_it_is_switched_on() -> None:
    """4 pieces of 1.2 m from 2 lengths; 50 % of nothing that is joined: a door has no sill."""
    job = replace(of_opening(kind=DOOR, number=2, closer=100), wastage={SUPPLIER: {"closer": 50}},
                  wastage_applies={"closer": 1})  # fmt: skip
    assert bought(estimate(job), "CLOSER")["packs"] == 2


def test_a_jamb_dpc_is_bought_and_the_closer_only_places_the_tray() -> None:
    """2 x 2 x 1.2 = 4.8 m of DPC; the tray: 1.81 + 2 x (0.100 + 0.025) = 2.06, the lintel 2.10."""
    ledger = estimate(of_opening(number=2, closer=100, jamb_dpc=150))
    assert net(ledger)["closers"] == 0
    assert net(ledger)["jamb_dpc"] == pytest.approx(4.8)


def test_a_closer_is_at_least_as_wide_as_the_cavity() -> None:
    """A cavity of 125 is not closed by 100; one longer than its stock length is refused too.

    Neither at the jambs nor below the sill.
    """
    wide = bare_job(walls=[wall("W1", 20, cavity=125)], openings=[opening("O1", "W1", closer=50)])
    assert estimate(wide).cell("needs_uncovered") == 2
    assert estimate(of_opening(closer=100, height=2.5)).cell("needs_uncovered") == 1
    assert estimate(of_opening(closer=100, height=2.4)).cell("needs_uncovered") == 0


def test_the_narrowest_closer_that_covers_is_taken() -> None:
    """A cavity of 50, closers of 65 or 100, the 65 dearer: one for the jambs, one for the sill."""
    stock = [*STOCK, product("C65", "closer", price=30, width=65, length=2.4)]
    run = wall("W1", 5, cavity=50)
    job = bare_job(walls=[run], openings=[opening("O1", "W1", closer=50)], book=stock)
    ledger = estimate(job)
    assert bought(ledger, "C65")["packs"] == 2
    assert bought(ledger, "CLOSER")["packs"] == 0


# ---- openings ------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["meter box", "flue or duct"])
def test_small_openings_have_a_small_tray_and_the_fewest_weeps(kind: str) -> None:
    """0.45 m, no lintel: tray 0.45 + 2 x 0.025 = 0.5; (500 - 450) / 450, up to 1; 1 + 1 = 2."""
    job = replace(of_opening(kind=kind, width=0.45, lintel=None), override={"tray_past_opening": 0})
    ledger = estimate(job)
    found = net(ledger)
    assert found["trays"] == pytest.approx(0.5)
    assert (found["stop_ends"], found["inserts"]) == (2, 2)
    assert (found["sill_dpc"], found["jamb_dpc"], found["closers"]) == (0, 0, 0)


def test_a_lintel_that_forms_the_tray() -> None:
    """2.1 m lintel, 150 past it: 2.4 m of tray nil; stop ends 2; weeps 6 as over any 2.4 m."""
    found = net(estimate(of_opening(lintel_tray="yes")))
    assert (found["trays"], found["stop_ends"], found["inserts"]) == (0, 2, 6)


def test_a_lintel_that_forms_the_tray_has_a_length() -> None:
    with pytest.raises(JobError, match="lintel_m"):
        of_opening(lintel_tray="yes", lintel=None)
    job = of_opening()
    rows = [{**job.rows["openings"][0], "lintel_tray": "yes", "lintel": None}]
    ledger = estimate(replace(job, rows={**job.rows, "openings": rows}))
    assert ledger.cell("openings_disagree") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_a_level_threshold() -> None:
    """Two doors of 2.4 m: 2 x 2.7 = 5.4 m net; ends 4 x 0.075 = 0.3; channel 2 x 2.4 = 4.8 m.

    Width 102.5 + 100 + 75 = 277.5: the 450 roll. The channel is by others and is not bought.
    """
    job = of_opening(kind="level-access door", number=2, width=2.4, lintel=2.7, height=2.1)
    ledger = estimate(job)
    found = net(ledger)
    assert found["threshold_trays"] == pytest.approx(5.4)
    laps = dict(zip(ledger.column("lines", "key"), ledger.column("lines", "laps"), strict=True))
    assert laps["threshold_trays"] == pytest.approx(0.3)
    assert found["channels"] == pytest.approx(4.8)
    assert found["sill_dpc"] == 0
    assert bought(ledger, "CHANNEL")["packs"] == 0
    scope = ledger.column("scope_lines", "counted")
    assert "Drainage channels at thresholds" in scope


def test_threshold_trays_cut_in_one_piece() -> None:
    """Seven thresholds of 2.85 m with their turn-ups, two from a 6 m roll of 300: 4 rolls.

    Net they are 7 x 2.7 = 18.9 m, which would be 7 pieces of 2.7 but only 6.6 of 2.85: seven are
    cut. The 3.0 m head trays need a 450 roll: (2.7 + 0.3), six to a roll of 20 m: 2 rolls.
    """
    stock = [*STOCK, product("T300", "tray_roll", width=300, length=6)]
    door = {"kind": "level-access door", "number": 7, "width": 2.4, "lintel": 2.7, "height": 2.1}
    job = bare_job(walls=[wall("W1", 40)], openings=[opening("O1", "W1", **door)], book=stock)
    ledger = estimate(given(job, tray_joints="one piece"))
    assert bought(ledger, "T300")["packs"] == 4
    assert bought(ledger, "TRAY450")["packs"] == 2


# ---- walls ---------------------------------------------------------------------------------


def laps(ledger: Ledger) -> Mapping[str, float]:
    """What each line adds to its net: laps and turn-ups."""
    return dict(zip(ledger.column("lines", "key"), ledger.column("lines", "laps"), strict=True))


def of_wall(length: float = 7.2, **given: Any) -> Job:
    return bare_job(walls=[wall("W1", length, **given)])


def test_steps_by_laps_and_by_units() -> None:
    """Two steps of 150: each leaf gains 2 x (0.150 + 2 x 0.100) = 0.7 m, or one unit each: 4."""
    ledger = estimate(of_wall(steps=2, step_rise=150))
    assert laps(ledger)["outer_dpc"] == pytest.approx(0.7)
    assert laps(ledger)["inner_dpc"] == pytest.approx(0.7)
    assert net(ledger)["dpc_step_units"] == 0
    ledger = estimate(of_wall(steps=2, step_rise=150, step_by="preformed"))
    assert laps(ledger)["outer_dpc"] == laps(ledger)["inner_dpc"] == 0
    assert bought(ledger, "DPCSTEP")["packs"] == 4


def test_a_solid_wall_steps_in_one_leaf() -> None:
    ledger = estimate(of_wall(cavity=0, inner_leaf=0, steps=1, step_rise=75))
    assert laps(ledger)["outer_dpc"] == pytest.approx(0.275)
    assert laps(ledger)["inner_dpc"] == 0


def test_junctions_lap_by_the_full_width_in_both_leaves() -> None:
    """Two junctions, DPC of 112.5 outside and 100 inside: 0.225 m and 0.2 m."""
    ledger = estimate(of_wall(junctions=2))
    assert laps(ledger)["outer_dpc"] == pytest.approx(0.225)
    assert laps(ledger)["inner_dpc"] == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("measured_on", "ends", "outer"),
    [
        # 5 m on the centre line of 302.5; at each T-junction half of the wall met, 302.5 / 2
        ("centre", 1, 4.84875),
        ("centre", 2, 4.6975),
        ("centre", None, 5),
        # on a face line, to the face of the wall met
        ("outside face", 2, 5),
    ],
)
def test_a_centre_line_stops_at_the_face_of_the_wall_it_meets(
    measured_on: str, ends: int | None, outer: float
) -> None:
    met = 302.5 if ends else None
    ledger = estimate(of_wall(5, measured_on=measured_on, ends_at_new=ends, met_thickness=met))
    assert ledger.figure("walls", 1, "outer_length") == pytest.approx(outer)
    assert ledger.figure("walls", 1, "inner_length") == pytest.approx(outer)


REFUSED_WALLS: list[dict[str, Any]] = [
    {"ends_at_new": 1},
    {"met_thickness": 302.5},
    {"ends_at_existing": 1, "ends_at_new": 2, "met_thickness": 302.5},
    {"run": "closed", "external_corners": 4, "ends_at_new": 1, "met_thickness": 302.5},
    {"steps": 1},
    {"step_rise": 150},
    {"steps": 0, "step_rise": 150},
    {"cavity": 0, "inner_leaf": 0, "base_tray": "yes"},
    {"cavity": 0, "inner_leaf": 0, "inner_of": "timber frame"},
]


@pytest.mark.parametrize("wrong", REFUSED_WALLS, ids=str)
def test_a_wall_that_says_two_things_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(JobError, match=r"walls\[1\]\.(step_rise_mm|cavity_mm|ends_at_new)"):
        of_wall(**wrong)
    job = of_wall()
    changed = replace(job, rows={**job.rows, "walls": [{**job.rows["walls"][0], **wrong}]})
    ledger = estimate(changed)
    assert ledger.cell("walls_disagree") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_a_timber_frame_of_7_2_metres() -> None:
    """Issue 4: max(6, 6) = 6 open perpends at the sole plate; with a tray at DPC level 12."""

    def perpends(**given: Any) -> tuple[float, float]:
        ledger = estimate(of_wall(inner_leaf=140, inner_of="timber frame", **given))
        at = ledger.column("measures", "key").index("frame_perpends") + 1
        return ledger.figure("measures", at, "measured"), net(ledger)["base_inserts"]

    assert perpends() == (6, 0)
    assert perpends(base_tray="yes") == (12, 0)
    ledger = estimate(of_wall(inner_leaf=140, inner_of="timber frame"))
    assert net(ledger)["inner_dpc"] == 7.2
    assert bought(ledger, "DPC150")["packs"] == 1, "as wide as a plate of 140"


def test_a_tray_at_dpc_level() -> None:
    """7.2 m on the outside face, two external corners; outer leaf 7.2 - 2 x 0.05125 x 2 = 6.995.

    Corners lap by the roll's 450: 0.9 m. Weeps at 450: (6995 - 450) / 450 = 14.5, up to 15; 16.
    """
    ledger = estimate(of_wall(base_tray="yes", external_corners=2))
    found = net(ledger)
    assert found["base_trays"] == pytest.approx(6.995)
    assert laps(ledger)["base_trays"] == pytest.approx(0.9)
    assert (found["base_stop_ends"], found["base_inserts"], found["base_vents"]) == (2, 16, 0)
    assert net(estimate(of_wall(base_tray="no")))["base_trays"] == 0


def test_a_closed_tray_at_dpc_level_has_no_end() -> None:
    """20.41 m, outer leaf 20.41 - 8 x 0.05125 = 20.0 m: 20000 / 450 = 44.4, up to 45 weeps."""
    job = of_wall(20.41, run="closed", external_corners=4, base_tray="yes")
    found = net(estimate(job))
    assert found["base_trays"] == pytest.approx(20)
    assert (found["base_stop_ends"], found["base_inserts"]) == (0, 45)


@pytest.mark.parametrize("typed", [None, "no", "yes"])
def test_a_radon_area_asks_for_the_low_tray(typed: str | None) -> None:
    """Every cavity wall, whatever is typed; a solid wall has no cavity to cross."""
    solid = wall("W2", 4, outer_leaf=215, cavity=0, inner_leaf=0)
    job = bare_job(walls=[wall("W1", 7.2, base_tray=typed), solid])
    assert net(estimate(given(job, radon_area="yes")))["base_trays"] == 7.2
    expected = 7.2 if typed == "yes" else 0
    assert net(estimate(given(job, radon_area="no")))["base_trays"] == expected


def test_trays_that_go_round_corners_are_joined_even_where_trays_are_cut_in_one_piece() -> None:
    """30 m at DPC level from 20 m rolls, lap 100: (30 - 0.1) / 19.9 = 1.5, 2 rolls.

    And one head tray of 2.1 + 0.3 = 2.4 m in one piece: 1 roll more. Laid 30 + 0.1 + 2.4.
    """
    job = bare_job(walls=[wall("W1", 30, base_tray="yes")], openings=[opening("O1", "W1")])
    found = bought(estimate(given(job, tray_joints="one piece")), "TRAY450")
    assert found["packs"] == 3
    assert found["laid"] == pytest.approx(32.5)


def test_blocks_set_the_weeps_and_the_steps_of_their_wall() -> None:
    """Blocks of 450 x 225. A limit of 700 is built at 450, in the brick wall at 675.

    A level roof of 3.6 m: (3600 - 450) / 450 = 7, 8 weeps; in brick (3600 - 450) / 675 = 4.7: 6.
    A slope of 3.6 m at 45 degrees climbs 3600: 16 courses of 225, 48 of 75.
    """
    walls = [wall("W1", 9, course=225, unit=450), wall("W2", 9)]
    roofs = [
        row("abutments", mark=f"{kind[0]}{w}", wall=w, kind=kind, number=1, length=3.6, pitch=45)
        for kind in ("level", "one slope")
        for w in ("W1", "W2")
    ]
    ledger = estimate(
        replace(bare_job(walls=walls, abutments=roofs), override={"weep_spacing": 700})
    )
    assert ledger.column("abutments", "weeps") == [8, 6, 1, 1]
    assert ledger.column("abutments", "units_each") == [0, 0, 16, 48]


def test_an_abutment_may_have_a_course_of_its_own() -> None:
    """3600 / 150 = 24, though its wall is built in 225."""
    roof = row("abutments", mark="R", wall="W1", kind="one slope", number=1, length=3.6, pitch=45,
               course=150)  # fmt: skip
    ledger = estimate(bare_job(walls=[wall("W1", 9, course=225)], abutments=[roof]))
    assert ledger.figure("abutments", 1, "units_each") == 24


def test_a_limit_below_the_block_is_refused() -> None:
    """Weeps no further than 225 apart cannot be built in blocks of 450."""
    job = replace(of_wall(unit=450), override={"weep_spacing": 225})
    ledger = estimate(job)
    assert ledger.cell("weeps_unbuildable") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert estimate(replace(job, override={"weep_spacing": 450})).cell("weeps_unbuildable") == 0


# ---- preformed tray units ------------------------------------------------------------------


def roof(mark: str = "R1", **given: Any) -> dict[str, Any]:
    usual = {"kind": "level", "number": 1, "length": 7.0}
    return row("abutments", mark=mark, wall="W1", **{**usual, **given})


def unit(mark: str, kind: str, **given: Any) -> dict[str, Any]:
    usual = {"abutment": "R1", "number": 1, "leg": 225}
    return row("tray_units", mark=mark, kind=kind, **{**usual, **given})


def of_roof(*units: Any, **given: Any) -> Job:
    return bare_job(walls=[wall("W1", 9)], abutments=[roof(**given)], tray_units=units)


def test_a_wrap_around_tray() -> None:
    """Issue 4: 5.0 + 2.0 m with 225 legs: 6.55 m straight, one corner unit, two stop ends.

    Laid 6.55 + 2 laps of 0.1 = 6.75. Weeps along all of it: (7000 - 450) / 450 = 14.6: 16.
    """
    ledger = estimate(of_roof(unit("U1", "corner")))
    found = net(ledger)
    assert found["roof_trays"] == pytest.approx(6.55)
    assert bought(ledger, "TRAY450")["laid"] == pytest.approx(6.75)
    assert (found["corner_units"], found["roof_stop_ends"], found["roof_inserts"]) == (1, 2, 16)
    assert found["junction_units"] == found["level_step_units"] == found["penetration_units"] == 0


def test_every_kind_of_unit_is_bought_for_every_tray() -> None:
    """Two trays, each with a T-junction (3 legs), two steps and a penetration (2 each): 9 legs.

    9 x 0.225 = 2.025; straight 2 x (7 - 2.025) = 9.95; laps 2 x 9 x 0.1 = 1.8. Ends 2 x (2 + 1).
    """
    ledger = estimate(
        of_roof(
            unit("U1", "T-junction"),
            unit("U2", "level step", number=2),
            unit("U3", "penetration"),
            number=2,
        )
    )
    found = net(ledger)
    assert found["roof_trays"] == pytest.approx(9.95)
    assert laps(ledger)["roof_trays"] == pytest.approx(1.8)
    kinds = ("corner_units", "junction_units", "level_step_units", "penetration_units")
    assert [found[k] for k in kinds] == [0, 2, 4, 2]
    assert found["roof_stop_ends"] == 6


def test_units_count_in_trays_cut_in_one_piece() -> None:
    """Three trays of 6.55 + 0.2 = 6.75 m, two to a roll of 20: 2 rolls."""
    job = given(of_roof(unit("U1", "corner"), number=3), tray_joints="one piece")
    assert bought(estimate(job), "TRAY450")["packs"] == 2


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"tray_units": [unit("U1", "corner", number=16)]}, r"tray_units\[1\]\.leg_mm"),
        (
            {
                "tray_units": [unit("U1", "corner")],
                "abutments": [roof(kind="one slope", pitch=30)],
            },
            r"tray_units\[1\]\.abutment",
        ),
    ],
    ids=["16 corners of 0.45 m are 7.2 m", "a slope"],
)
def test_more_legs_than_tray_is_refused(changed: dict[str, Any], said: str) -> None:
    job = of_roof()
    with pytest.raises(JobError, match=said):
        bare_job(**{**job.rows, **changed})
    ledger = estimate(replace(job, rows={**job.rows, **changed}))
    assert ledger.cell("abutments_disagree") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_a_solid_wall_takes_no_unit() -> None:
    """No tray to stand in; the abutment says whose detail it is."""
    solid = wall("W1", 9, outer_leaf=215, cavity=0, inner_leaf=0)
    job = bare_job(walls=[solid], abutments=[roof()], tray_units=[unit("U1", "corner")])
    assert net(estimate(job))["corner_units"] == 0


# ---- parapets ------------------------------------------------------------------------------


def of_parapet(length: float = 8.0, corners: int = 2, ends: int = 2, **walled: Any) -> Job:
    parapet = row("parapets", mark="K1", wall="W1", length=length, corners=corners, ends=ends)
    return bare_job(walls=[wall("W1", 9, **walled)], parapets=[parapet])


def test_a_parapet() -> None:
    """8 m, two corners, two ends, on a wall 302.5 wide: DPC and tray both from the 450 roll.

    Each 8 m net and 2 x 0.45 laps; held over the cavity 8 m, by others; weeps at 450:
    (8000 - 450) / 450 = 16.8, up to 17; 18. Stop ends 2.
    """
    ledger = estimate(of_parapet())
    found = net(ledger)
    assert (found["copings"], found["coping_supports"], found["parapet_trays"]) == (8, 8, 8)
    assert laps(ledger)["copings"] == laps(ledger)["parapet_trays"] == pytest.approx(0.9)
    assert (found["parapet_stop_ends"], found["parapet_inserts"]) == (2, 18)
    # 16 + 1.8 = 17.8 m: one roll of 20 m. The supports are not bought here.
    assert bought(ledger, "TRAY450")["packs"] == 1
    assert bought(ledger, "SUPPORT")["packs"] == 0


@pytest.mark.parametrize(("cavity", "uncovered"), [(200, 0), (210, 1)])
def test_a_coping_dpc_is_as_wide_as_the_wall(cavity: float, uncovered: int) -> None:
    """102.5 + 200 + 140 = 442.5 comes from the 450 roll; 452.5 from none that is stocked."""
    ledger = estimate(of_parapet(cavity=cavity, inner_leaf=140))
    at = ledger.column("lines", "key").index("copings") + 1
    assert ledger.figure("lines", at, "uncovered") == uncovered


def test_a_parapet_that_closes() -> None:
    """9 m round: 9000 / 450 = 20 weeps, no stop end."""
    found = net(estimate(of_parapet(9.0, corners=4, ends=0)))
    assert (found["parapet_stop_ends"], found["parapet_inserts"]) == (0, 20)


def test_a_solid_parapet_has_a_coping_dpc_and_no_tray() -> None:
    ledger = estimate(of_parapet(outer_leaf=215, cavity=0, inner_leaf=0))
    found = net(ledger)
    assert found["copings"] == 8
    assert found["coping_supports"] == found["parapet_trays"] == found["parapet_stop_ends"] == 0
    assert found["parapet_inserts"] == 0
    assert "designer's detail" in ledger.figure("parapets", 1, "note")


def test_every_weep_that_is_an_open_perpend_is_counted_for_site() -> None:
    """Parapet 18, and 7.2 m of base tray on another wall: (7200 - 450) / 450 = 15; 16: 34."""
    job = of_parapet()
    walls = [*job.rows["walls"], wall("W2", 7.2, base_tray="yes")]
    job = given(replace(job, rows={**job.rows, "walls": walls}), weep_kind="open perpends")
    ledger = estimate(job)
    assert ledger.cell("open_perpends") == 34
    assert net(ledger)["parapet_inserts"] == net(ledger)["base_inserts"] == 0


# ---- flashings -----------------------------------------------------------------------------


def test_flashings_are_counted_and_left_to_others() -> None:
    """A level roof of 7 m: 5 pieces of lead, 7 m of sealant.

    Two pairs of slopes, 3 m on plan, rising 4 m: 5 m up each: (5000 - 100) / 1400 = 3.5, up to 4
    pieces, 4 runs, 16; sealant 20 m; soakers at 100: 50 to a slope, 200.
    """
    slopes = roof("R2", kind="two slopes meeting", number=2, length=3, pitch=53.130102354,
                  tile_gauge=100)  # fmt: skip
    ledger = estimate(bare_job(walls=[wall("W1", 9)], abutments=[roof(), slopes]))
    found = net(ledger)
    assert found["lead"] == 5 + 16
    assert found["flashing_sealant"] == pytest.approx(27)
    assert found["soakers"] == 200
    for code in ("LEAD", "SOAKER", "SEALANT"):
        assert bought(ledger, code)["packs"] == 0
    scope = ledger.column("scope_lines", "counted")
    assert {"Lead flashing over trays", "Soakers up slopes", "Sealant to flashings"} <= {*scope}


def test_flashings_of_a_solid_wall_are_counted_too() -> None:
    solid = wall("W1", 9, outer_leaf=215, cavity=0, inner_leaf=0)
    found = net(estimate(bare_job(walls=[solid], abutments=[roof()])))
    assert (found["lead"], found["roof_trays"]) == (5, 0)


def test_flashings_are_bought_when_the_job_says_so() -> None:
    """7 m along a level roof: 5 pieces; as a firm line they are ordered like anything else."""
    job = replace(of_roof(), line_status={"lead": "firm"})
    assert bought(estimate(job), "LEAD")["packs"] == 5


@pytest.mark.parametrize("trays", ["joined", "one piece"])
def test_the_whole_list_from_one_supplier_is_its_order(trays: str) -> None:
    """Pieces and joined lengths of one roll, closers and turn-ups: both sums are the same order."""
    job = bare_job(
        walls=[wall("W1", 40, base_tray="yes", external_corners=2, steps=1, step_rise=150)],
        openings=[
            opening("O1", "W1", number=7, closer=100),
            opening("O2", "W1", kind="level-access door", number=3, jamb_dpc=150),
        ],
        abutments=[roof(number=3)],
        tray_units=[unit("U1", "corner")],
        parapets=[row("parapets", mark="K1", wall="W1", length=8, corners=1, ends=2)],
    )
    ledger = estimate(given(job, tray_joints=trays))
    assert ledger.figure("suppliers", 1, "all_total") == ledger.cell("cost_total") > 0


def test_lines_stand_stage_by_stage() -> None:
    """The first need of a demand says in which stage it is first used."""
    stages = [line.stage for line in LINES]
    assert stages == sorted(stages)


def test_what_is_asked_by_width_is_ranked_by_width() -> None:
    """The narrowest product that covers a demand is sought among those of its material alone."""
    sized = {str(m["key"]): m["sized"] for m in MATERIAL_ROWS}
    assert {line.key for line in LINES if line.width and not sized[line.material]} == set()
