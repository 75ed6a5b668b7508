"""Floor build-ups: in which order the layers lie, and the levels and depths that follow.

Ground-bearing floors have their sheet under the slab, between slab and screed, or sandwiched.
Suspended floors hang over a void. Where an oversite stands on hardcore the void is typed and the
hardcore is what is left; elsewhere the void is what the levels leave.
"""

from ..language import *

_MEANS = {
    "sheet": "Has a DPM sheet",
    "slab_over": "Slab over the DPM",
    "insulation_over": "Insulation over the DPM",
    "blinded": "Sheet on a bed",
    "on_hardcore": "On hardcore",
    "suspended": "Suspended",
    "timber": "Of timber",
    "ventilated": "Ventilated",
    "slab_edge": "Strip round the edge",
}

FLOOR_KINDS = Table(
    "floor_kinds",
    "floor_kind",
    "Floor build-ups",
    (
        Fixed("name", "Build-up", TEXT),
        *(Fixed(name, label, FLAG) for name, label in _MEANS.items()),
        Fixed("oversite", "Oversite", MILLIMETRES),
    ),
    key="name",
    guarded=False,
)


def _kind(name: str, *means: str, oversite: float = 0) -> dict[str, object]:
    return {"name": name, **{m: int(m in means) for m in _MEANS}, "oversite": oversite}


_GROUND = ("on_hardcore", "slab_edge")
_HUNG = ("suspended", "ventilated")
# Oversite: Approved Document C (2004), para 4.14(a), from memory: 100 mm of concrete on hardcore,
# or 50 mm on polyethylene sheet of 300 µm with sealed joints.
FLOOR_KIND_ROWS = (
    _kind("slab on DPM, insulation above", "sheet", "slab_over", "insulation_over", "blinded",
          *_GROUND),
    _kind("slab on DPM, insulation below", "sheet", "slab_over", "blinded", *_GROUND),
    _kind("screed on DPM", "sheet", *_GROUND),
    _kind("insulation and screed on DPM", "sheet", "insulation_over", *_GROUND),
    _kind("beam and block", "slab_edge", *_HUNG),
    _kind("suspended timber, concrete oversite", "timber", "on_hardcore", *_HUNG, oversite=100),
    _kind("suspended timber, oversite on sheet", "sheet", "slab_over", "insulation_over", "blinded",
          "timber", *_HUNG, oversite=50),
)  # fmt: skip


@rule
def floor_depth(screed: Millimetres, insulation: Millimetres, slab: Millimetres) -> Millimetres:
    """Depth of the floor itself: screed, insulation, and slab or structure, in whatever order."""
    return screed + insulation + slab


@rule
def to_dpc(sheet: Flag, suspended: Flag) -> Flag:
    """1 where the sheet is dressed on to the DPC of the walls: in floors on the ground."""
    return sheet * (1 - suspended)


@rule
def upstand(sheet: Flag, suspended: Flag, oversite: Millimetres) -> Millimetres:
    """Turn-up of a sheet under an oversite, unless typed: to the top of the oversite.

    An upstand to the top of the slab: a note to a UK project specification.
    """
    return sheet * suspended * oversite


@rule
def bed(blinded: Flag, blinding_thickness: Millimetres) -> Millimetres:
    """Thickness of the bed of blinding. Nothing where no sheet lies on hardcore or on the ground.

    Where the sheet lies on the slab, blinding may be omitted and is not measured.
    """
    return where(same(blinded, 1), blinding_thickness, 0)


@rule
def room_below(
    finished_level: Metres,
    formation_level: Metres,
    floor_depth: Millimetres,
    oversite: Millimetres,
    bed: Millimetres,
) -> Millimetres:
    """What the levels leave for hardcore and void: below 0 where the layers do not fit."""
    return (finished_level - formation_level) * 1000 - floor_depth - oversite - bed


@rule
def void_typed(suspended: Flag, on_hardcore: Flag) -> Flag:
    """1 where the void must be typed: under a suspended floor whose oversite is on hardcore."""
    return suspended * on_hardcore


@rule
def void_agrees(void_typed: Flag, void: Millimetres) -> Flag:
    """1 when the void is typed where it must be, and only there."""
    return where(given(void), void_typed, 1 - void_typed)


@rule
def void_depth(
    suspended: Flag, void_typed: Flag, void: Millimetres, room_below: Millimetres
) -> Millimetres:
    """Void under a suspended floor, to its underside. Typed, or what the levels leave."""
    return suspended * where(same(void_typed, 1), first_given(void, 0), most(0, room_below))


