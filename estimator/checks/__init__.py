"""Detail checks as data: what was given, what is asked, who asks, and what follows.

A check compares; it never changes a quantity and never raises. Each is one row: which things it
applies to, how many of them have no figure, and the worst figure given. A blank never meets.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ..language import Fixed, Item, Table, Varied, text, worked
from ..language.lookups import find
from ..language.registry import rule_of
from ..language.units import AMOUNT, EACH, FLAG, TEXT
from . import concerns, verdict, worst

MEETS, SHORT, NOT_GIVEN, NOT_APPLICABLE, DESIGNERS = (
    "meets",
    "short",
    "not given",
    "not applicable",
    "designer's detail",
)


@dataclass(frozen=True)
class Check:
    """One check: its question, what it concerns, and the rules that answer it."""

    key: str
    label: str
    group: str
    unit: str
    applies: Callable[..., Any]
    found: Callable[..., Any]
    blank: Callable[..., Any] = concerns.none_blank
    otherwise: Callable[..., Any] = concerns.none_otherwise
    otherwise_by: str = ""
    allowance: str = ""
    asks: float | str = 0
    asked_by: str = ""
    at_least: bool = True
    can_stop: bool = False
    assumed: Callable[..., Any] = concerns.nothing_assumed
    # Where a figure that is not given is typed: a named cell, or a list and its column. Of a list,
    # which row: by a column that is 1 there, or by a named cell that is its number.
    typed: str = ""
    typed_row: str = ""


_BY_CONTINUITY = (
    "Approved Document C (2004), para 4.7(c); NHBC Standards 5.1.20 (updated 2 January 2024)"
)
_BY_TRAYS = "NHBC Standards 2020, 6.1.17, Table 9"
_BY_STOP_ENDS = "Approved Document C (2004), para 5.5(c)"
_BY_PERPENDS = "common practice: weeps sit in perpends, one unit of the outer leaf apart"
_BY_BLINDING = "Approved Document C (2004), para 4.8; NHBC Standards 5.1.16 (edition not noted)"
_BY_MATERIAL = "NHBC Technical Guidance 6.1/38, for plots from 1 January 2023, as reported"
_BY_VOID = "Approved Document C, 1992 edition, main changes (d); 2004, paras 4.14 and 4.19"
_BY_PLATE = "Approved Document C (2004), para 4.14, from memory"
_BY_VENTS = "Approved Document C, 1992 edition, main changes (b); 2004, para 4.14"
_BY_JAMBS = "Approved Document C (2004), section 5, as reported: a DPC or closer at openings"
_BY_PARTY_WALL = (
    "Party Wall etc. Act 1996 (memory): notices before start; membrane and DPC at the boundary "
    "are the designer's detail"
)
_BY_THRESHOLDS = "common practice: at level access the height of the DPC is the designer's detail"
_BY_COPINGS = "NHBC Standards 2020, 5.1.19: polyethylene DPC not below copings"
_BY_PLACES = (
    "common practice: in one storey windows and doors are side by side, and so are openings of "
    "one kind"
)
_BY_DOORS = (
    "common practice: at a level-access door the sheet turns up to the threshold and is taped to "
    "its tray, so that edge of the floor is a threshold"
)
_BY_LEVELS = "common practice: a turn-up follows from the levels drawn, not from usual ones"
_BY_OLD_LEVEL = (
    "common practice: damp can rise past the house's DPC to the new one. A vertical DPC joins "
    "them, the designer's detail"
)
_BY_RADON = (
    "BR 211 (edition not noted), as reported: a membrane and more may be needed in an affected area"
)

_BY_TRAY_INSTEAD = (
    "met by a tray at DPC level instead: Approved Document C (2004), para 5.5(c), as reported"
)

CHECKS = (
    Check("dpc_height", "DPC above finished ground", "dpc", "mm", concerns.every_wall, worst.lowest_dpc,
          concerns.walls_without_height, allowance="dpc_height_min",
          assumed=concerns.dpc_height_assumed, typed="walls.dpc_height", typed_row="no_dpc_height"),
    Check("dpm_thickness", "Thickness of DPM sheet", "floor", "µm", concerns.zones_with_sheet, worst.sheet_thickness,
          concerns.sheet_without_thickness, allowance="dpm_thickness", typed="book.thickness", typed_row="sheet_row"),
    Check("dpm_lap", "Lap in DPM sheet", "floor", "mm", concerns.zones_of_sheet, worst.lap_of_sheet,
          allowance="dpm_lap"),
    Check("dpc_lap", "Lap in DPC", "dpc", "mm", concerns.every_wall, worst.lap_of_dpc, allowance="dpc_lap"),
    Check("connection", "Edges where DPM meets no DPC", "floor", "nr", concerns.edges_to_dpc, worst.loose_edges,
          asked_by=_BY_CONTINUITY, at_least=False),
    Check("levels", "Edges where DPM lies above its DPC", "floor", "nr", concerns.edges_to_dpc, worst.edges_above,
          asked_by=_BY_CONTINUITY, at_least=False, can_stop=True),
    Check("cavity_below", "Clear cavity below DPC", "dpc", "mm", concerns.cavity_walls, worst.shallowest_cavity,
          concerns.walls_without_depth, concerns.walls_with_tray, _BY_TRAY_INSTEAD,
          allowance="cavity_clear_min", typed="walls.cavity_below", typed_row="no_cavity_below"),
    Check("tray_rise", "Rise of trays across the cavity", "openings", "mm", concerns.every_tray,
          worst.rise_of_trays, allowance="tray_rise"),
    Check("past_closer", "Trays past the closer", "openings", "mm", concerns.every_opening, worst.past_closers,
          allowance="tray_past_closer"),
    Check("past_lintel", "Trays past the lintel", "openings", "mm", concerns.lintels, worst.past_lintels,
          allowance="tray_past_lintel"),
    Check("past_opening", "Trays past openings without a lintel", "openings", "mm",
          concerns.openings_without_lintel, worst.past_openings, allowance="tray_past_opening"),
    Check("tray_over", "Openings without a tray", "openings", "nr", concerns.every_opening, worst.openings_bare,
          asked_by=_BY_TRAYS, at_least=False),
    Check("lintels", "Lintels shorter than their opening", "openings", "nr", concerns.lintels,
          worst.short_lintels, concerns.lintels_assumed,
          asked_by="common practice: a lintel bears on both sides", at_least=False,
          assumed=concerns.bearing_taken, typed="assumed.figure_typed", typed_row="assumed_bearing"),
    Check("overlaps", "Openings that overlap another in plan", "openings", "nr",
          concerns.openings_placed, worst.openings_overlapping, asked_by=_BY_PLACES,
          at_least=False),
    Check("door_thresholds", "Level-access doors where their floor has no threshold", "openings",
          "nr", concerns.doors_at_sides, worst.doors_off_threshold, asked_by=_BY_DOORS,
          at_least=False),
    Check("threshold_doors", "Thresholds without a door", "openings", "nr",
          concerns.thresholds_asked, worst.thresholds_bare, asked_by=_BY_DOORS, at_least=False),
    Check("party_wall", "Wall runs on a boundary", "dpc", "nr", concerns.party_walls,
          worst.at_boundary, asks="no figure", asked_by=_BY_PARTY_WALL, at_least=False),
    Check("jambs", "Openings without closer or DPC at the jambs", "openings", "nr",
          concerns.jambs_to_close, worst.bare_jambs, concerns.closers_assumed, asked_by=_BY_JAMBS,
          at_least=False, assumed=concerns.closer_taken, typed="assumed.figure_typed", typed_row="assumed_closer"),
    Check("thresholds", "Level thresholds: height of the DPC", "openings", "nr", concerns.thresholds,
          worst.thresholds_level, asks="no figure", asked_by=_BY_THRESHOLDS, at_least=False),
    Check("parapet_trays", "Parapet trays above the roof", "roofs", "mm", concerns.parapets_with_tray,
          worst.lowest_parapet_tray, concerns.parapets_without_height, asks=150,
          asked_by=_BY_TRAYS, typed="parapets.tray_height", typed_row="no_tray_height"),
    Check("coping_material", "Polyethylene under copings", "roofs", "nr", concerns.under_copings,
          worst.polyethylene_copings, concerns.copings_of_unknown_make, asked_by=_BY_COPINGS,
          at_least=False, typed="book.made_of", typed_row="no_make_of_coping"),
    Check("tray_material", "Trays of plain polyethylene DPC", "openings", "nr", concerns.trays_bought,
          worst.polyethylene_trays, concerns.trays_of_unknown_make, asked_by=_BY_MATERIAL,
          at_least=False, typed="book.made_of", typed_row="no_make_of_tray"),
    Check("stop_ends", "Stop ends to each tray", "openings", "nr", concerns.openings_with_tray, worst.stop_ends_each,
          asks=2, asked_by=_BY_STOP_ENDS),
    Check("weep_spacing", "Weeps apart", "openings", "mm", concerns.every_tray, worst.weeps_apart,
          allowance="weep_spacing", at_least=False),
    Check("weeps_min", "Fewest weeps over an opening", "openings", "nr", concerns.openings_with_tray,
          worst.fewest_weeps, allowance="weeps_min"),
    Check("weep_room", "Trays over openings too short for their weeps", "openings", "nr",
          concerns.openings_with_tray, worst.openings_crowded, asked_by=_BY_PERPENDS, at_least=False),
    Check("vent_weep_room", "Trays over carried air bricks too short for their weeps", "openings", "nr",
          concerns.vents_with_tray, worst.vents_crowded, asked_by=_BY_PERPENDS, at_least=False),
    Check("blinding", "Floors with sheet on hardcore or ground without blinding", "floor", "nr",
          concerns.zones_on_bed, worst.unblinded, asked_by=_BY_BLINDING, at_least=False),
    Check("hardcore_depth", "Deepest hardcore", "floor", "mm", concerns.zones_on_ground, worst.deepest_hardcore,
          allowance="hardcore_depth_max", at_least=False, can_stop=True),
    Check("hardcore_layers", "Layers of hardcore", "floor", "mm", concerns.zones_on_hardcore, worst.layer_used,
          allowance="hardcore_layer_max", at_least=False),
    Check("slab", "Thinnest slab", "floor", "mm", concerns.zones_on_ground, worst.thinnest_slab,
          allowance="slab_thickness_min"),
    Check("void", "Void to the underside of suspended floors", "floor", "mm", concerns.zones_suspended,
          worst.shallowest_void, asks=150, asked_by=_BY_VOID),
    Check("void_to_plate", "Void to the wall plate of timber floors", "floor", "mm",
          concerns.zones_of_timber, worst.shallowest_to_plate, concerns.plates_not_given, asks=75,
          asked_by=_BY_PLATE, typed="zones.plate", typed_row="plate_missing"),
    Check("cross_ventilation", "Ventilated floors without two opposite external sides", "floor", "nr",
          concerns.zones_ventilated, worst.without_opposite_sides, asked_by=_BY_VENTS,
          at_least=False, can_stop=True),
    Check("uncounted", "Trays in existing walls left to the designer", "roofs", "nr",
          concerns.trays_uncounted, worst.all_uncounted, asks="no figure",
          asked_by="common practice: a solid, stone or unknown wall is the designer's, and so is "
          "cutting in steps", at_least=False),
    Check("vent_trays", "Underfloor air bricks without an opening, and so without a tray", "openings", "nr",
          concerns.zones_ventilated, worst.vents_without_tray, asked_by=_BY_TRAYS, at_least=False),
    Check("gas_floors", "Floors that no gas sheet covers", "floor", "nr", concerns.floors_in_gas_area,
          worst.floors_unsheeted, asked_by=_BY_RADON, at_least=False, can_stop=True),
    Check("gas", "Radon or gas: grade, laps, sealing, sump, testing", "floor", "nr",
          concerns.gas_kept_out, worst.left_to_specialist, asks="no figure", asked_by=_BY_RADON,
          at_least=False),
    Check("radon", "Radon or gas not looked up", "floor", "nr", concerns.radon_asked, worst.not_looked_up,
          concerns.radon_unknown, asked_by=_BY_RADON, at_least=False, can_stop=True, typed="radon_area"),
    Check("new_dpc_level", "Edges whose new DPC has no level given", "floor", "nr",
          concerns.edges_at_new_dpc, worst.none_fall_short, concerns.edges_of_assumed_level,
          asked_by=_BY_LEVELS, at_least=False, can_stop=True, assumed=concerns.dpc_height_assumed, typed="extension_new_dpc"),
    Check("old_dpc_level", "Edges at the house whose DPC lies below the new one", "dpc", "nr",
          concerns.edges_at_old_dpc, worst.old_below_new, concerns.edges_beside_assumed,
          asked_by=_BY_OLD_LEVEL, at_least=False, assumed=concerns.dpc_height_assumed),
    Check("old_dpc_height", "DPC of the house above finished ground", "dpc", "mm",
          concerns.house_of_the_form, worst.house_dpc_height, concerns.house_dpc_unknown,
          allowance="dpc_height_min", typed="extension_old_dpc"),
)  # fmt: skip

# What is bought is checked apart: a stop must never depend on a price, or a line's status would
# depend on its own cost. (One spreadsheet program also took that for a circle when it recalculated.)
OF_PRODUCTS = ("dpm_thickness", "tray_material", "coping_material")
SITE_CHECKS = tuple(c for c in CHECKS if c.key not in OF_PRODUCTS)
PRODUCT_CHECKS = tuple(c for c in CHECKS if c.key in OF_PRODUCTS)


def _table(name: str, one: str, title: str, checks: tuple[Check, ...], *last: Item) -> Table:
    return Table(
        name,
        one,
        title,
        (
            Fixed("key", "Check", TEXT),
            Fixed("label", "What is checked", TEXT),
            Fixed("group", "Kind of work", TEXT),
            Fixed("unit", "Unit", TEXT),
            Fixed("allowance", "Allowance", TEXT),
            Fixed("asked_here", "Asked of itself", AMOUNT),
            Fixed("asked_by_here", "Asked by, of itself", TEXT),
            Fixed("at_least", "At least", FLAG),
            Fixed("can_stop", "Can stop", FLAG),
            find("asked_row", "Allowance no.", by="allowance", where="allowances.key"),
            Varied("applies", "Concerns", EACH, "How many things it concerns.",
                   rules=tuple(rule_of(c.applies) for c in checks)),
            Varied("blank", "Left blank", EACH, "How many of them have no figure.",
                   rules=tuple(rule_of(c.blank) for c in checks)),
            Varied("found", "Given", AMOUNT, "The worst figure given.",
                   rules=tuple(rule_of(c.found) for c in checks)),
            Fixed("otherwise_by", "Met otherwise by", TEXT),
            Varied("otherwise", "Met otherwise", EACH, "How many of them meet it in another way.",
                   rules=tuple(rule_of(c.otherwise) for c in checks)),
            worked(verdict.asked),
            worked(verdict.asked_by, "Asked by"),
            worked(verdict.regulatory, "Regulatory figure"),
            worked(verdict.falls_short, "Falls short"),
            worked(verdict.state, "State"),
            Varied("assumed", "Not given: assumed", AMOUNT, "What the quantities take meanwhile.",
                   rules=tuple(rule_of(c.assumed) for c in checks)),
            text("reason", "Reason to go on", "Printed on the quote. A check that stops its lines "
                                              "then no longer does.", required=False),
            *last,
            worked(verdict.otherwise_note, "Met instead"),
            worked(verdict.regulation_note, "Beside the regulatory figure"),
        ),
        key="key",
        guarded=False,
    )  # fmt: skip


CHECKS_TABLE = _table(
    "checks",
    "check",
    "Details",
    SITE_CHECKS,
    worked(verdict.stop_figure, "Decides where the guidance is silent"),
    worked(verdict.would_stop, "Would stop"),
    worked(verdict.stops, "Stops"),
    worked(verdict.overridden, "Overridden"),
    worked(verdict.overridden_no, "Overridden no."),
)
PRODUCTS_TABLE = _table("product_checks", "product_check", "Products", PRODUCT_CHECKS)


def check_rows(checks: Iterable[Check], reasons: Mapping[str, str]) -> list[dict[str, Any]]:
    """The rows of the checks, with the reasons a job gives to go on."""
    return [
        {
            "key": c.key,
            "label": c.label,
            "group": c.group,
            "unit": c.unit,
            "allowance": c.allowance or "none",
            "asked_here": c.asks,
            "asked_by_here": c.asked_by,
            "at_least": int(c.at_least),
            "can_stop": int(c.can_stop),
            "otherwise_by": c.otherwise_by,
            "reason": reasons.get(c.key),
        }
        for c in checks
    ]
