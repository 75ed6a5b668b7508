"""The lines of the quantities: each names its material, its stage, and the columns it reads."""

from dataclasses import dataclass

from ..language import *
from .laid_as import LAID_COLUMNS
from .line_notes import NOTE_COLUMNS
from .needs import of_line
from .resting import rests_on

STAGES = Table(
    "stages",
    "stage",
    "Stages",
    (Fixed("name", "Stage", TEXT),),
    key="name",
    guarded=False,
)
STAGE_ROWS = (
    {"name": "Ground floor"},
    {"name": "Walls at DPC level"},
    {"name": "Openings"},
    {"name": "Roof abutments"},
    {"name": "Delivery"},
    {"name": "Work on site"},
    {"name": "Preliminaries and fees"},
)
STAGE_GROUPS = ("floor", "dpc", "openings", "roofs")
STATUSES = ("firm", "provisional", "excluded", "by others")
FIRM, BY_OTHERS = STATUSES[0], STATUSES[3]
GROUND_FLOOR, DPC_LEVEL, AT_OPENINGS, AT_ROOFS = 1, 2, 3, 4
# Hold points in site order: what is inspected before it is covered.
HOLD_POINTS = (
    "before start",
    "foundations",
    "hardcore and blinding",
    "DPM before insulation or concrete",
    "DPC before building on",
    "openings before the lintel course",
    "roof abutments before covering",
    "completion",
)
HARDCORE, DPM, BUILDING_ON, LINTELS, ROOF_ABUTMENTS, COMPLETION = 3, 4, 5, 6, 7, 8
# Where the lines of each stage are inspected, unless they say otherwise.
_HOLDS = (DPM, BUILDING_ON, LINTELS, ROOF_ABUTMENTS)


@dataclass(frozen=True)
class Line:
    """One kind of need: which list's rows need it, and which of their columns say how much.

    `added` are laps and turn-ups that the layout itself fixes; `corners` are laps as wide as
    the roll; `width` is the least that covers and `limit` the most that may be bought. `piece` is
    the length of one, laps and turn-ups included, where it may have to come from one roll.
    """

    key: str
    label: str
    material: str
    stage: int
    source: str
    net: str
    added: str | None = None
    corners: str | None = None
    width: str | None = None
    limit: str | None = None
    piece: str | None = None
    hold: int | None = None
    cut_whole: bool = False  # its pieces are never joined
    status: str = FIRM  # what is promised for it unless the job says otherwise
    since: int = 1  # the layout in which it first stood: it is left out of an older job file

    @property
    def group(self) -> str:
        """The kind of work a check can stop: one for each stage."""
        return STAGE_GROUPS[self.stage - 1]

    @property
    def hold_no(self) -> int:
        """The hold point at which it is inspected, counted from 1."""
        return self.hold or _HOLDS[self.stage - 1]

    @property
    def links(self) -> dict[str, str | None]:
        """Which column of the source feeds which column of the needs."""
        return {
            "mark": "mark",
            "net": self.net,
            "added": self.added,
            "corners": self.corners,
            "width": self.width,
            "limit": self.limit,
            "piece": self.piece,
        }


