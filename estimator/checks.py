"""Detail checks as data: what was given, what is asked, who asks, and what follows.

A check compares; it never changes a quantity and never raises. Each is one row: which things it
applies to, how many of them have no figure, and the worst figure given. A blank never meets.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from .rules import (
    Fixed,
    Item,
    Table,
    Varied,
    at_most,
    beside,
    both,
    count_of,
    divided,
    either,
    first_given,
    given,
    is_blank,
    largest_of,
    less,
    rule,
    same,
    smallest_of,
    text,
    total,
    where,
    worked,
)
from .rules.helpers import NOTHING
from .rules.reading import find
from .rules.registry import rule_of
from .rules.units import (
    AMOUNT,
    EACH,
    FLAG,
    TEXT,
    Amount,
    Column,
    Each,
    Flag,
    Millimetres,
    Text,
    TextColumn,
)

MEETS, SHORT, NOT_GIVEN, NOT_APPLICABLE, DESIGNERS = (
    "meets",
    "short",
    "not given",
    "not applicable",
    "designer's detail",
)

# ---- which things a check applies to ---------------------------------------------------------


@rule
def every_zone(zone_side_a: Column) -> Each:
    """Floor zones."""
    return count_of(less(0, zone_side_a))


@rule
def zones_on_hardcore(zone_hardcore_depth: Column) -> Each:
    """Zones with hardcore under them."""
    return count_of(less(0, zone_hardcore_depth))


@rule
def every_wall(wall_length: Column) -> Each:
    """Wall runs."""
    return count_of(less(0, wall_length))


@rule
def cavity_walls(wall_cavity: Column) -> Each:
    """Wall runs with a cavity."""
    return count_of(less(0, wall_cavity))


@rule
def every_edge(edge_length: Column) -> Each:
    """Edges of zones."""
    return count_of(less(0, edge_length))


@rule
def every_opening(opening_number: Column) -> Each:
    """Openings."""
    return count_of(less(0, opening_number))


@rule
def found_or_none(smallest: Amount) -> Amount:
    """The smallest figure; 0 where there was none to look at."""
    return where(less(smallest, NOTHING), smallest, 0)


@rule
def excluded(line: Text, line_key: TextColumn, line_status: TextColumn) -> Each:
    """1 when that line of the quantities is excluded."""
    return count_of(same(line_key, line), same(line_status, "excluded"))


@rule
def openings_with_tray(opening_with_tray: Column) -> Each:
    """Openings that have a tray."""
    return count_of(less(0, opening_with_tray))


@rule
def zones_with_sheet(zone_side_a: Column, line_key: TextColumn, line_bought: Column) -> Each:
    """Floor zones, where the sheet is bought."""
    return count_of(less(0, zone_side_a)) * count_of(same(line_key, "dpm"), same(line_bought, 1))


@rule
def every_tray(opening_with_tray: Column, abutment_tray: Column) -> Each:
    """Level trays, over openings and at roofs."""
    return count_of(less(0, opening_with_tray)) + count_of(less(0, abutment_tray))


@rule
def trays_bought(book_laps_as_tray: Column, book_packs: Column) -> Each:
    """Rolls of tray that are bought."""
    return count_of(same(book_laps_as_tray, 1), less(0, book_packs))


@rule
def lapped_dpcs(wall_length: Column) -> Each:
    """Wall runs, in which DPC is lapped."""
    return count_of(less(0, wall_length))


@rule
def radon_asked(radon_area: Text) -> Each:
    """1 unless the site is known to lie outside an affected area."""
    return where(same(radon_area, "no"), 0, 1)


# ---- how many of them have no figure ---------------------------------------------------------


@rule
def none_blank() -> Each:
    """Nothing can be blank here."""
    return 0


@rule
def walls_without_height(wall_length: Column, wall_dpc_height: Column) -> Each:
    """Wall runs with no height of DPC typed."""
    return count_of(less(0, wall_length), same(wall_dpc_height, 0))


@rule
def walls_without_depth(wall_cavity: Column, wall_cavity_below: Column) -> Each:
    """Cavity walls with no clear depth typed."""
    return count_of(less(0, wall_cavity), same(wall_cavity_below, 0))


@rule
def sheet_thickness(sheet_row: Each, book_thickness: Column) -> Amount:
    """Thickness of the sheet bought; 0 when it is not stated, or no sheet is bought."""
    # Times 1: one host takes a blank that was looked up for no number.
    return where(less(0, sheet_row), beside(book_thickness, sheet_row) * 1, 0)


@rule
def sheet_without_thickness(zone_side_a: Column, sheet_row: Each, book_thickness: Column) -> Each:
    """Zones whose sheet states no thickness."""
    return where(
        less(0, sheet_thickness(sheet_row, book_thickness)), 0, count_of(less(0, zone_side_a))
    )


@rule
def trays_of_unknown_make(
    book_laps_as_tray: Column, book_packs: Column, book_made_of: TextColumn
) -> Each:
    """Rolls of tray bought that do not say what they are made of."""
    return count_of(same(book_laps_as_tray, 1), less(0, book_packs), same(book_made_of, ""))


@rule
def radon_unknown(radon_area: Text) -> Each:
    """1 while nobody has found out."""
    return where(same(radon_area, "unknown"), 1, 0)


# ---- the worst figure given ------------------------------------------------------------------


@rule
def lowest_dpc(wall_dpc_height: Column) -> Millimetres:
    """Lowest DPC above its ground."""
    return found_or_none(smallest_of(wall_dpc_height, less(0, wall_dpc_height)))


@rule
def shallowest_cavity(wall_cavity_below: Column, wall_cavity: Column) -> Millimetres:
    """Shallowest clear cavity below a DPC."""
    return found_or_none(
        smallest_of(wall_cavity_below, less(0, wall_cavity_below), less(0, wall_cavity))
    )


@rule
def lap_of_sheet(dpm_lap: Millimetres) -> Millimetres:
    """Lap in the sheet, as used."""
    return dpm_lap


@rule
def lap_of_dpc(dpc_lap: Millimetres) -> Millimetres:
    """Lap in the DPC, as used."""
    return dpc_lap


@rule
def loose_edges(edge_loose_end: Column) -> Each:
    """Edges at walls where the sheet meets nothing."""
    return count_of(same(edge_loose_end, 1))


@rule
def edges_above(edge_above_dpc: Column) -> Each:
    """Edges where the membrane lies above the DPC it should meet."""
    return count_of(same(edge_above_dpc, 1))


@rule
def rise_of_trays(tray_rise: Millimetres) -> Millimetres:
    """Rise of trays, as used."""
    return tray_rise


@rule
def past_closers(tray_past_closer: Millimetres) -> Millimetres:
    """Trays past the closers, as used."""
    return tray_past_closer


@rule
def past_lintels(tray_past_lintel: Millimetres) -> Millimetres:
    """Trays past the lintels, as used."""
    return tray_past_lintel


@rule
def openings_bare(
    opening_number: Column,
    opening_with_tray: Column,
    line_key: TextColumn,
    line_status: TextColumn,
) -> Each:
    """Openings without a tray over them; all of them where trays are excluded."""
    return where(
        less(0, excluded("trays", line_key, line_status)),
        count_of(less(0, opening_number)),
        count_of(less(0, opening_number), same(opening_with_tray, 0)),
    )


@rule
def polyethylene_trays(
    book_laps_as_tray: Column, book_packs: Column, book_made_of: TextColumn
) -> Each:
    """Rolls of plain polyethylene bought as trays."""
    return count_of(
        same(book_laps_as_tray, 1), less(0, book_packs), same(book_made_of, "polyethylene")
    )


@rule
def stop_ends_each(
    opening_with_tray: Column,
    opening_stop_ends: Column,
    line_key: TextColumn,
    line_status: TextColumn,
) -> Each:
    """Stop ends to each tray over an opening; 0 when stop ends are excluded, there or at roofs."""
    return where(
        less(
            0,
            excluded("stop_ends", line_key, line_status)
            + excluded("roof_stop_ends", line_key, line_status),
        ),
        0,
        divided(total(opening_stop_ends), total(opening_with_tray)),
    )


@rule
def weeps_apart(weep_step: Millimetres) -> Millimetres:
    """Weeps as built apart."""
    return weep_step


@rule
def fewest_weeps(
    opening_weeps_each: Column,
    opening_with_tray: Column,
    line_key: TextColumn,
    line_status: TextColumn,
) -> Each:
    """Fewest weeps over any opening; 0 when weeps are excluded."""
    return where(
        less(
            0,
            excluded("inserts", line_key, line_status) + excluded("vents", line_key, line_status),
        ),
        0,
        found_or_none(smallest_of(opening_weeps_each, less(0, opening_with_tray))),
    )


@rule
def unblinded(zone_hardcore_depth: Column, zone_blinding_volume: Column) -> Each:
    """Zones with sheet on hardcore and no blinding between."""
    return count_of(less(0, zone_hardcore_depth), same(zone_blinding_volume, 0))


@rule
def deepest_hardcore(zone_hardcore_depth: Column) -> Millimetres:
    """Deepest hardcore."""
    return largest_of(zone_hardcore_depth)


@rule
def layer_used(hardcore_layer_max: Millimetres) -> Millimetres:
    """Thickness of layers, as used."""
    return hardcore_layer_max


@rule
def thinnest_slab(zone_slab: Column, zone_side_a: Column) -> Millimetres:
    """Thinnest slab."""
    return found_or_none(smallest_of(zone_slab, less(0, zone_side_a)))


@rule
def in_radon_area(radon_area: Text) -> Flag:
    """1 on a site in an affected area."""
    return where(same(radon_area, "yes"), 1, 0)


# ---- the verdict -----------------------------------------------------------------------------


@rule
def asked(asked_row: Each, asked_here: Amount, allowance_by_basis: Column) -> Amount:
    """What the basis asks, or what this check asks of itself."""
    return where(less(0, asked_row), beside(allowance_by_basis, asked_row), asked_here)


@rule
def asked_by(asked_row: Each, asked_by_here: Text, allowance_clause: TextColumn) -> Text:
    """Who asks it, and where."""
    return where(less(0, asked_row), beside(allowance_clause, asked_row), asked_by_here)


@rule
def regulatory(asked_row: Each, allowance_regulatory: Column) -> Amount:
    """The regulatory figure, whatever the basis; 0 where the check has none of its own."""
    return where(less(0, asked_row), beside(allowance_regulatory, asked_row), 0)


@rule
def falls_short(found: Amount, asked: Amount, at_least: Flag) -> Flag:
    """1 when the figure given does not reach, or exceeds, what is asked; 0 where none is asked."""
    return where(
        same(at_least, 1),
        where(less(found, first_given(asked, found)), 1, 0),
        where(less(first_given(asked, found), found), 1, 0),
    )


@rule
def state(applies: Each, blank: Each, asked: Amount, falls_short: Flag) -> Text:
    """What the check says. A blank never meets; without a figure asked it is the designer's."""
    return where(
        same(applies, 0),
        "not applicable",
        where(
            at_most(applies, blank),
            "not given",
            where(
                given(asked),
                where(same(falls_short, 1), "short", where(less(0, blank), "not given", "meets")),
                "designer's detail",
            ),
        ),
    )


