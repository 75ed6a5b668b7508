"""What covers a tray outside, laid by others and counted: lead, soakers, sealant."""

from ..language import *


@rule
def slope_length(kind_slopes: Each, length: Metres, pitch: Pitch) -> Metres:
    """Length up one slope, from its run on plan."""
    return where(
        same(kind_slopes, 0),
        0,
        root_of(
            length * length
            + (length * tan_of(first_given(pitch))) * (length * tan_of(first_given(pitch)))
        ),
    )


@rule
def flashing_length(kind_level: Flag, length: Metres, slope_length: Metres) -> Metres:
    """Length of one run of flashing: along a level roof, or up one slope."""
    return where(same(kind_level, 1), length, slope_length)


@rule
def flashing_runs(number: Each, kind_level: Flag, kind_slopes: Each) -> Each:
    """Runs of flashing: one along a level roof, one up each slope, on a solid wall too."""
    return number * (kind_level + kind_slopes)


@rule
def pieces_of_lead(
    flashing_length: Metres, lead_piece_max: Millimetres, lead_lap: Millimetres
) -> Each:
    """Pieces of lead in one run: each after the first gives up one lap. Never fewer than one."""
    return most(1, whole_up(divided(flashing_length * 1000 - lead_lap, lead_piece_max - lead_lap)))


@rule
def lead_pieces(flashing_runs: Each, pieces_of_lead: Each) -> Each:
    """Pieces of lead flashing. Laid by others."""
    return flashing_runs * pieces_of_lead


@rule
def flashing_laps(flashing_runs: Each, pieces_of_lead: Each, lead_lap: Millimetres) -> Metres:
    """Laps in cover flashing: one at every change of piece."""
    return flashing_runs * (pieces_of_lead - 1) * lead_lap / 1000


@rule
def cover_flashing(
    abutment_flashing_runs: Column,
    abutment_flashing_length: Column,
    cut_in_flashing_runs: Column,
    cut_in_flashing_length: Column,
) -> Metres:
    """Cover flashing over all trays at roofs, net: along the roof and up its slopes, no laps."""
    return total(abutment_flashing_runs * abutment_flashing_length) + total(
        cut_in_flashing_runs * cut_in_flashing_length
    )


@rule
def cover_flashing_laps(abutment_flashing_laps: Column, cut_in_flashing_laps: Column) -> Metres:
    """Laps in all of it, beside its net length."""
    return total(abutment_flashing_laps) + total(cut_in_flashing_laps)


@rule
def sealant(flashing_runs: Each, flashing_length: Metres) -> Metres:
    """Sealant along the edge of the flashing in the wall. By others."""
    return flashing_runs * flashing_length


@rule
def soakers(number: Each, kind_slopes: Each, slope_length: Metres, tile_gauge: Millimetres) -> Each:
    """Soakers: one to every course of tiles up each slope. None where no gauge is given."""
    return where(
        less(0, first_given(tile_gauge, 0)),
        number * kind_slopes * whole_up(divided(slope_length * 1000, first_given(tile_gauge, 0))),
        0,
    )


FLASHING_COLUMNS = (
    worked(slope_length, "Length up slope"),
    worked(flashing_length),
    worked(flashing_runs),
    worked(pieces_of_lead, "Pieces of lead a run"),
    worked(lead_pieces, "Pieces of lead"),
    worked(flashing_laps),
    worked(sealant, "Sealant"),
    worked(soakers),
)
