"""What the form takes for granted until somebody measures it: each can be typed over, and is said."""

from dataclasses import dataclass

from ..language import *


@dataclass(frozen=True)
class Assumption:
    """One figure taken for granted, and the named cell that says whether the job needs it."""

    key: str
    label: str
    unit: Unit
    figure: float
    least: float
    most: float
    needed_by: str
    says: str
    since: int = 1  # the layout in which it first stood


ASSUMPTIONS = (
    Assumption("assumed_chase", "Depth of the chase in the wall of the house", MILLIMETRES, 25, 0, 100,
               "extension_asked", "common practice. Ask the designer before you cut"),
    Assumption("assumed_bearing", "Bearing of lintels, each end", MILLIMETRES, 150, 0, 600,
               "openings_wanted", "common practice. Ask the lintel's maker"),
    Assumption("assumed_closer", "Closers: how far along the wall beside a jamb", MILLIMETRES, 50, 10, 300,
               "openings_wanted", "common practice. Follows the closer you choose, bought as wide as the cavity"),
    Assumption("assumed_door", "Height of doors", METRES, 2.1, 1.5, 6, "extension_doors",
               "common practice. Take it off the drawing"),
    Assumption("assumed_old_leaf", "Outer leaf of the house", MILLIMETRES, 102.5, 50, 600,
               "extension_asked", "work size of a brick: RICS isurv measurement conventions, p. 8. Measure it"),
    Assumption("assumed_old_cavity", "Cavity of the house", MILLIMETRES, 50, 25, 300,
               "tray_wanted", "common practice for its age. Open up and measure"),
    Assumption("assumed_courses", "Courses cut out for the tray", EACH, 2, 1, 6, "tray_wanted",
               "common practice. Follows the tray unit you choose"),
    Assumption("assumed_unit", "Length of a tray unit", METRES, 0.9, 0.2, 6, "tray_wanted",
               "common practice. Follows the unit you can buy"),
    Assumption("assumed_unit_lap", "Lap of tray units", MILLIMETRES, 100, 0, 500, "tray_wanted",
               "common practice. 0 where they butt"),
    Assumption("assumed_bay", "Longest bay opened at once", METRES, 0.9, 0.2, 6, "tray_wanted",
               "The designer of the temporary support decides"),
    Assumption("assumed_duct", "Size of ducts", MILLIMETRES, 110, 50, 400, "extension_old_vents",
               "common practice. Keep the free area of the old air brick"),
    Assumption("assumed_duct_length", "Length of the duct stocked", METRES, 3, 0.3, 6,
               "extension_old_vents", "common practice"),
    Assumption("assumed_dpc_height", "DPC of new walls above ground", MILLIMETRES, 150, 75, 2000,
               "new_dpc_by_height", "common practice, two courses. Take it off the drawing", since=4),
    Assumption("assumed_hardcore", "Hardcore under the floor, formation not given", MILLIMETRES, 150, 0,
               600, "formations_assumed",
               "common practice, one layer. Take it off the section, confirm on site", since=10),
)  # fmt: skip


@rule
def figure_in_use(figure_typed: Amount, figure: Amount) -> Amount:
    """As typed, else as assumed."""
    return first_given(figure_typed, figure)


@rule
def needed_here(needed: Each) -> Flag:
    """1 where this job needs the figure."""
    return where(less(0, first_given(needed, 0)), 1, 0)


@rule
def state(figure_typed: Amount, needed: Flag) -> Text:
    """Whether the figure was typed, is assumed, or is not needed."""
    return where(same(needed, 0), "not needed", where(given(figure_typed), "typed", "assumed"))


