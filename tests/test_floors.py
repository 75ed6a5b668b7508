"""Floors as built: every build-up, what is laid with it, what ventilates it, and what is refused."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import STOCK, SUPPLIER, bare_job, edge, product, row, wall, zone

ABOVE = "slab on DPM, insulation above"
BELOW = "slab on DPM, insulation below"
SCREED = "screed on DPM"
SANDWICH = "insulation and screed on DPM"
BEAMS = "beam and block"
TIMBER = "suspended timber, concrete oversite"
TIMBER_ON_SHEET = "suspended timber, oversite on sheet"
WITHOUT_SHEET = (BEAMS, TIMBER)
NEW = {"kind": "new wall", "dpc_level": -0.15}
OLD = {"kind": "existing wall, DPC unknown", "typed_turn_up": 150}
ALL_ROUND = dict.fromkeys(("A1", "A2", "B1", "B2"), NEW)


def floor(
    build_up: str,
    a: float = 6,
    b: float = 4,
    *,
    sides: dict[str, dict[str, Any]] | None = None,
    features: Sequence[dict[str, Any]] = (),
    book: Any = STOCK,
    wastage: dict[str, float] | None = None,
    **given: Any,
) -> Job:
    """One zone, its formation 750 below its finished floor, new walls on all sides."""
    if "suspended" in build_up or build_up == BEAMS:
        given.setdefault("free_area", 4000)
    if build_up == TIMBER:
        given.setdefault("void", 225)
    edges = [
        edge(f"E{s}", "Z1", s, a if s[0] == "A" else b, **kind)
        for s, kind in (sides or ALL_ROUND).items()
    ]
    job = bare_job(
        zones=[zone("Z1", a, b, build_up=build_up, formation_level=-0.75, **given)],
        edges=edges,
        floor_features=list(features),
        book=book,
    )
    return replace(job, wastage={SUPPLIER: wastage or {}})


def feature(kind: str, **given: Any) -> dict[str, Any]:
    given.setdefault("number", 1)
    return row("floor_features", mark="F1", zone="Z1", kind=kind, **given)


def net(ledger: Ledger, line: str) -> Any:
    return ledger.figure("lines", ledger.column("lines", "key").index(line) + 1, "net")


def packs(ledger: Ledger, code: str) -> Any:
    return ledger.figure("book", ledger.column("book", "code").index(code) + 1, "packs")


def measured(ledger: Ledger, key: str) -> Any:
    return ledger.figure("measures", ledger.column("measures", "key").index(key) + 1, "measured")


# Screed 65, insulation 120, slab 150: 335 in all. Formation 750 down, blinding 50, 24 m².
# build-up, level of DPM, hardcore, void, blinding in m³, each worked by hand:
BUILT = [
    # 0.065 + 0.120 + 0.150; 750 - 335 - 50; 24 × 0.05
    (ABOVE, -0.335, 365, 0, 1.2),
    # insulation under the sheet: 0.065 + 0.150; all layers still lie above the hardcore
    (BELOW, -0.215, 365, 0, 1.2),
    # sheet on the slab: no blinding, so 750 - 335
    (SCREED, -0.065, 415, 0, 0),
    (SANDWICH, -0.185, 415, 0, 0),
    # no sheet, no hardcore: 750 - 335 is void
    (BEAMS, 0, 0, 415, 0),
    # 100 oversite and 225 of void typed: 750 - 335 - 100 - 225
    (TIMBER, 0, 90, 225, 0),
    # 50 oversite and a 50 bed: 750 - 335 - 50 - 50 is void; sheet at -0.750 + 0.050
    (TIMBER_ON_SHEET, -0.7, 0, 315, 1.2),
]


@pytest.mark.parametrize(
    ("build_up", "level", "hardcore", "void", "blinding"), BUILT, ids=[b[0] for b in BUILT]
)
def test_levels_and_depths(
    build_up: str, level: float, hardcore: float, void: float, blinding: float
) -> None:
    ledger = estimate(floor(build_up))
    names = ("dpm_level", "hardcore_depth", "void_depth", "blinding_volume")
    found = [ledger.figure("zones", 1, n) for n in names]
    assert found == pytest.approx([level, hardcore, void, blinding])
    assert ledger.figure("zones", 1, "levels_agree") == 1
    assert ledger.cell("quote_total") is not NOT_AVAILABLE


@pytest.mark.parametrize("build_up", [b[0] for b in BUILT])
def test_one_millimetre_too_high_is_refused(build_up: str) -> None:
    """What is laid: 335, and blinding 50, or oversite 100 and void 225, or oversite 50 and bed 50."""
    depth = {ABOVE: 385, BELOW: 385, TIMBER: 660, TIMBER_ON_SHEET: 435}.get(build_up, 335)
    for more, refused in ((0, 0), (-1, 1)):
        job = floor(build_up)
        lifted = {**job.rows["zones"][0], "formation_level": -(depth + more) / 1000}
        ledger = estimate(replace(job, rows={**job.rows, "zones": [lifted]}))
        assert ledger.cell("levels_disagree") == refused


@pytest.mark.parametrize("build_up", WITHOUT_SHEET)
def test_a_floor_without_a_sheet_takes_no_sheet_tape_or_collar(build_up: str) -> None:
    pipe = row("penetrations", mark="P1", zone="Z1", number=2, diameter=110)
    job = floor(build_up, features=[feature("pier", number=3)])
    ledger = estimate(replace(job, rows={**job.rows, "penetrations": [pipe]}))
    lines = ("dpm", "lap_tape", "bond_tape", "over_tape", "seal_tape", "collars", "collar_tape",
             "patches", "blinding")  # fmt: skip
    assert [net(ledger, line) for line in lines] == [0] * len(lines)
    assert set(ledger.column("layouts", "roll_metres")) == {0}
    assert ledger.column("edges", "turn_up") == [0] * 4
    assert ledger.column("edges", "loose_end") == [0] * 4
    # The same pipe, piers and walls on a sheet: 24 m², 2 collars, 3 patches, 20 m of bond.
    sheeted = estimate(replace(floor(ABOVE, features=[feature("pier", number=3)]),
                               rows={**job.rows, "penetrations": [pipe],
                                     "zones": floor(ABOVE).rows["zones"]}))  # fmt: skip
    found = [net(sheeted, line) for line in ("dpm", "collars", "patches", "bond_tape")]
    assert found == pytest.approx([24, 2, 3, 20])


def test_edges_need_no_dpc_level_where_no_sheet_meets_one() -> None:
    bare = {s: {"kind": "new wall"} for s in ALL_ROUND}
    for build_up in (*WITHOUT_SHEET, TIMBER_ON_SHEET):
        assert estimate(floor(build_up, sides=bare)).cell("turn_ups_missing") == 0
    with pytest.raises(JobError, match=r"dpc_level_m"):
        floor(ABOVE, sides=bare)


def test_a_sheet_under_an_oversite_turns_up_to_its_top() -> None:
    """Oversite 50: 6 + 2 × 0.05 by 4 + 0.05 + 0.15 where one side is typed; bonded to no DPC."""
    sides = {**ALL_ROUND, "A1": {**NEW, "typed_turn_up": 150}, "B2": OLD | {"typed_turn_up": None}}
    ledger = estimate(floor(TIMBER_ON_SHEET, sides=sides))
    assert ledger.column("edges", "turn_up") == [150, 50, 50, 50]
    assert ledger.figure("zones", 1, "sheet_a") == pytest.approx(6.1)
    assert ledger.figure("zones", 1, "sheet_b") == pytest.approx(4.2)
    assert net(ledger, "bond_tape") == 0
    assert net(ledger, "seal_tape") == 4  # B2, an old wall


def test_a_joint_between_a_sheet_and_none_is_refused() -> None:
    joint = {"kind": "joint", "joins": "Z2"}
    sides = {**ALL_ROUND, "A1": joint}
    for other, refused in ((ABOVE, 0), (BEAMS, 2)):
        first = zone("Z1", 6, 4, build_up=ABOVE)
        second = zone("Z2", 6, 4, build_up=other, free_area=4000)
        edges = [
            edge(f"E{z}{s}", z, s, 6 if s[0] == "A" else 4, **k)
            for z, kinds in (("Z1", sides), ("Z2", {**ALL_ROUND, "A1": {**joint, "joins": "Z1"}}))
            for s, k in kinds.items()
        ]
        ledger = estimate(bare_job(zones=[first, second], edges=edges))
        assert ledger.cell("edges_disagree") == refused


def test_tape_across_strips_is_carried_by_the_first_zone_with_a_sheet() -> None:
    """20 m of a 4 m roll of 8 m, joined across: (20 - 0.3) / 7.7 = 2.56, 3 rolls, 2 joints of 4 m."""
    stock = [p for p in STOCK if p["material"] != "dpm_sheet"]
    stock.append(product("S8", "dpm_sheet", width=4000, length=8))
    job = floor(ABOVE, 20, 3.4, sides={s: {"kind": "free"} for s in ALL_ROUND}, book=stock)
    beams = zone("Z0", 3, 2, build_up=BEAMS, free_area=4000)
    edges = [edge(f"B{s}", "Z0", s, 3 if s[0] == "A" else 2, **NEW) for s in ALL_ROUND]
    rows = {**job.rows, "zones": [beams, *job.rows["zones"]], "edges": [*edges, *job.rows["edges"]]}
    crossed = {**job.particulars, "sheet_joints": "cross joints"}
    ledger = estimate(replace(job, rows=rows, particulars=crossed))
    assert ledger.column("zones", "lapped") == pytest.approx([0, 8])


# ---- what is laid with the floor ---------------------------------------------------------------


def test_separating_layer_is_bought_by_cover() -> None:
    """15 × 12 = 180 m²; 15 % for laps and loss: 207 m²; rolls of 2 × 50 m cover 100: 3."""
    job = floor(ABOVE, 15, 12, separating_layer="yes", wastage={"separating_layer": 15})
    ledger = estimate(job)
    assert net(ledger, "separating_layer") == 180
    assert packs(ledger, "SEPARATE") == 3
    # 11 % makes 199.8, which two rolls cover.
    assert (
        packs(estimate(replace(job, wastage={SUPPLIER: {"separating_layer": 11}})), "SEPARATE") == 2
    )
    for answer in (None, "no"):
        assert net(estimate(floor(ABOVE, separating_layer=answer)), "separating_layer") == 0


def test_cover_without_wastage_would_be_without_laps() -> None:
    ledger = estimate(floor(ABOVE, separating_layer="yes"))
    assert ledger.cell("laps_uncovered") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert estimate(floor(ABOVE)).cell("laps_uncovered") == 0


def test_perimeter_strip_runs_along_walls_and_is_by_others() -> None:
    """A1 6 m and B1 4 m new, B2 4 m old, A2 a partition: 14 m."""
    sides = {"A1": NEW, "A2": {"kind": "partition"}, "B1": NEW, "B2": OLD}
    ledger = estimate(floor(SCREED, sides=sides))
    assert measured(ledger, "perimeter_strip") == 14
    assert packs(ledger, "STRIP") == 0
    assert "Perimeter strip to slab edge" in ledger.column("scope_lines", "counted")
    assert measured(estimate(floor(BEAMS, sides=sides)), "perimeter_strip") == 14
    assert measured(estimate(floor(TIMBER, sides=sides)), "perimeter_strip") == 0


@pytest.mark.parametrize(
    ("build_up", "volume"), [(TIMBER, 2.4), (TIMBER_ON_SHEET, 1.2), (BEAMS, 0), (ABOVE, 0)]
)
def test_oversite_concrete(build_up: str, volume: float) -> None:
    """24 m² at 100 mm on hardcore, or 50 mm on sheet (AD C 2004, para 4.14(a), from memory)."""
    ledger = estimate(floor(build_up))
    assert measured(ledger, "oversite") == pytest.approx(volume)
    assert packs(ledger, "CONCRETE") == 0


def test_sleeper_walls_take_dpc_half_a_brick_wide() -> None:
    """102.5 takes the 112.5 roll, not the cheaper 100, and not 150."""
    stock = [product("D100", "dpc_roll", price=1, width=100, length=30), *STOCK]
    ledger = estimate(floor(TIMBER, sleeper_length=11, book=stock))
    assert net(ledger, "sleeper_dpc") == 11
    assert (packs(ledger, "DPC112"), packs(ledger, "D100"), packs(ledger, "DPC150")) == (1, 0, 0)


def test_compaction_layers_over_all_zones() -> None:
    """Layers of 225: 365 takes 2, 265 takes 2; a beam and block floor none."""
    one, two = zone("Z1", 6, 4, formation_level=-0.75), zone("Z2", 6, 4, formation_level=-0.65)
    three = zone("Z3", 6, 4, build_up=BEAMS, free_area=4000)
    edges = [
        edge(f"E{z}{s}", z, s, 6 if s[0] == "A" else 4, **NEW)
        for z in ("Z1", "Z2", "Z3")
        for s in ALL_ROUND
    ]
    ledger = estimate(bare_job(zones=[one, two, three], edges=edges))
    assert measured(ledger, "compaction_layers") == 4


# ---- ventilation -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sides", "run", "area", "bricks"),
    [
        # A1 and A2: 12 m, 18000 against 500 × 24 = 12000; 9000 a side of 4000: 3 and 3
        ({**ALL_ROUND, "B2": OLD}, 12, 18000, 6),
        # B1 and B2: 8 m, 12000 and 12000; 6000 a side: 2 and 2
        ({**ALL_ROUND, "A2": OLD}, 8, 12000, 4),
        # both pairs external: the longer run
        (ALL_ROUND, 12, 18000, 6),
    ],
)
def test_air_bricks_in_two_opposite_sides(
    sides: dict[str, Any], run: float, area: float, bricks: int
) -> None:
    for build_up in (BEAMS, TIMBER, TIMBER_ON_SHEET):
        ledger = estimate(floor(build_up, sides=sides))
        names = ("vent_run", "vent_area", "air_bricks", "unopposed")
        assert [ledger.figure("zones", 1, n) for n in names] == [run, area, bricks, 0]
        assert packs(ledger, "BRICK") == bricks


def test_a_threshold_is_part_of_an_external_side_and_none_by_itself() -> None:
    """A1: 5.1 m of wall and a door of 0.9: 6 m. B1 a threshold alone: not external."""
    job = floor(BEAMS, sides={**ALL_ROUND, "B1": {"kind": "threshold"}, "B2": OLD})
    door = edge("D", "Z1", "A1", 0.9, kind="threshold")
    edges = [{**e, "length": 5.1} if e["side"] == "A1" else e for e in job.rows["edges"]]
    ledger = estimate(replace(job, rows={**job.rows, "edges": [*edges, door]}))
    names = ("external_a_one", "external_a_two", "external_b_one", "vent_run")
    assert [ledger.figure("zones", 1, n) for n in names] == pytest.approx([6, 6, 0, 12])


def test_no_two_opposite_sides_is_a_finding_that_stops() -> None:
    """A1 and B1 outside: 10 m, so 15000 (the floor asks 12000): never low, and provisional."""
    sides = {"A1": NEW, "A2": OLD, "B1": NEW, "B2": OLD}
    ledger = estimate(floor(TIMBER, sides=sides))
    assert ledger.figure("zones", 1, "unopposed") == 1
    assert ledger.figure("zones", 1, "vent_area") == 15000
    assert ledger.cell("document_word") == "Estimate"
    assert estimate(floor(TIMBER)).cell("document_word") == "Quotation"


def test_a_floor_on_the_ground_has_no_air_bricks() -> None:
    ledger = estimate(floor(ABOVE, free_area=4000))
    assert [ledger.figure("zones", 1, n) for n in ("vent_area", "air_bricks")] == [0, 0]


def test_a_ventilated_floor_without_a_free_area_has_no_total() -> None:
    ledger = estimate(floor(BEAMS, free_area=None))
    assert ledger.cell("free_areas_missing") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert estimate(floor(ABOVE)).cell("free_areas_missing") == 0


@pytest.mark.parametrize(
    ("build_up", "void", "refused"),
    [(TIMBER, None, 1), (TIMBER, 225, 0), (BEAMS, 225, 1), (BEAMS, None, 0), (ABOVE, 225, 1)],
)
def test_a_void_is_typed_where_it_must_be_and_only_there(
    build_up: str, void: float | None, refused: int
) -> None:
    ledger = estimate(floor(build_up, void=void))
    assert ledger.cell("voids_disagree") == refused
    assert (ledger.cell("quote_total") is NOT_AVAILABLE) == bool(refused)


# ---- features ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("build_up", "along", "a", "b"),
    [
        # Walls turn up 185 + 100 on each side (DPM at -0.335, DPC at -0.150): 6.57 by 4.57.
        # Two thickenings 150 deep running along A: 2 × 2 × 0.15 = 0.6 more across, along B.
        (ABOVE, "A", 6.57, 5.17),
        (ABOVE, "B", 7.17, 4.57),
        # DPM at -0.065 on the slab: 85 + 100 on each side, and no dip.
        (SCREED, "A", 6.37, 4.37),
    ],
)
def test_the_sheet_dips_under_a_thickening(build_up: str, along: str, a: float, b: float) -> None:
    beams = feature("thickening", along=along, number=2, depth=150)
    ledger = estimate(floor(build_up, features=[beams]))
    assert ledger.figure("zones", 1, "sheet_a") == pytest.approx(a)
    assert ledger.figure("zones", 1, "sheet_b") == pytest.approx(b)


@pytest.mark.parametrize(("width", "roll"), [(100, "DPC100"), (140, "DPC150")])
def test_a_partition_takes_dpc_at_its_full_width(width: float, roll: str) -> None:
    """Two partitions of 3.2 m: 6.4 m of DPC as wide as they are (NHBC 2020, 6.1.17, Table 9)."""
    partition = feature("partition off the slab", number=2, length=3.2, width=width)
    ledger = estimate(floor(ABOVE, features=[partition]))
    assert net(ledger, "partition_dpc") == pytest.approx(6.4)
    assert packs(ledger, roll) == 1


@pytest.mark.parametrize("kind", ["pier", "column", "re-entrant corner"])
def test_a_corner_or_patch_each(kind: str) -> None:
    ledger = estimate(floor(ABOVE, features=[feature(kind, number=3)]))
    assert net(ledger, "patches") == packs(ledger, "PATCH") == 3


@pytest.mark.parametrize(
    ("kind", "whole"),
    [
        ("thickening", {"along": "A", "depth": 150}),
        ("partition off the slab", {"length": 3.2, "width": 100}),
    ],
)
def test_a_feature_without_its_measures_is_refused(kind: str, whole: dict[str, Any]) -> None:
    assert (
        estimate(floor(ABOVE, features=[feature(kind, **whole)])).cell("features_incomplete") == 0
    )
    for left_out in whole:
        job = floor(ABOVE, features=[feature(kind, **{**whole, left_out: None})])
        ledger = estimate(job)
        assert ledger.cell("features_incomplete") == 1
        assert ledger.cell("quote_total") is NOT_AVAILABLE


# ---- checks ------------------------------------------------------------------------------------


def test_checks_of_the_ground_pass_by_a_suspended_floor() -> None:
    """Hardcore 750 - 50 - 100 - 150 deep: 450; the joists are no slab; no sheet, no laps."""
    ledger = estimate(floor(TIMBER, slab=50, screed=0, insulation=0, void=150))
    assert ledger.figure("zones", 1, "hardcore_depth") == 450
    states = dict(
        zip(ledger.column("checks", "key"), ledger.column("checks", "state"), strict=True)
    )
    for check in ("slab", "hardcore_depth", "dpm_lap", "connection", "levels", "blinding"):
        assert states[check] == "not applicable", check
    assert states["hardcore_layers"] == "meets"


def test_walls_are_no_business_of_a_floor_without_zones() -> None:
    ledger = estimate(bare_job(walls=[wall("W1", 5)]))
    states = dict(
        zip(ledger.column("checks", "key"), ledger.column("checks", "state"), strict=True)
    )
    assert {states[c] for c in ("void", "void_to_plate", "cross_ventilation")} == {"not applicable"}


DOOR = {"kind": "threshold", "typed_turn_up": 150}
# build-up, tape to DPC or threshold, strip: 6 × 4 m, one side of 6 m a threshold, the rest walls.
AT_A_THRESHOLD = [
    # round the whole floor, door and all: 2 × (6 + 4) = 20 m of tape, and of strip
    (ABOVE, 20, 20),
    (SCREED, 20, 20),
    # no sheet, so no tape; the strip stands against walls and threshold alike
    (BEAMS, 0, 20),
    # under an oversite the sheet meets no DPC, and there is no edge of a slab or screed
    (TIMBER_ON_SHEET, 0, 0),
]


@pytest.mark.parametrize(("build_up", "tape", "strip"), AT_A_THRESHOLD)
def test_a_threshold_is_bonded_and_has_its_strip(build_up: str, tape: float, strip: float) -> None:
    ledger = estimate(floor(build_up, sides={**ALL_ROUND, "A1": DOOR}))
    assert net(ledger, "bond_tape") == pytest.approx(tape)
    assert net(ledger, "perimeter_strip") == pytest.approx(strip)


def test_a_threshold_without_a_turn_up_stays_loose() -> None:
    """Typed as 0, the sheet ends short of the threshold; 150 reaches it."""
    for turn_up, loose in ((0, 1), (150, 0)):
        ledger = estimate(
            floor(ABOVE, sides={**ALL_ROUND, "A1": {**DOOR, "typed_turn_up": turn_up}})
        )
        assert sum(ledger.column("edges", "loose_end")) == loose


def test_a_floor_without_insulation_has_none() -> None:
    """6 × 4 m: 24 m² with 120 mm of it, and nothing with 0."""
    for depth, area in ((0, 0), (120, 24)):
        assert net(estimate(floor(ABOVE, insulation=depth)), "insulation") == area


def test_the_second_route_multiplies_by_the_loose_density() -> None:
    """Blinding 24 × 0.05 = 1.2 m³, hardcore 24 × 0.365 = 8.76 m³, in place; 20 and 25 % more loose.

    1.2 × 1.20 × 1.6 = 2.304 t; 8.76 × 1.25 × 1.6 = 17.52 t. Of the first route, at 1.9 and 1.94:
    2.28 and 16.9944 t: 1 % and 3 % apart. Loose sand of 1.8 t/m³ is 2.592 t, 14 % apart.
    """
    own = {
        "blinding_density": 1.9,
        "hardcore_density": 1.94,
        "blinding_consolidation": 20,
        "hardcore_consolidation": 25,
        "blinding_loose_density": 1.6,
        "hardcore_loose_density": 1.6,
    }
    ledger = estimate(replace(floor(ABOVE), override=own))
    assert ledger.figure("zones", 1, "blinding_loose") == pytest.approx(2.304)
    assert ledger.figure("zones", 1, "hardcore_loose") == pytest.approx(17.52)
    assert ledger.figure("zones", 1, "routes_note") == ""
    heavy = estimate(replace(floor(ABOVE), override={**own, "blinding_loose_density": 1.8}))
    assert heavy.figure("zones", 1, "blinding_loose") == pytest.approx(2.592)
    assert "disagree" in heavy.figure("zones", 1, "routes_note")
