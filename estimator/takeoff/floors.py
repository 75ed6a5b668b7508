"""Floor zones: levels give depths, edges give the size of the sheet and what is laid with it."""

from ..language import *
from . import gas
from .bands import STRIP_COLUMNS
from .build_ups import BUILD_UP, KIND_COLUMNS, LAYERS, LEVEL_COLUMNS, OF_SUSPENDED
from .edges import NAMED_SIDES
from .floor_runs import FLOOR_RUN_COLUMNS
from .sheet_outlines import SHAPED_COLUMNS
from .ventilation import VENT_COLUMNS
from .walked_floors import WALK_COLUMNS

HALF_BRICK = 102.5  # mm: RICS isurv measurement conventions p. 8


@rule
def net_area(
    walked: Flag,
    side_a: Metres,
    side_b: Metres,
    swept_round: SquareMetres,
    holes_area: SquareMetres,
) -> SquareMetres:
    """Floor area between walls, as measured: no laps, no turn-ups. Exact whatever its shape. Holes
    are taken off, however small."""
    return most(
        0,
        where(
            same(walked, 1),
            apart(swept_round, 0) / 2,
            first_given(side_a, 0) * first_given(side_b, 0),
        )
        - holes_area,
    )


@rule
def measured(
    mark: Text, side: Text, edge_side_length: Column, edge_zone: TextColumn, edge_side: TextColumn
) -> Metres:
    """Length of the edges listed on that side."""
    return sum_of(edge_side_length, same(edge_zone, mark), same(edge_side, side))


@rule
def reach(
    mark: Text,
    side: Text,
    sides_splayed: Each,
    edge_reach: Column,
    edge_zone: TextColumn,
    edge_faces: TextColumn,
) -> Millimetres:
    """How far the sheet reaches past that side: the largest of the edges that face so.

    Of a floor with splayed sides the largest of all, whichever way they face: enough, if not least.
    """
    return where(
        less(0, sides_splayed),
        largest_of(edge_reach, same(edge_zone, mark)),
        largest_of(edge_reach, same(edge_zone, mark), same(edge_faces, side)),
    )


@rule
def gap(side: Metres, one: Metres, two: Metres) -> Metres:
    """By how much the edges listed on a pair of opposite sides miss the side, at worst."""
    return most(one - side, side - one, two - side, side - two)


@rule
def gap_a(walked: Flag, extent_a: Metres, measured_a_one: Metres, measured_a_two: Metres) -> Metres:
    """What is missing, or too much, on the sides of length A."""
    return where(same(walked, 1), 0, gap(extent_a, measured_a_one, measured_a_two))


@rule
def gap_b(walked: Flag, extent_b: Metres, measured_b_one: Metres, measured_b_two: Metres) -> Metres:
    """What is missing, or too much, on the sides of length B."""
    return where(same(walked, 1), 0, gap(extent_b, measured_b_one, measured_b_two))


@rule
def edges_agree(gap_a: Metres, gap_b: Metres, walk_fault: Each) -> Flag:
    """1 when the edges listed on every side add up to that side, to half a millimetre. Of a walked
    floor, when it comes back to its start."""
    return where(both(at_most(most(gap_a, gap_b), 0.0005), same(walk_fault, 0)), 1, 0)


@rule
def dips(
    mark: Text,
    along: Text,
    feature_dip: Column,
    feature_zone: TextColumn,
    feature_along: TextColumn,
) -> Metres:
    """More sheet across the thickenings that run along that side."""
    return sum_of(feature_dip, same(feature_zone, mark), same(feature_along, along))


@rule
def sheet_a(
    sheet: Flag,
    extent_a: Metres,
    reach_b_one: Millimetres,
    reach_b_two: Millimetres,
    dips_a: Metres,
) -> Metres:
    """Sheet needed along A: the side, what turns up or laps at its ends, and thickenings crossed.

    0 where the floor has no sheet.
    """
    return sheet * (extent_a + (reach_b_one + reach_b_two) / 1000 + dips_a)


@rule
def sheet_b(
    sheet: Flag,
    extent_b: Metres,
    reach_a_one: Millimetres,
    reach_a_two: Millimetres,
    dips_b: Metres,
) -> Metres:
    """Sheet needed along B: the side, what turns up or laps at its ends, and thickenings crossed.

    0 where the floor has no sheet.
    """
    return sheet * (extent_b + (reach_a_one + reach_a_two) / 1000 + dips_b)