ASSUMED = Table(
    "assumed",
    "assumption",
    "Assumed until typed",
    (
        Fixed("key", "Name in formulas", TEXT),
        Fixed("label", "Assumed", TEXT),
        Fixed("unit", "Unit", TEXT),
        Fixed("figure", "Until typed", AMOUNT),
        Fixed("least", "Least", AMOUNT),
        Fixed("most", "Most", AMOUNT),
        Fixed("says", "Who says so", TEXT),
        Input("figure_typed", "Yours", AMOUNT, "Replaces what is assumed.", required=False,
              limits_in=("least", "most")),
        worked(figure_in_use, "In use"),
        Varied("needed", "Needed", EACH, "Whether this job needs it.",
               rules=tuple(worked(needed_here, needed=NamedCell(a.needed_by)) for a in ASSUMPTIONS)),
        worked(state),
    ),
    key="key",
    guarded=False,
    names="figure_in_use",
)  # fmt: skip
ASSUMED_ROWS = tuple(
    {
        "key": a.key,
        "label": a.label,
        "unit": a.unit.sign,
        "figure": a.figure,
        "least": a.least,
        "most": a.most,
        "says": a.says,
    }
    for a in ASSUMPTIONS
)
ITEMS: tuple[Item, ...] = tuple(
    Item(a.key, a.label, a.unit, a.says, since=a.since) for a in ASSUMPTIONS
)


@rule
def figures_assumed(assumption_state: TextColumn) -> Each:
    """Figures the form takes for granted."""
    return count_of(same(assumption_state, "assumed"))


@rule
def formations_assumed(zone_formation_level_taken: Column) -> Each:
    """Floors whose formation follows from hardcore that is assumed."""
    return total(zone_formation_level_taken)


@rule
def assumed_below(
    formation_unknown: Flag,
    floor_build_no: Each,
    floor_build_kind: TextColumn,
    floor_kind_name: TextColumn,
    floor_kind_on_hardcore: Column,
    floor_kind_suspended: Column,
    floor_kind_blinded: Column,
    assumed_hardcore: Millimetres,
    blinding_thickness: Millimetres,
) -> Millimetres:
    """Hardcore as assumed, and the blinding on it, under the floor that was answered. 0 where its
    formation is known, or no hardcore carries it: a void is not assumed."""
    return where(
        less(0, formation_unknown * floor_build_no),
        sum_of(
            floor_kind_on_hardcore * (assumed_hardcore + floor_kind_blinded * blinding_thickness),
            same(floor_kind_name, beside(floor_build_kind, floor_build_no)),
            same(floor_kind_suspended, 0),
        ),
        0,
    )


@rule
def floor_finished(extension_finished: Metres) -> Metres:
    """Finished floor level as answered. 0 while it is not."""
    return first_given(extension_finished, 0)


@rule
def floor_layer(floor_build_no: Each, column: Column) -> Millimetres:
    """Thickness of a layer of the floor that was answered. 0 while none was."""
    return where(less(0, floor_build_no), beside(column, floor_build_no), 0)


def _layer(name: str, label: str) -> Worked:
    stands = WholeColumn("floor_builds", name)
    return worked(floor_layer, label, f"floor_{name}", column=stands)


@rule
def assumed_note(figures_assumed: Each) -> Text:
    """What the client is told while figures are assumed."""
    return where(
        less(0, figures_assumed),
        "Sizes of the existing house, levels in the ground, and sizes of what is stocked are assumed "
        "where they were not measured. What follows from them is priced as assumed, and changes "
        "with them, on firm lines too.",
        "",
    )


@rule
def typed_instead(key: Text, assumption_key: TextColumn, assumption_figure_typed: Column) -> Amount:
    """The figure typed in place of the one assumed. 0 for none."""
    return sum_of(assumption_figure_typed, same(assumption_key, key))


@rule
def still_assumed(key: Text, assumption_key: TextColumn, assumption_figure_typed: Column) -> Flag:
    """1 where nobody typed a figure in place of the one assumed."""
    return where(less(0, typed_instead(key, assumption_key, assumption_figure_typed)), 0, 1)


CELLS = (
    worked(
        typed_instead, "Height typed of the new DPC", "own_dpc_height", key="assumed_dpc_height"
    ),
    worked(still_assumed, "Bearing not typed", "bearing_assumed", key="assumed_bearing"),
    worked(still_assumed, "Closer not typed", "closer_assumed", key="assumed_closer"),
    worked(floor_finished, "Finished floor, as answered"),
    _layer("screed", "Screed, as answered"),
    _layer("insulation", "Insulation, as answered"),
    _layer("slab", "Slab, as answered"),
    worked(assumed_below, "Hardcore and blinding assumed"),
    worked(formations_assumed, "Formations by assumed hardcore"),
    worked(figures_assumed, "Figures the form assumes"),
    worked(assumed_note, "Assumed"),
)
