"""What the form offers to each list: an extension of one room, against one wall of a house or round
one corner of it.

The rows have marks of their own (X...). Every figure can be typed over in its row.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..language import *
from .offer_rules import build, figure, mark, unknown_if_blank, words
from .on_plan import follows_unless_typed, run_described, side, side_no, turn_where

ZONE, HOUSE_EDGE, FRONT_EDGE, DOOR_EDGE = "X1", "X1-A1", "X1-A2", "X1-A2d"
LEFT_EDGE, RIGHT_EDGE, RUN = "X1-B1", "X1-B2", "XW"
HOUSE_SIDE_EDGE, RETURN_EDGE = "X1-H", "X1-R"
DOORS, WINDOWS, HOUSE, TRAY, TIES, VENTS = "XD", "XN", "XH", "XC", "XT", "XV"
RETURN_TRAY, RETURN_TIES = "XCr", "XTr"

QUARTER = 90  # degrees
Row = Worked | None


@dataclass(frozen=True)
class Offers:
    """The offers to one list: by typed column, one for each row the form fills.

    Rows that came later stand last: `since` says in which layout, by their mark.
    """

    columns: Mapping[str, Sequence[Row]]
    nought: tuple[str, ...] = ()
    assumed: Mapping[str, str] = field(default_factory=dict)  # column: the cell that says so
    counted: Mapping[str, str] = field(default_factory=dict)  # the same, of one that is shown
    since: Mapping[str, int] = field(default_factory=dict)


def _alike(row: Worked, count: int) -> tuple[Worked, ...]:
    return (row,) * count


@rule
def house_edge_kind(extension_asked: Flag, extension_old_dpc: Metres) -> Text:
    """Kind of the edge at the house: whether the level of its DPC is known."""
    return where(
        same(extension_asked, 1),
        where(given(extension_old_dpc), "existing wall with DPC", "existing wall, DPC unknown"),
        "",
    )


@rule
def chase_if_known(extension_old_dpc: Metres, assumed_chase: Millimetres) -> Amount:
    """Depth dressed into the chase, where the house's DPC is known."""
    return where(given(extension_old_dpc), assumed_chase, "")


@rule
def depth_of_floor(zone_finished_level: Column, zone_dpm_level: Column) -> Millimetres:
    """Finished floor above the membrane, in the first floor."""
    return (beside(zone_finished_level, 1) - beside(zone_dpm_level, 1)) * 1000


@rule
def to_finished_floor(
    extension_asked: Flag, zone_finished_level: Column, zone_dpm_level: Column
) -> Amount:
    """Turn-up to the finished floor."""
    return where(same(extension_asked, 1), depth_of_floor(zone_finished_level, zone_dpm_level), "")


@rule
def to_finished_if_unknown(
    extension_asked: Flag,
    extension_old_dpc: Metres,
    zone_finished_level: Column,
    zone_dpm_level: Column,
) -> Amount:
    """Turn-up at the house while its DPC is not known: to the finished floor."""
    return where(
        same(extension_asked, 1),
        where(given(extension_old_dpc), "", depth_of_floor(zone_finished_level, zone_dpm_level)),
        "",
    )


@rule
def typed_or(typed: Amount, answered: Amount) -> Amount:
    """As typed in its row, else as answered: read before it is known whether the row can be used."""
    return where(given(typed), typed, answered)


@rule
def formation_or_assumed(
    extension_formation: Metres,
    finished_level: Amount,
    floor_finished: Metres,
    screed: Amount,
    floor_screed: Millimetres,
    insulation: Amount,
    floor_insulation: Millimetres,
    slab: Amount,
    floor_slab: Millimetres,
    build_up: Text,
    assumed_below: Millimetres,
) -> Amount:
    """Formation as answered. Else below the finished floor by the floor itself, its blinding and
    the hardcore assumed. Nothing where another build-up is typed in its row."""
    return where(
        given(extension_formation),
        extension_formation,
        where(
            both(is_blank(build_up), less(0, assumed_below)),
            to_six_places(
                typed_or(finished_level, floor_finished)
                - (
                    typed_or(screed, floor_screed)
                    + typed_or(insulation, floor_insulation)
                    + typed_or(slab, floor_slab)
                    + assumed_below
                )
                / 1000
            ),
            "",
        ),
    )