@rule
def sheet_area(sheet: Flag, net_area: SquareMetres, walls_covered: SquareMetres) -> SquareMetres:
    """Area with a sheet, as measured: the floor, and in a gas area the new walls. No laps."""
    return sheet * net_area + walls_covered


@rule
def insulated_area(insulation: Millimetres, net_area: SquareMetres) -> SquareMetres:
    """Floor area with insulation, above or below. Laid by others."""
    return where(less(0, insulation), net_area, 0)


@rule
def separating_area(separating_layer: Text, net_area: SquareMetres) -> SquareMetres:
    """Floor area with a separating layer. Blank is none."""
    return where(same(separating_layer, "yes"), net_area, 0)


@rule
def oversite_volume(oversite: Millimetres, net_area: SquareMetres) -> CubicMetres:
    """Oversite concrete in place."""
    return net_area * oversite / 1000


@rule
def sleepers(sleeper_length: Metres) -> Metres:
    """DPC on sleeper walls. Blank is none."""
    return first_given(sleeper_length, 0)


@rule
def sleeper_width(sleepers: Metres) -> Millimetres:
    """Least width of that DPC: half a brick."""
    return where(less(0, sleepers), HALF_BRICK, 0)


@rule
def sleeper_limit(sleeper_width: Millimetres, dpc_projection: Millimetres) -> Millimetres:
    """Widest DPC that lies on a sleeper wall untrimmed."""
    return where(less(0, sleeper_width), sleeper_width + dpc_projection, 0)


@rule
def turned_up(mark: Text, edge_turned_length: Column, edge_zone: TextColumn) -> Metres:
    """Length of edge round this floor along which sheet turns up."""
    return sum_of(edge_turned_length, same(edge_zone, mark))


@rule
def blinding_volume(net_area: SquareMetres, bed: Millimetres) -> CubicMetres:
    """Blinding measured in place."""
    return net_area * bed / 1000


@rule
def blinding_mass(blinding_volume: CubicMetres, blinding_density: Density) -> Tonnes:
    """Blinding to order from: volume in place at its density in place."""
    return blinding_volume * blinding_density


@rule
def hardcore_volume(net_area: SquareMetres, hardcore_depth: Millimetres) -> CubicMetres:
    """Hardcore measured compacted in place."""
    return net_area * hardcore_depth / 1000


@rule
def hardcore_mass(hardcore_volume: CubicMetres, hardcore_density: Density) -> Tonnes:
    """Hardcore to order from: volume in place at its density in place."""
    return hardcore_volume * hardcore_density


@rule
def loose_from(volume: CubicMetres, percent: Percent, loose_rule: Text) -> CubicMetres:
    """Loose volume that consolidates to a volume in place. Which way round is the job's choice."""
    return where(
        same(loose_rule, "multiply"), volume * (1 + percent / 100), volume / (1 - percent / 100)
    )


@rule
def blinding_loose(
    blinding_volume: CubicMetres,
    blinding_consolidation: Percent,
    blinding_loose_density: Density,
    loose_rule: Text,
) -> Tonnes:
    """Blinding by the other route: loose volume at its loose density. Shown, never ordered from."""
    return loose_from(blinding_volume, blinding_consolidation, loose_rule) * blinding_loose_density


@rule
def hardcore_loose(
    hardcore_volume: CubicMetres,
    hardcore_consolidation: Percent,
    hardcore_loose_density: Density,
    loose_rule: Text,
) -> Tonnes:
    """Hardcore by the other route: loose volume at its loose density. Shown, never ordered from."""
    return loose_from(hardcore_volume, hardcore_consolidation, loose_rule) * hardcore_loose_density


@rule
def percent_apart(in_place: Tonnes, loose: Tonnes) -> Percent:
    """By how much the loose route differs from the one in place, in percent of it."""
    return divided(apart(in_place, loose) * 100, in_place)


@rule
def routes_note(
    blinding_mass: Tonnes, blinding_loose: Tonnes, hardcore_mass: Tonnes, hardcore_loose: Tonnes
) -> Text:
    """Whether the two routes differ by more than 5 %."""
    return where(
        given(blinding_loose + hardcore_loose),
        where(
            less(
                5,
                most(
                    percent_apart(blinding_mass, blinding_loose),
                    percent_apart(hardcore_mass, hardcore_loose),
                ),
            ),
            "densities disagree by more than 5 %",
            "",
        ),
        "no loose densities given",
    )


@rule
def layers(hardcore_depth: Millimetres, hardcore_layer_max: Millimetres) -> Each:
    """Layers in which the hardcore is compacted."""
    return whole_up(divided(hardcore_depth, hardcore_layer_max))