LINES = (
    Line("hardcore", "Hardcore under floors", "hardcore", GROUND_FLOOR, "zones", "hardcore_mass",
         hold=HARDCORE),
    Line("blinding", "Blinding on hardcore", "blinding_sand", GROUND_FLOOR, "zones",
         "blinding_mass", hold=HARDCORE),
    Line("dpm", "DPM to floors", "dpm_sheet", GROUND_FLOOR, "zones", "sheet_area"),
    Line("lap_tape", "Tape in laps of DPM", "tape_double", GROUND_FLOOR, "zones", "lapped"),
    Line("bond_tape", "Tape, DPM to DPC", "tape_double", GROUND_FLOOR, "edges", "bond"),
    Line("collar_tape", "Tape round collars", "tape_double", GROUND_FLOOR, "penetrations",
         "collar_tape"),
    Line("over_tape", "Tape over laps of DPM", "tape_single", GROUND_FLOOR, "zones", "lapped"),
    Line("seal_tape", "Tape to old walls", "tape_single", GROUND_FLOOR, "edges", "seal"),
    Line("collars", "Collars to pipes", "collar", GROUND_FLOOR, "penetrations", "collars",
         width="diameter"),
    Line("ducts", "Ducts for existing air bricks", "duct", GROUND_FLOOR, "old_vents", "ducts",
         "duct_ends", width="size", hold=HARDCORE),
    Line("couplers", "Couplers to ducts", "coupler", GROUND_FLOOR, "old_vents", "couplers",
         hold=HARDCORE),
    Line("sleeves", "Sleeves through new walls", "sleeve", GROUND_FLOOR, "old_vents", "number",
         hold=HARDCORE),
    Line("outer_air_bricks", "Air bricks in new walls", "air_brick", GROUND_FLOOR, "old_vents",
         "number", hold=HARDCORE),
    Line("patches", "Preformed corners and patches to DPM", "dpm_patch", GROUND_FLOOR,
         "floor_features", "patches"),
    # Without `since`: a file older than layout 6 has no walked floor, so that none is left out of it.
    Line("corner_patches", "Preformed corners to DPM, internal corners", "dpm_patch", GROUND_FLOOR,
         "zones", "corner_patches"),
    Line("separating_layer", "Separating layer, laps in its wastage", "separating_layer",
         GROUND_FLOOR, "zones", "separating_area"),
    Line("perimeter_strip", "Perimeter strip to slab edge", "perimeter_strip", GROUND_FLOOR,
         "edges", "strip", status="by others"),
    Line("insulation", "Insulation in floors", "floor_insulation", GROUND_FLOOR, "zones",
         "insulated_area", status=BY_OTHERS),
    Line("oversite", "Oversite concrete", "oversite_concrete", GROUND_FLOOR, "zones",
         "oversite_volume", status="by others"),
    Line("air_bricks", "Underfloor air bricks", "air_brick", GROUND_FLOOR, "zones", "air_bricks",
         hold=BUILDING_ON),
    Line("outer_dpc", "DPC in outer leaf", "dpc_roll", DPC_LEVEL, "walls", "outer_length",
         "outer_added", "corners", "outer_leaf", "outer_limit"),
    Line("inner_dpc", "DPC in inner leaf", "dpc_roll", DPC_LEVEL, "walls", "inner_length",
         "inner_added", "inner_corners", "inner_leaf", "inner_limit"),
    Line("tie_dpc", "Vertical DPC at tie-ins", "dpc_roll", DPC_LEVEL, "tie_ins", "vertical_dpc",
         "vertical_laps", width="vertical_width"),
    Line("tie_joints", "Movement joints at tie-ins", "joint_filler", DPC_LEVEL, "tie_ins",
         "movement_joint", status="by others"),
    Line("sleeper_dpc", "DPC on sleeper walls", "dpc_roll", DPC_LEVEL, "zones", "sleepers",
         width="sleeper_width", limit="sleeper_limit"),
    Line("partition_dpc", "DPC under partitions", "dpc_roll", DPC_LEVEL, "floor_features",
         "dpc_length", width="dpc_width", limit="dpc_limit"),
    Line("dpc_step_units", "Step units in DPC", "dpc_step_unit", DPC_LEVEL, "walls", "step_units"),
    Line("base_trays", "Trays at DPC level", "tray_roll", DPC_LEVEL, "walls", "base_trays",
         added="base_step_laps", corners="base_corners", width="base_girth"),
    Line("base_stop_ends", "Stop ends at DPC level", "stop_end", DPC_LEVEL, "walls",
         "base_stop_ends"),
    Line("base_inserts", "Weeps at DPC level", "weep", DPC_LEVEL, "walls", "base_inserts"),
    Line("base_vents", "Weep vents at DPC level", "weep_vent", DPC_LEVEL, "walls", "base_vents"),
    Line("trays", "Trays over openings", "tray_roll", AT_OPENINGS, "openings", "trays",
         width="tray_girth", piece="tray_length"),
    Line("stop_ends", "Stop ends to trays", "stop_end", AT_OPENINGS, "openings", "stop_ends"),
    Line("inserts", "Weeps over openings", "weep", AT_OPENINGS, "openings", "inserts"),
    Line("vents", "Weep vents over openings", "weep_vent", AT_OPENINGS, "openings", "vents"),
    Line("jamb_dpc", "DPC at jambs", "dpc_roll", AT_OPENINGS, "openings", "jambs", "jamb_laps",
         width="jamb_width"),
    Line("sill_dpc", "DPC under sills", "dpc_roll", AT_OPENINGS, "openings", "sills", "sill_ends",
         width="sill_girth"),
    Line("vent_trays", "Trays over carried air bricks", "tray_roll", AT_OPENINGS, "old_vents",
         "trays", width="tray_girth", piece="tray_length"),
    Line("vent_stop_ends", "Stop ends over carried air bricks", "stop_end", AT_OPENINGS,
         "old_vents", "stop_ends"),
    Line("vent_inserts", "Weeps over carried air bricks", "weep", AT_OPENINGS, "old_vents",
         "inserts"),
    Line("vent_vents", "Weep vents over carried air bricks", "weep_vent", AT_OPENINGS,
         "old_vents", "vents"),
    Line("closers", "Cavity closers at jambs", "closer", AT_OPENINGS, "openings", "closers",
         width="closer_width", piece="closer_each", cut_whole=True),
    Line("sill_closers", "Cavity closers below sills", "closer", AT_OPENINGS, "openings",
         "sill_closers", width="sill_closer_width", since=4),
    Line("threshold_trays", "Threshold trays", "tray_roll", AT_OPENINGS, "openings", "thresholds",
         "threshold_ends", width="threshold_girth", piece="threshold_each"),
    Line("channels", "Drainage channels at thresholds", "channel", AT_OPENINGS, "openings",
         "channels", status=BY_OTHERS),
    Line("roof_trays", "Level trays at roofs", "tray_roll", AT_ROOFS, "abutments", "tray",
         "unit_laps", width="tray_girth", piece="tray_each"),
    Line("catchments", "Catchment units at roofs", "catchment_unit", AT_ROOFS, "abutments",
         "catchments"),
    Line("intermediates", "Stepped units at roofs", "step_unit", AT_ROOFS, "abutments",
         "intermediates"),
    Line("ridges", "Ridge units at roofs", "ridge_unit", AT_ROOFS, "abutments", "ridges"),
    Line("roof_stop_ends", "Stop ends at roofs", "stop_end", AT_ROOFS, "abutments", "stop_ends"),
    Line("roof_inserts", "Weeps at roofs", "weep", AT_ROOFS, "abutments", "inserts"),
    Line("roof_vents", "Weep vents at roofs", "weep_vent", AT_ROOFS, "abutments", "vents"),
    Line("cut_in_units", "Tray units in existing walls", "cut_in_unit", AT_ROOFS, "cut_ins",
         "units"),
    Line("cut_in_corners", "Corner units in existing walls", "corner_unit", AT_ROOFS, "cut_ins",
         "corner_units"),
    Line("cut_in_catchments", "Catchment units in existing walls", "catchment_unit", AT_ROOFS,
         "cut_ins", "catchments", since=4),
    Line("cut_in_intermediates", "Stepped units in existing walls", "step_unit", AT_ROOFS,
         "cut_ins", "intermediates", since=4),
    Line("cut_in_ridges", "Ridge units in existing walls", "ridge_unit", AT_ROOFS, "cut_ins",
         "ridges", since=4),
    Line("cut_in_stop_ends", "Stop ends in existing walls", "stop_end", AT_ROOFS, "cut_ins",
         "stop_ends"),
    Line("cut_in_inserts", "Weeps in existing walls", "weep", AT_ROOFS, "cut_ins", "inserts"),
    Line("cut_in_vents", "Weep vents in existing walls", "weep_vent", AT_ROOFS, "cut_ins",
         "vents"),
    Line("cut_in_jambs", "DPC at jambs of new openings", "dpc_roll", AT_ROOFS, "cut_ins",
         "jamb_net", "jamb_laps", width="jamb_width"),
    Line("cut_in_closers", "Closers at jambs of new openings", "closer", AT_ROOFS, "cut_ins",
         "closers", width="closer_width", piece="closer_each", cut_whole=True),
    Line("cut_in_lead", "Lead flashing on existing walls", "lead_piece", AT_ROOFS, "cut_ins",
         "lead_pieces", status=BY_OTHERS),
    Line("cut_in_sealant", "Sealant to flashing on existing walls", "sealant", AT_ROOFS,
         "cut_ins", "sealant", status=BY_OTHERS),
    Line("corner_units", "Corner units in trays", "corner_unit", AT_ROOFS, "tray_units", "corners"),
    Line("junction_units", "Junction units in trays", "junction_unit", AT_ROOFS, "tray_units",
         "junctions"),
    Line("level_step_units", "Level step units in trays", "level_step_unit", AT_ROOFS,
         "tray_units", "steps"),
    Line("penetration_units", "Penetration units in trays", "penetration_unit", AT_ROOFS,
         "tray_units", "penetrations"),
    Line("lead", "Lead flashing over trays", "lead_piece", AT_ROOFS, "abutments", "lead_pieces",
         status=BY_OTHERS),
    Line("soakers", "Soakers up slopes", "soaker", AT_ROOFS, "abutments", "soakers",
         status=BY_OTHERS),
    Line("flashing_sealant", "Sealant to flashings", "sealant", AT_ROOFS, "abutments", "sealant",
         status=BY_OTHERS),
    Line("copings", "DPC under copings", "tray_roll", AT_ROOFS, "parapets", "copings",
         corners="corners", width="thickness"),
    Line("coping_supports", "Supports over cavities under copings", "cavity_support", AT_ROOFS,
         "parapets", "supports", status=BY_OTHERS),
    Line("parapet_trays", "Trays in parapets", "tray_roll", AT_ROOFS, "parapets", "trays",
         corners="tray_corners", width="tray_girth"),
    Line("parapet_stop_ends", "Stop ends in parapets", "stop_end", AT_ROOFS, "parapets",
         "stop_ends"),
    Line("parapet_inserts", "Weeps in parapets", "weep", AT_ROOFS, "parapets", "inserts"),
    Line("parapet_vents", "Weep vents in parapets", "weep_vent", AT_ROOFS, "parapets", "vents"),
)  # fmt: skip