@rule
def lintel_over(extension_asked: Flag, width: Metres, assumed_bearing: Millimetres) -> Amount:
    """Length of a lintel: the opening and its bearings."""
    return where(
        both(same(extension_asked, 1), less(0, first_given(width, 0))),
        first_given(width, 0) + 2 * assumed_bearing / 1000,
        "",
    )


@rule
def dpc_above_ground(
    extension_ground: Metres, extension_new_dpc: Metres, own_dpc_height: Millimetres
) -> Amount:
    """Height of the new DPC above the ground, from its level as answered. Nothing while nobody
    gives it, whatever the quantities assume: a check is never met by a figure nobody gave."""
    return where(
        given(extension_ground),
        where(
            given(extension_new_dpc),
            to_six_places(
                (first_given(extension_new_dpc, 0) - first_given(extension_ground, 0)) * 1000
            ),
            where(less(0, own_dpc_height), own_dpc_height, ""),
        ),
        "",
    )


@rule
def if_cavity(extension_old_wall: Text, figure: Amount) -> Amount:
    """A measure of the house's wall, where it is known to have a cavity."""
    return where(
        same(extension_old_wall, "cavity, clear"),
        figure,
        where(same(extension_old_wall, "cavity, filled"), figure, ""),
    )


def marks(table: str, layout: int | None = None) -> tuple[str, ...]:
    """The marks of the rows the form may fill in that list, first row first; of an earlier layout
    those it had."""
    if table not in OFFERS:
        return ()
    found = (str(row.bound["mark"]) for row in OFFERS[table].columns["mark"] if row)
    since = OFFERS[table].since
    return tuple(mark for mark in found if layout is None or since.get(mark, 1) <= layout)


_EDGES = 7  # at the house, the front wall, its doors, the two flanks; round a corner two more