@rule
def compaction_layers(zone_layers: Column) -> Each:
    """Layers of hardcore to compact, over all floors: each floor is compacted by itself."""
    return total(zone_layers)


@rule
def sheet_joint(
    position: Each,
    sheet_row: Each,
    layout_joint: Column,
    layout_at: Column,
    layout_book_row: Column,
) -> Metres:
    """Laps between strips of the sheet that is bought."""
    return sum_of(layout_joint, same(layout_at, position), same(layout_book_row, sheet_row))


@rule
def lapped(
    mark: Text,
    first: Flag,
    sheet_joint: Metres,
    cross_joints: Metres,
    edge_joint_length: Column,
    edge_zone: TextColumn,
) -> Metres:
    """All laps in this floor's sheet: between strips, and to other floors.

    Joints across the strips belong to no floor in particular: the first floor with a sheet carries
    them.
    """
    return sheet_joint + sum_of(edge_joint_length, same(edge_zone, mark)) + first * cross_joints


@rule
def first(sheet: Flag, position: Each, zone_sheet: Column, zone_position: Column) -> Flag:
    """1 for the first floor in the list that has a sheet."""
    return where(same(count_of(same(zone_sheet, 1), less(zone_position, position)), 0), sheet, 0)


ZONES = Table(
    "zones",
    "zone",
    "Floors",
    (
        text("mark", "Ref", "The floor's reference on the drawing, used once."),
        text("description", "Description", required=False),
        BUILD_UP,
        number("side_a", "Side A", METRES, 0.1, 60, "Of a rectangle, between walls. Blank where "
                                                    "the floor is walked: its sides are then "
                                                    "typed one after another in Edges of "
                                                    "floors.", required=False),
        number("side_b", "Side B", METRES, 0.1, 60, "Of a rectangle, between walls. Blank where the "
               "floor is walked.", required=False),
        number("finished_level", "Finished floor", METRES, -50, 500, "On the drawing's datum."),
        number("formation_level", "Formation", METRES, -50, 500, "The level under the hardcore."),
        *LAYERS,
        text("separating_layer", "Separating layer", "Blank: no.", choices=("no", "yes"),
             required=False),
        *OF_SUSPENDED,
        *KIND_COLUMNS,
        *WALK_COLUMNS,
        *FLOOR_RUN_COLUMNS,
        worked(net_area, "Net area"),
        *LEVEL_COLUMNS,
        worked(turned_up, "Turned-up edge"),
        worked(blinding_volume, "Blinding in place"),
        worked(blinding_mass, "Blinding"),
        worked(hardcore_volume, "Hardcore in place"),
        worked(hardcore_mass, "Hardcore"),
        *(worked(measured, f"Edges on {s}", f"measured_{n}", side=s) for n, s in NAMED_SIDES),
        worked(gap_a, "Gap on A"),
        worked(gap_b, "Gap on B"),
        worked(edges_agree, "Edges add up"),
        *(worked(reach, f"Past {s}", f"reach_{n}", side=s) for n, s in NAMED_SIDES),
        worked(dips, "Dips along A", "dips_a", along="B"),
        worked(dips, "Dips along B", "dips_b", along="A"),
        *SHAPED_COLUMNS,
        worked(sheet_a, "Sheet along A", reach_b_one=OwnCell("past_b_one"),
               reach_b_two=OwnCell("past_b_two")),
        worked(sheet_b, "Sheet along B", reach_a_one=OwnCell("past_a_one"),
               reach_a_two=OwnCell("past_a_two")),
        worked(gas.walls_covered, "Walls covered"),
        worked(sheet_area, "Area of sheet"),
        worked(sheet_joint, "Laps in sheet"),
        worked(first, "First with a sheet"),
        worked(lapped, "All laps"),
        *STRIP_COLUMNS,
        worked(layers, "Hardcore layers"),
        worked(blinding_loose, "Blinding, loose route"),
        worked(hardcore_loose, "Hardcore, loose route"),
        worked(routes_note, "Two routes"),
        worked(insulated_area, "Insulated"),
        worked(separating_area, "Separating layer"),
        worked(oversite_volume, "Oversite in place"),
        worked(sleepers, "Sleeper walls"),
        worked(sleeper_width, "Their DPC, least"),
        worked(sleeper_limit, "Their DPC, most"),
        *VENT_COLUMNS,
    ),
    grows=True,
    shown=("net_area", "turned_up", "sheet_area", "hardcore_depth"),
    said="walk_note",
    spare=(4, 6),
)  # fmt: skip