@rule
def would_stop(
    can_stop: Flag, state: Text, asked_row: Each, found: Amount, regulatory: Amount, at_least: Flag
) -> Flag:
    """1 when the check stops its lines unless a reason is given.

    It can stop, and is short or not given. Where its basis states no figure the regulatory one
    decides; a check that has no figure at all is always the designer's.
    """
    return can_stop * where(
        either(same(state, "meets"), same(state, "not applicable")),
        0,
        where(
            both(same(state, "designer's detail"), less(0, asked_row)),
            falls_short(found, regulatory, at_least),
            1,
        ),
    )


@rule
def stops(would_stop: Flag, reason: Text) -> Flag:
    """1 when its lines become provisional: it would stop, and nobody gives a reason to go on."""
    return where(is_blank(reason), would_stop, 0)


@rule
def overridden_no(
    overridden: Flag, position: Each, check_overridden: Column, check_position: Column
) -> Each:
    """Its place among the stops that a reason takes away; 0 for none."""
    return where(
        same(overridden, 1),
        count_of(same(check_overridden, 1), less(check_position, position + 1)),
        0,
    )


@rule
def overridden(would_stop: Flag, stops: Flag) -> Flag:
    """1 where a reason takes a stop away."""
    return would_stop - stops


@rule
def regulation_note(
    applies: Each, found: Amount, regulatory: Amount, asked_row: Each, at_least: Flag
) -> Text:
    """Whether the figure given falls short of the regulatory one, whatever the basis asks."""
    return where(
        both(less(0, applies), less(0, asked_row)),
        where(
            same(falls_short(found, regulatory, at_least), 1),
            "short of the regulatory figure",
            "",
        ),
        "",
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
    blank: Callable[..., Any] = none_blank
    allowance: str = ""
    asks: float | str = 0
    asked_by: str = ""
    at_least: bool = True
    can_stop: bool = False


_BY_CONTINUITY = "Approved Document C (2004), para 4.7(c); NHBC Standards 5.1.20"
_BY_TRAYS = "NHBC Standards 2020, 6.1.17, Table 9"
_BY_STOP_ENDS = "Approved Document C (2004), para 5.5(c)"
_BY_BLINDING = "Approved Document C (2004), para 4.8; NHBC Standards 5.1.16"
_BY_MATERIAL = "NHBC Technical Guidance 6.1/38, as reported"
_BY_RADON = "BR 211, as reported: a membrane and more may be needed in an affected area"

CHECKS = (
    Check("dpc_height", "DPC above finished ground", "dpc", "mm", every_wall, lowest_dpc,
          walls_without_height, "dpc_height_min"),
    Check("dpm_thickness", "Thickness of DPM sheet", "floor", "µm", zones_with_sheet, sheet_thickness,
          sheet_without_thickness, "dpm_thickness"),
    Check("dpm_lap", "Lap in DPM sheet", "floor", "mm", every_zone, lap_of_sheet,
          allowance="dpm_lap"),
    Check("dpc_lap", "Lap in DPC", "dpc", "mm", lapped_dpcs, lap_of_dpc, allowance="dpc_lap"),
    Check("connection", "Edges where DPM meets no DPC", "floor", "nr", every_edge, loose_edges,
          asked_by=_BY_CONTINUITY, at_least=False),
    Check("levels", "Edges where DPM lies above its DPC", "floor", "nr", every_edge, edges_above,
          asked_by=_BY_CONTINUITY, at_least=False),
    Check("cavity_below", "Clear cavity below DPC", "dpc", "mm", cavity_walls, shallowest_cavity,
          walls_without_depth, "cavity_clear_min"),
    Check("tray_rise", "Rise of trays across the cavity", "openings", "mm", every_tray,
          rise_of_trays, allowance="tray_rise"),
    Check("past_closer", "Trays past the closer", "openings", "mm", every_opening, past_closers,
          allowance="tray_past_closer"),
    Check("past_lintel", "Trays past the lintel", "openings", "mm", every_opening, past_lintels,
          allowance="tray_past_lintel"),
    Check("tray_over", "Openings without a tray", "openings", "nr", every_opening, openings_bare,
          asked_by=_BY_TRAYS, at_least=False),
    Check("tray_material", "Trays of plain polyethylene DPC", "openings", "nr", trays_bought,
          polyethylene_trays, trays_of_unknown_make, asked_by=_BY_MATERIAL,
          at_least=False),
    Check("stop_ends", "Stop ends to each tray", "openings", "nr", openings_with_tray, stop_ends_each,
          asks=2, asked_by=_BY_STOP_ENDS),
    Check("weep_spacing", "Weeps apart", "openings", "mm", every_tray, weeps_apart,
          allowance="weep_spacing", at_least=False),
    Check("weeps_min", "Fewest weeps over an opening", "openings", "nr", openings_with_tray,
          fewest_weeps, allowance="weeps_min"),
    Check("blinding", "Zones of sheet on hardcore without blinding", "floor", "nr",
          zones_on_hardcore, unblinded, asked_by=_BY_BLINDING, at_least=False),
    Check("hardcore_depth", "Deepest hardcore", "floor", "mm", every_zone, deepest_hardcore,
          allowance="hardcore_depth_max", at_least=False, can_stop=True),
    Check("hardcore_layers", "Layers of hardcore", "floor", "mm", zones_on_hardcore, layer_used,
          allowance="hardcore_layer_max", at_least=False),
    Check("slab", "Thinnest slab", "floor", "mm", every_zone, thinnest_slab,
          allowance="slab_thickness_min"),
    Check("radon", "Site in a radon or gas area", "floor", "nr", radon_asked, in_radon_area,
          radon_unknown, asks="no figure", asked_by=_BY_RADON, at_least=False, can_stop=True),
)  # fmt: skip

# What is bought is checked apart: a stop must never depend on a price, or a line's status would
# depend on its own cost. (One spreadsheet program also took that for a circle when it recalculated.)
OF_PRODUCTS = ("dpm_thickness", "tray_material")
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
            Fixed("asked_by_here", "Asked by", TEXT),
            Fixed("at_least", "At least", FLAG),
            Fixed("can_stop", "Can stop", FLAG),
            find("asked_row", "Allowance no.", by="allowance", where="allowances.key"),
            Varied("applies", "Concerns", EACH, "How many things it concerns.",
                   rules=tuple(rule_of(c.applies) for c in checks)),
            Varied("blank", "Left blank", EACH, "How many of them have no figure.",
                   rules=tuple(rule_of(c.blank) for c in checks)),
            Varied("found", "Given", AMOUNT, "The worst figure given.",
                   rules=tuple(rule_of(c.found) for c in checks)),
            worked(asked),
            worked(asked_by, "Asked by"),
            worked(regulatory, "Regulatory figure"),
            worked(falls_short, "Falls short"),
            worked(state, "State"),
            text("reason", "Reason to go on", "Printed; it takes away a stop.", required=False),
            *last,
            worked(regulation_note, "Beside the regulatory figure"),
        ),
        key="key",
        guarded=False,
    )  # fmt: skip


CHECKS_TABLE = _table(
    "checks",
    "check",
    "Details",
    SITE_CHECKS,
    worked(would_stop, "Would stop"),
    worked(stops, "Stops"),
    worked(overridden, "Overridden"),
    worked(overridden_no, "Overridden no."),
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
            "reason": reasons.get(c.key),
        }
        for c in checks
    ]