@rule
def material(gas_mode: Flag, usual_material: Text, gas_material: Text) -> Text:
    """What is bought for it: of another grade in a radon or gas area."""
    return where(same(gas_mode, 1), gas_material, usual_material)


@rule
def slot(
    supplier: Text, supplier_slot: Each, supplier_name: TextColumn, supplier_position: Column
) -> Each:
    """The supplier this line is bought from: its own choice, else the job's."""
    return where(
        same(supplier, ""), supplier_slot, sum_of(supplier_position, same(supplier_name, supplier))
    )


@rule
def stopped(group: Text, check_group: TextColumn, check_stops: Column) -> Each:
    """Checks that stop this line's group of work."""
    return count_of(same(check_group, group), same(check_stops, 1))


@rule
def standing(status: Text, stopped: Each, rests_on: Each) -> Text:
    """The line's status in effect: a stop, or an assumed figure, makes what was firm provisional."""
    return where(both(same(status, "firm"), less(0, stopped + rests_on)), "provisional", status)


@rule
def bought(status: Text) -> Flag:
    """1 for lines that are bought: firm and provisional ones."""
    return where(either(same(status, "firm"), same(status, "provisional")), 1, 0)


@rule
def provisional(standing: Text) -> Flag:
    """1 for provisional lines."""
    return where(same(standing, "provisional"), 1, 0)