OFFERS: dict[str, Offers] = {
    "zones": Offers(
        {
            "mark": (mark(ZONE),),
            "description": (words("Extension"),),
            "build_up": (build("floor_build_no", "floor_builds.kind"),),
            "finished_level": (figure("extension_finished"),),
            "formation_level": (
                worked(
                    formation_or_assumed,
                    build_up=TypedCell("build_up"),
                    finished_level=TypedCell("finished_level"),
                    screed=TypedCell("screed"),
                    insulation=TypedCell("insulation"),
                    slab=TypedCell("slab"),
                ),
            ),
            "screed": (build("floor_build_no", "floor_builds.screed"),),
            "insulation": (build("floor_build_no", "floor_builds.insulation"),),
            "slab": (build("floor_build_no", "floor_builds.slab"),),
        },
        counted={"formation_level": "formation_unknown"},
    ),
    "edges": Offers(
        {
            "mark": (
                mark(HOUSE_EDGE),
                mark(FRONT_EDGE, wanted="front_wall"),
                mark(DOOR_EDGE, wanted="extension_doors"),
                mark(LEFT_EDGE),
                mark(RIGHT_EDGE),
                mark(HOUSE_SIDE_EDGE, wanted="extension_wraps"),
                mark(RETURN_EDGE, wanted="extension_wraps"),
            ),
            "zone": _alike(words(ZONE), _EDGES),
            "side": (side("A1"), side("A2"), side("A2"), side("B1"), side("B2")),
            # As one walks round: along the house, and its side; out to the front; back.
            "number": tuple(side_no(n) for n in (1, 5, 6, 4, 7, 2, 3)),
            "length": (
                figure("extension_width"),
                figure("front_wall"),
                figure("doors_width"),
                figure("long_flank"),
                figure("extension_projection"),
                figure("return_length"),
                figure("return_width"),
            ),
            "turn": (turn_where("extension_wraps", -QUARTER), turn_where("extension_doors", 0)),
            "kind": (
                worked(house_edge_kind),
                words("new wall"),
                words("threshold"),
                *_alike(words("new wall"), 2),
                worked(house_edge_kind),
                words("new wall"),
            ),
            "dpc_level": (
                figure("extension_old_dpc"),
                figure("extension_dpc"),
                None,
                *_alike(figure("extension_dpc"), 2),
                figure("extension_old_dpc"),
                figure("extension_dpc"),
            ),
            "dress": (worked(chase_if_known), *(None,) * 4, worked(chase_if_known)),
            "wall": (None, *_alike(words(RUN), 4), None, words(RUN)),
            "typed_turn_up": (
                worked(to_finished_if_unknown),
                None,
                worked(to_finished_floor),
                None,
                None,
                worked(to_finished_if_unknown),
            ),
        },
        assumed={"dpc_level": "new_dpc_unknown"},
        since={HOUSE_SIDE_EDGE: 6, RETURN_EDGE: 6},
    ),
    "walls": Offers(
        {
            "mark": (mark(RUN),),
            "description": (worked(run_described),),
            "floor": (worked(follows_unless_typed, mark=ZONE),),
            "outer_leaf": (build("wall_build_no", "wall_builds.outer_leaf"),),
            "cavity": (build("wall_build_no", "wall_builds.cavity"),),
            "inner_leaf": (build("wall_build_no", "wall_builds.inner_leaf"),),
            "dpc_height": (worked(dpc_above_ground),),
        },
        nought=("dpc_height",),
    ),
    "openings": Offers(
        {
            "mark": (
                mark(DOORS, wanted="extension_doors"),
                mark(WINDOWS, wanted="extension_windows"),
            ),
            "description": (words("Doors"), words("Windows")),
            "wall": _alike(words(RUN), 2),
            "kind": (words("level-access door"), words("window")),
            "number": (figure("extension_doors"), figure("extension_windows")),
            "width": (figure("extension_door_width"), figure("extension_window_width")),
            "height": (figure("assumed_door"), figure("extension_window_height")),
            "lintel": (*_alike(worked(lintel_over, width=OwnCell("width")), 2),),
            "closer": _alike(figure("assumed_closer"), 2),
        },
        nought=("lintel",),
        assumed={"lintel": "bearing_assumed", "closer": "closer_assumed"},
    ),
    "old_walls": Offers(
        {
            "mark": (mark(HOUSE),),
            "description": (words("Wall of the house"),),
            "kind": (worked(unknown_if_blank, answer=NamedCell("extension_old_wall")),),
            "outer_leaf": (worked(if_cavity, figure=NamedCell("assumed_old_leaf")),),
            "cavity": (worked(if_cavity, figure=NamedCell("assumed_old_cavity")),),
        },
        nought=("cavity",),
    ),
    "cut_ins": Offers(
        {
            "mark": (
                mark(TRAY, wanted="tray_wanted"),
                mark(RETURN_TRAY, wanted="return_tray_wanted"),
            ),
            "description": (words("Above the new roof"), words("Above the roof of the return")),
            "wall": _alike(words(HOUSE), 2),
            "kind": _alike(build("roof_build_no", "roof_builds.cut_in"), 2),
            "number": _alike(figure(1), 2),
            "length": (figure("extension_outside"), figure("return_outside")),
            "courses": _alike(figure("assumed_courses"), 2),
            "unit_length": _alike(figure("assumed_unit"), 2),
            "unit_lap": _alike(figure("assumed_unit_lap"), 2),
            "bay_most": _alike(figure("assumed_bay"), 2),
        },
        since={RETURN_TRAY: 6},
    ),
    "tie_ins": Offers(
        {
            "mark": (mark(TIES), mark(RETURN_TIES, wanted="extension_wraps")),
            "wall": _alike(words(RUN), 2),
            "number": (figure("ties_at_back"), figure(1)),
            "height": (figure("tie_height"), figure("return_tie_height")),
        },
        since={RETURN_TIES: 6},
    ),
    "old_vents": Offers(
        {
            "mark": (mark(VENTS, wanted="extension_old_vents"),),
            "description": (words("Air bricks of the house"),),
            "wall": (words(RUN),),
            "number": (figure("extension_old_vents"),),
            "projection": (figure("extension_projection"),),
            "old_leaf": (figure("assumed_old_leaf"),),
            "size": (figure("assumed_duct"),),
            "stock": (figure("assumed_duct_length"),),
        }
    ),
}
