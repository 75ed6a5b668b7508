"""How the job is built, where there is a choice: one answer for the whole job."""

from ..language import *
from . import gas

WHOLE_STRIPS, CROSS_JOINTS = "whole strips", "cross joints"
JOINED, ONE_PIECE = "joined", "one piece"
INSERTS, VENTS, OPEN_PERPENDS = "inserts", "vents", "open perpends"
MULTIPLY, DIVIDE = "multiply", "divide"


@rule
def whole_strips(sheet_joints: Text) -> Flag:
    """1 when sheet is laid in whole strips, 0 when strips may be joined across."""
    return where(same(sheet_joints, "whole strips"), 1, 0)


@rule
def one_piece(tray_joints: Text) -> Flag:
    """1 when every tray is cut in one piece, 0 when it may be joined."""
    return where(same(tray_joints, "one piece"), 1, 0)


@rule
def weep_inserts(weep_kind: Text) -> Flag:
    """1 when weeps are inserts that are bought."""
    return where(same(weep_kind, "inserts"), 1, 0)


@rule
def weep_vents(weep_kind: Text) -> Flag:
    """1 when weeps are vents that are bought."""
    return where(same(weep_kind, "vents"), 1, 0)


RADON_ANSWERS = ("no", "yes", "unknown")


@rule
def open_perpends(weep_kind: Text, weeps_in_all: Each) -> Each:
    """Weeps that are left open perpends: counted for site, nothing is bought."""
    return where(same(weep_kind, "open perpends"), weeps_in_all, 0)


INPUTS = (
    text("sheet_joints", "DPM strips", "Whole, or joined across. Each change of roll then costs a "
                                       "lap.",
         choices=(WHOLE_STRIPS, CROSS_JOINTS), default=WHOLE_STRIPS),
    text("tray_joints", "Trays", "Joined roll to roll, or each cut in one piece.",
         choices=(JOINED, ONE_PIECE), default=JOINED),
    text("weep_kind", "Weeps", "Open perpends are counted for site. Nothing is bought for them.",
         choices=(INSERTS, VENTS, OPEN_PERPENDS), default=INSERTS),
    text("loose_rule", "Consolidation", "Loose volume from the volume in place: × (1 + p), or "
         "÷ (1 − p).", choices=(MULTIPLY, DIVIDE), default=MULTIPLY),
    text("radon_area", "Radon or gas", "Whether the site lies in an affected area.",
         choices=RADON_ANSWERS, default=RADON_ANSWERS[2]),
)  # fmt: skip


@rule
def all_weeps(
    opening_weeps: Column,
    abutment_weeps: Column,
    wall_base_weeps: Column,
    parapet_weeps: Column,
    old_vent_weeps: Column,
    cut_in_weeps: Column,
) -> Each:
    """Weeps over all trays, whatever they are made of."""
    return (
        total(opening_weeps)
        + total(abutment_weeps)
        + total(wall_base_weeps)
        + total(parapet_weeps)
        + total(old_vent_weeps)
        + total(cut_in_weeps)
    )


@rule
def weeps_built(weeps_in_all: Each) -> Each:
    """Weeps over all trays, as the job counts them."""
    return weeps_in_all * 1


@rule
def perpends_left(open_perpends: Each) -> Each:
    """Open perpends, as the job counts them."""
    return open_perpends * 1


CELLS = (
    worked(gas.gas_mode, "Radon or gas kept out"),
    worked(gas.gas_note, "Radon or gas"),
    worked(whole_strips, "Whole strips"),
    worked(one_piece, "Trays in one piece"),
    worked(weep_inserts, "Weep inserts bought"),
    worked(weep_vents, "Weep vents bought"),
    worked(all_weeps, "Weeps over all trays", name="weeps_in_all"),
    worked(open_perpends, "Open perpends left as weeps"),
)