@rule
def net(own_net: Column) -> Amount:
    """Measured as fixed: no laps, no wastage."""
    return total(own_net)


@rule
def laps(net: Amount, own_added: Column, own_corner_laps: Column) -> Amount:
    """Laps and turn-ups fixed by the geometry. Laps between rolls come with the rolls."""
    return where(less(0, net), total(own_added + own_corner_laps), 0)


@rule
def asks(material: Text, slot: Each) -> Text:
    """Material and supplier, as one text."""
    return label_of(material, slot)


@rule
def uncovered(net: Amount, own_uncovered: Column) -> Each:
    """Rows of this line that no product of its supplier covers."""
    return where(less(0, net), count_of(same(own_uncovered, 1)), 0)


@rule
def scope_group(bought: Flag, status: Text, net: Amount) -> Each:
    """1 for what is in the price, 2 for what others do, 3 for what is excluded. 0 for none."""
    return where(less(0, net), where(same(bought, 1), 1, where(same(status, "by others"), 2, 3)), 0)


@rule
def scope_no(
    scope_group: Each, position: Each, line_scope_group: Column, line_position: Column
) -> Each:
    """Its place on the scope list: what is in, then by others, then excluded. 0 for none."""
    return where(
        less(0, scope_group),
        count_of(
            less(0, line_scope_group),
            either(
                less(line_scope_group, scope_group),
                both(same(line_scope_group, scope_group), less(line_position, position + 1)),
            ),
        ),
        0,
    )


LINES_TABLE = Table(
    "lines",
    "line",
    "Quantities, line by line",
    (
        Fixed("key", "Line", TEXT),
        Fixed("label", "What it is for", TEXT),
        Fixed("group", "Kind of work", TEXT),
        Fixed("stage_no", "Stage", EACH),
        Fixed("usual_material", "Usual material", TEXT),
        Fixed("gas_material", "In a gas area", TEXT),
        worked(material),
        Fixed("unit", "Unit", TEXT),
        worked(net, "Net", own_net=of_line("net")),
        worked(laps, "Laps and turn-ups", own_added=of_line("added"),
               own_corner_laps=of_line("corner_laps")),
        text("supplier", "Buy from", "One named on Prices. Blank: the job's supplier.",
             choice_of="suppliers.name", required=False),
        text("status", "Status", "What is promised for this line.", choices=STATUSES),
        worked(stopped, "Stops"),
        worked(rests_on, "Assumed figures"),
        worked(standing, "In effect"),
        worked(bought),
        worked(provisional),
        worked(slot, "Supplier no."),
        worked(asks, "Asks for"),
        worked(uncovered, "Not covered", own_uncovered=of_line("uncovered")),
        worked(scope_group, "In scope"),
        worked(scope_no, "Scope no."),
        *NOTE_COLUMNS,
        *LAID_COLUMNS,
    ),
    key="key",
    guarded=False,
)  # fmt: skip