@rule
def hardcore_depth(
    on_hardcore: Flag, room_below: Millimetres, void_depth: Millimetres
) -> Millimetres:
    """Depth left for hardcore: finished level less everything above it, less formation."""
    return on_hardcore * most(0, room_below - void_depth)


@rule
def levels_agree(room_below: Millimetres, void_depth: Millimetres, void_typed: Flag) -> Flag:
    """1 when there is room for every layer, and the void, above the formation."""
    return where(at_most(void_typed * void_depth, room_below), 1, 0)


@rule
def over_sheet(
    screed: Millimetres,
    insulation: Millimetres,
    insulation_over: Flag,
    slab: Millimetres,
    slab_over: Flag,
    void_depth: Millimetres,
    oversite: Millimetres,
) -> Millimetres:
    """Everything between the finished floor and the sheet: the void and the oversite too."""
    return screed + insulation * insulation_over + slab * slab_over + void_depth + oversite


@rule
def dpm_level(sheet: Flag, finished_level: Metres, over_sheet: Millimetres) -> Metres:
    """Level of the membrane, below everything that lies over it. 0 where there is no sheet."""
    return sheet * (finished_level - over_sheet / 1000)


@rule
def depth_note(
    hardcore_depth: Millimetres, hardcore_depth_max: Millimetres, suspended: Flag
) -> Text:
    """What the depth of hardcore asks for."""
    return where(
        same(suspended, 1),
        "",
        where(
            at_most(hardcore_depth, hardcore_depth_max),
            "",
            "too deep: needs a suspended floor, ask the designer",
        ),
    )


@rule
def plate_missing(timber: Flag, plate: Millimetres) -> Flag:
    """1 for a timber floor whose wall plate is not given."""
    return where(given(plate), 0, timber)


@rule
def void_to_plate(timber: Flag, void_depth: Millimetres, plate: Millimetres) -> Millimetres:
    """Void below the wall plate of a timber floor."""
    return timber * (void_depth - first_given(plate, 0))


BUILD_UP = text("build_up", "Build-up", "The order of its layers.",
                choice_of="floor_kinds.name")  # fmt: skip

LAYERS: tuple[Input, ...] = (
    number("screed", "Screed", MILLIMETRES, 0, 300, "0 where there is none."),
    number("insulation", "Insulation", MILLIMETRES, 0, 500,
           "Its depth in the floor. 0 for none, and where it lies between joists."),
    number("slab", "Slab or structure", MILLIMETRES, 0, 500,
           "Concrete slab. Of a suspended floor: beams and blocks, or joists and boards."),
)  # fmt: skip

OF_SUSPENDED: tuple[Input, ...] = (
    number("void", "Void", MILLIMETRES, 0, 2000,
           "From the oversite to the underside of the floor. Type it only for a concrete oversite "
           "on hardcore. Elsewhere it follows from levels.", required=False),
    number("plate", "Wall plate", MILLIMETRES, 0, 300,
           "Depth of the wall plate below the joists. 0 where they are built in or hung.",
           required=False),
    number("free_area", "Air brick, free area", SQUARE_MILLIMETRES, 100, 100000,
           "Of one underfloor air brick. A ventilated floor needs it.", required=False),
    number("sleeper_length", "Sleeper walls", METRES, 0, 200,
           "In all, half a brick thick. Blank: none.", required=False),
)  # fmt: skip

KIND_COLUMNS: tuple[Item, ...] = (
    find("floor_row", "Build-up no.", by="build_up", where="floor_kinds.name"),
    *(
        read(name, label, FLAG, f"floor_kinds.{name}", at="floor_row")
        for name, label in _MEANS.items()
    ),
    read("oversite", "Oversite", MILLIMETRES, "floor_kinds.oversite", at="floor_row"),
)

LEVEL_COLUMNS: tuple[Item, ...] = (
    worked(to_dpc, "Sheet to DPC"),
    worked(upstand, "Oversite upstand"),
    worked(floor_depth, "Depth of floor"),
    worked(bed, "Bed of blinding"),
    worked(room_below, "Room below"),
    worked(void_typed, "Void is typed"),
    worked(void_agrees, "Void agrees"),
    worked(void_depth, "Void"),
    worked(void_to_plate, "Void to plate"),
    worked(plate_missing, "No plate given"),
    worked(over_sheet, "Over the DPM"),
    worked(dpm_level, "Level of DPM"),
    worked(hardcore_depth, "Hardcore depth"),
    worked(depth_note, "Depth"),
    worked(levels_agree, "Levels agree"),
)
