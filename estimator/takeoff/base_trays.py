"""The foot of a cavity wall: a tray at DPC level, and the drainage below a timber frame."""

from ..language import *
from .openings import inserts, tray_girth, vents, weeps_over

PERPEND_AREA = 650  # mm², one bare joint, 10 by 65 mm: RICS isurv measurement conventions p. 8


@rule
def with_base_tray(cavity: Millimetres, base_tray: Text, radon_area: Text) -> Flag:
    """1 where a tray crosses the cavity at DPC level: as typed, and always in a radon area."""
    return where(
        both(less(0, cavity), either(same(base_tray, "yes"), same(radon_area, "yes"))), 1, 0
    )


@rule
def base_trays(with_base_tray: Flag, outer_length: Metres) -> Metres:
    """Tray at DPC level, net: as long as the outer leaf."""
    return with_base_tray * outer_length


@rule
def base_step_laps(
    with_base_tray: Flag, steps: Each, step_rise: Millimetres, tray_lap: Millimetres
) -> Metres:
    """What steps add to the tray at DPC level: the rise and two laps each."""
    return (
        with_base_tray * first_given(steps, 0) * (first_given(step_rise, 0) + 2 * tray_lap) / 1000
    )


@rule
def base_corners(with_base_tray: Flag, corners: Each) -> Each:
    """Corners of the tray at DPC level, each a lap of its full width."""
    return with_base_tray * corners


@rule
def base_stop_ends(with_base_tray: Flag, run_in_use: Text) -> Each:
    """Stop ends of the tray at DPC level: two to an open run, none to one that closes."""
    return with_base_tray * where(same(run_in_use, "closed"), 0, 2)


@rule
def weeps_on_ring(length: Metres, weep_step: Millimetres, weeps_min: Each) -> Each:
    """Weeps along a tray that closes: as many as there are gaps."""
    return most(weeps_min, whole_up(length * 1000 / weep_step))


@rule
def weeps_round(
    run_in_use: Text,
    outer_length: Metres,
    weep_first: Millimetres,
    weep_step: Millimetres,
    weeps_min: Each,
) -> Each:
    """Weeps along a tray at DPC level: as over any level tray. Round a closed run no end."""
    return where(
        same(run_in_use, "closed"),
        weeps_on_ring(outer_length, weep_step, weeps_min),
        weeps_over(outer_length, weep_first, weep_step, weeps_min),
    )


@rule
def base_weeps(with_base_tray: Flag, inner_of: Text, weeps_round: Each) -> Each:
    """Weeps of trays at DPC level. A timber frame is drained by its own rule instead."""
    return where(same(inner_of, "timber frame"), 0, with_base_tray * weeps_round)


@rule
def drains_along(
    length: Metres, frame_drain_area: AreaPerMetre, frame_drain_spacing: Millimetres
) -> Each:
    """Open perpends along a timber frame: by free area, and by spacing, whichever is more."""
    return most(
        whole_up(length * frame_drain_area / PERPEND_AREA),
        whole_up(length * 1000 / frame_drain_spacing),
    )


@rule
def frame_drains(
    inner_of: Text,
    outer_length: Metres,
    frame_drain_area: AreaPerMetre,
    frame_drain_spacing: Millimetres,
) -> Each:
    """Open perpends below the sole plate of a timber frame."""
    return where(
        same(inner_of, "timber frame"),
        drains_along(outer_length, frame_drain_area, frame_drain_spacing),
        0,
    )


@rule
def frame_perpends(frame_drains: Each, with_base_tray: Flag) -> Each:
    """All of them: a tray at DPC level asks for as many again above it."""
    return frame_drains * (1 + with_base_tray)


@rule
def frame_perpends_left(wall_frame_perpends: Column) -> Each:
    """Open perpends at timber frames: counted for site, nothing is bought."""
    return total(wall_frame_perpends)


BASE_COLUMNS = (
    worked(with_base_tray, "Tray at DPC level"),
    worked(tray_girth, "Base tray girth", name="base_girth"),
    worked(base_trays, "Base trays, net"),
    worked(base_step_laps, "Base tray steps add"),
    worked(base_corners, "Base tray corners"),
    worked(base_stop_ends, "Base stop ends"),
    worked(weeps_round, "Weeps along it"),
    worked(base_weeps, "Base weeps"),
    worked(inserts, "Base inserts bought", name="base_inserts", weeps=OwnCell("base_weeps")),
    worked(vents, "Base vents bought", name="base_vents", weeps=OwnCell("base_weeps")),
    worked(frame_drains, "Open perpends at sole plate"),
    worked(frame_perpends, "Open perpends at frame"),
)
