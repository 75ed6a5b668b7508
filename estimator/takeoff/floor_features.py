"""What breaks a plain floor: thickenings of the slab, partitions built off it, piers and corners."""

from ..language import *

_MEANS = {
    "dips": "Sheet dips under it",
    "takes_dpc": "Stands on a DPC",
    "patched": "A preformed corner or patch each",
}

FEATURE_KINDS = Table(
    "feature_kinds",
    "feature_kind",
    "Kinds of floor feature",
    (
        Fixed("name", "Feature", TEXT),
        *(Fixed(name, label, FLAG) for name, label in _MEANS.items()),
    ),
    key="name",
    guarded=False,
)


def _kind(name: str, *means: str) -> dict[str, object]:
    return {"name": name, **{m: int(m in means) for m in _MEANS}}


FEATURE_KIND_ROWS = (
    _kind("thickening", "dips"),
    _kind("partition off the slab", "takes_dpc"),
    _kind("pier", "patched"),
    _kind("column", "patched"),
    _kind("re-entrant corner", "patched"),
)


@rule
def complete(
    dips: Flag,
    takes_dpc: Flag,
    along: Text,
    length: Metres,
    width: Millimetres,
    depth: Millimetres,
) -> Flag:
    """1 when a thickening has its direction and depth, and a partition its length and width."""
    return where(
        same(dips, 1),
        where(both(given(depth), either(same(along, "A"), same(along, "B"))), 1, 0),
        where(same(takes_dpc, 1), where(both(given(length), given(width)), 1, 0), 1),
    )


@rule
def dip(dips: Flag, on_sheet: Flag, slab_over: Flag, number: Each, depth: Millimetres) -> Metres:
    """More sheet across a thickening: down one side and up the other.

    Only where the sheet lies under what is thickened.
    """
    return dips * on_sheet * slab_over * number * 2 * first_given(depth, 0) / 1000


@rule
def dpc_length(takes_dpc: Flag, number: Each, length: Metres) -> Metres:
    """DPC under partitions built off the slab."""
    return takes_dpc * number * first_given(length, 0)


@rule
def dpc_width(takes_dpc: Flag, width: Millimetres) -> Millimetres:
    """Least width of that DPC: the full width of the partition (NHBC 2020, 6.1.17, Table 9)."""
    return takes_dpc * first_given(width, 0)


@rule
def dpc_limit(takes_dpc: Flag, dpc_width: Millimetres, dpc_projection: Millimetres) -> Millimetres:
    """Widest DPC that lies under the partition untrimmed."""
    return where(same(takes_dpc, 1), dpc_width + dpc_projection, 0)


@rule
def patches(patched: Flag, on_sheet: Flag, number: Each) -> Each:
    """Preformed corners and patches: one for each pier, column and re-entrant corner."""
    return patched * on_sheet * number


FLOOR_FEATURES = Table(
    "floor_features",
    "feature",
    "Floor features",
    (
        text("mark", "Ref", "The feature's own reference, used once."),
        text("zone", "Floor", "The floor it lies in.", choice_of="zones.mark"),
        text("kind", "Feature", choice_of="feature_kinds.name"),
        text("along", "Runs along", "A thickening: the side it runs along.",
             choices=("A", "B"), required=False),
        number("number", "Number", EACH, 1, 100, "How many alike."),
        number("length", "Length", METRES, 0.05, 60, "Of a partition, each.", required=False),
        number("width", "Width", MILLIMETRES, 50, 600, "Of a partition: its DPC is as wide.",
               required=False),
        number("depth", "Depth", MILLIMETRES, 10, 1000,
               "Of a thickening, below the underside of the slab.", required=False),
        find("kind_row", "Kind no.", by="kind", where="feature_kinds.name"),
        find("zone_row", "Floor no.", by="zone", where="zones.mark"),
        *(
            read(name, label, FLAG, f"feature_kinds.{name}", at="kind_row")
            for name, label in _MEANS.items()
        ),
        read("on_sheet", "On a sheet", FLAG, "zones.sheet", at="zone_row"),
        read("slab_over", "Slab over the DPM", FLAG, "zones.slab_over", at="zone_row"),
        worked(complete),
        worked(dip, "More sheet"),
        worked(dpc_length, "DPC"),
        worked(dpc_width, "DPC, least width"),
        worked(dpc_limit, "DPC, most width"),
        worked(patches, "Corners, patches"),
    ),
    grows=True,
    shown=("dpc_length", "patches"),
    spare=(4, 6),
)  # fmt: skip
