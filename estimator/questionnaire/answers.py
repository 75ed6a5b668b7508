"""The questions of the one-page form, and the figures that follow from the answers alone."""

from collections.abc import Mapping
from typing import Any

from ..language import *
from .builds import ROOF_BUILD_ROWS

INPUTS = (
    number("extension_width", "Clear width", METRES, 0.8, 20,
           "Inside, along the wall of the house, up to its corner if the room goes round one.",
           required=False),
    number("extension_projection", "Clear projection", METRES, 0.8, 20,
           "Inside, square to the house. With the width it fills the lists.", required=False),
    number("extension_return", "Return along the side of the house", METRES, 0.3, 20,
           "Of a room round one corner of the house: inside, from that corner back. Blank: none.",
           required=False, since=6),
    number("extension_return_width", "Clear width of the return", METRES, 0.5, 20,
           "Inside, square to the side of the house. Blank: no return.", required=False, since=6),
    text("extension_wall", "Wall build-up", choice_of="wall_builds.name", required=False),
    text("extension_floor", "Floor build-up", choice_of="floor_builds.name", required=False),
    number("extension_finished", "Finished floor level", METRES, -50, 500,
           "On the drawing's datum.", required=False),
    number("extension_ground", "Finished ground level", METRES, -50, 500,
           "Beside the new walls, at its highest, on the same datum.", required=False),
    number("extension_formation", "Formation level", METRES, -50, 500,
           "The level under the hardcore. Blank if not known: the depth of hardcore is then assumed.",
           required=False),
    number("extension_new_dpc", "DPC of the new walls, level", METRES, -50, 500,
           "As drawn, same datum. Blank if not known: an assumed height is used, and its checks stay open.",
           required=False, since=4),
    text("extension_old_wall", "Wall of the house", "As found by opening up. Unknown until then.",
         choice_of="old_wall_kinds.name", required=False),
    number("extension_old_dpc", "DPC of the house, level", METRES, -50, 500,
           "Blank while it is not known: the sheet is then turned up to the finished floor.",
           required=False),
    text("extension_roof", "Roof", choice_of="roof_builds.name", required=False),
    number("extension_pitch", "Pitch", PITCH, 5, 60, "Of a lean-to.", required=False),
    number("extension_eaves", "Wall above its DPC", METRES, 0.3, 10,
           "Height of the new walls at the eaves.", required=False),
    number("extension_doors", "Level doors in the front", EACH, 0, 6, "How many.", required=False),
    number("extension_door_width", "Width of a door", METRES, 0.6, 8, "Clear structural opening.",
           required=False),
    number("extension_windows", "Windows", EACH, 0, 20, "How many alike.", required=False),
    number("extension_window_width", "Width of a window", METRES, 0.3, 6, required=False),
    number("extension_window_height", "Height of a window", METRES, 0.3, 3, required=False),
    number("extension_old_vents", "Air bricks it would block", EACH, 0, 12,
           "In the wall of the house, feeding an old suspended floor. 0 when you looked and found none.",
           required=False),
)  # fmt: skip


@rule
def extension_asked(extension_width: Metres, extension_projection: Metres) -> Flag:
    """1 when the form is in use: its width and projection are answered."""
    return where(both(given(extension_width), given(extension_projection)), 1, 0)


@rule
def build_no(chosen: Text, names: TextColumn, positions: Column) -> Each:
    """The place in its list of what was chosen. 0 for none."""
    return where(is_blank(chosen), 0, sum_of(positions, same(names, chosen)))


def _build_no(name: str, label: str, answer: str, table: str) -> Worked:
    """The place of an answer in the list of build-ups it was chosen from."""
    names, positions = WholeColumn(table, "name"), WholeColumn(table, "position")
    chosen = NamedCell(answer)
    return worked(build_no, label, name, chosen=chosen, names=names, positions=positions)


@rule
def extension_thickness(extension_asked: Flag, wall_thickness: Column) -> Millimetres:
    """Thickness of the new walls, as they are in use: the form's run stands first in its list."""
    return where(same(extension_asked, 1), beside(wall_thickness, 1), 0)


@rule
def new_dpc_unknown(
    extension_asked: Flag, extension_new_dpc: Metres, wall_dpc_height: Column
) -> Flag:
    """1 where nobody gives the new DPC, as a level or as a height: the quantities assume one."""
    return where(
        same(extension_asked, 1),
        where(given(extension_new_dpc), 0, where(same(beside(wall_dpc_height, 1), 0), 1, 0)),
        0,
    )


@rule
def new_dpc_by_height(
    extension_asked: Flag,
    extension_new_dpc: Metres,
    own_dpc_height: Millimetres,
    new_dpc_unknown: Flag,
) -> Flag:
    """1 where the new DPC stands as high above the ground as is assumed, or typed in its place."""
    return where(
        same(extension_asked, 1),
        where(given(extension_new_dpc), 0, where(less(0, own_dpc_height), 1, new_dpc_unknown)),
        0,
    )


@rule
def formation_unknown(
    extension_asked: Flag, extension_finished: Metres, extension_formation: Metres
) -> Flag:
    """1 where the floor has a level, and nobody gives that of its formation."""
    return where(
        both(same(extension_asked, 1), given(extension_finished)),
        where(given(extension_formation), 0, 1),
        0,
    )


@rule
def dpc_as_assumed(extension_ground: Metres, assumed_dpc_height: Millimetres) -> Metres:
    """Level of a DPC as high above the ground as is assumed until it is known."""
    return first_given(extension_ground, 0) + assumed_dpc_height / 1000


@rule
def extension_dpc(
    extension_ground: Metres,
    extension_new_dpc: Metres,
    wall_dpc_height: Column,
    dpc_as_assumed: Metres,
) -> Amount:
    """Level of the new DPC for the quantities: as the form's run has it, as answered, or assumed."""
    return where(
        given(extension_ground),
        where(
            same(beside(wall_dpc_height, 1), 0),
            first_given(extension_new_dpc, dpc_as_assumed),
            first_given(extension_ground, 0) + beside(wall_dpc_height, 1) / 1000,
        ),
        where(given(extension_new_dpc), extension_new_dpc, ""),
    )


@rule
def pitch_needed(roof_build_no: Each, roof_build_rises: Column) -> Flag:
    """1 for a roof that rises towards the house."""
    return where(less(0, roof_build_no), beside(roof_build_rises, roof_build_no), 0)


@rule
def tray_wanted(extension_asked: Flag, roof_build_no: Each, roof_build_tray_over: Column) -> Flag:
    """1 where a level tray is cut into the house above the roof."""
    return where(
        less(0, roof_build_no), extension_asked * beside(roof_build_tray_over, roof_build_no), 0
    )


@rule
def openings_wanted(extension_doors: Each, extension_windows: Each) -> Each:
    """Doors and windows asked for."""
    return first_given(extension_doors, 0) + first_given(extension_windows, 0)


@rule
def number_state(answer: Amount, needed: Each) -> Text:
    """Whether a question that asks a number is answered, or need not be."""
    return where(
        given(answer), "typed", where(less(0, first_given(needed, 0)), "blank", "not needed")
    )


@rule
def text_state(answer: Text) -> Text:
    """Whether a question that asks a choice is answered."""
    return where(is_blank(answer), "blank", "typed")


# What may not be known yet: found by opening up the house, or not drawn.
_MAY_WAIT = ("extension_old_wall", "extension_old_dpc", "extension_new_dpc", "extension_formation")
# Questions that are asked only when another is answered with more than 0.
_ASKED_IF = {
    "extension_return_width": "extension_return",
    "extension_pitch": "pitch_needed",
    "extension_door_width": "extension_doors",
    "extension_window_width": "extension_windows",
    "extension_window_height": "extension_windows",
}
# Asked of everybody, and needed only where the other is answered.
_NEEDED_WITH = {"extension_return": "extension_return_width"}


def asked_if(name: str, answers: Mapping[str, Any]) -> bool:
    """Whether a question need be asked after these answers: not the size of what there is none of."""
    if name == "extension_pitch":
        rising = [r["name"] for r in ROOF_BUILD_ROWS if r["rises"]]
        return answers.get("extension_roof") in rising
    return name not in _ASKED_IF or bool(answers.get(_ASKED_IF[name]))


def left_blank(answers: Mapping[str, Any]) -> tuple[Input, ...]:
    """The questions that need an answer after these, and have none; not what may be unknown yet."""

    def is_needed(name: str) -> bool:
        other = _NEEDED_WITH.get(name)
        return asked_if(name, answers) if other is None else answers.get(other) is not None

    return tuple(
        i
        for i in INPUTS
        if answers.get(i.name) is None and i.name not in _MAY_WAIT and is_needed(i.name)
    )


def _state(item: Input) -> Worked:
    answer = NamedCell(item.name)
    if item.unit.text:
        return worked(text_state, answer=answer)
    needed = {**_ASKED_IF, **_NEEDED_WITH}.get(item.name)
    return worked(number_state, answer=answer, needed=NamedCell(needed) if needed else 1)


@rule
def lacking(state: Text, may_wait: Flag) -> Flag:
    """1 for a question left blank whose answer would add work."""
    return where(both(same(state, "blank"), same(may_wait, 0)), 1, 0)


QUESTIONS = Table(
    "questions",
    "question",
    "Questions of the form",
    (
        Fixed("label", "Question", TEXT),
        Fixed("may_wait", "May be unknown", FLAG),
        Varied("state", "State", TEXT, "Typed, blank, or not needed.",
               rules=tuple(_state(i) for i in INPUTS)),
        worked(lacking, "Blank, and needed"),
    ),
    key="label",
    guarded=False,
)  # fmt: skip
QUESTION_ROWS = tuple({"label": i.label, "may_wait": int(i.name in _MAY_WAIT)} for i in INPUTS)


@rule
def answers_typed(question_state: TextColumn) -> Each:
    """Questions of the form that are answered."""
    return count_of(same(question_state, "typed"))


@rule
def answers_blank(question_state: TextColumn, extension_asked: Flag) -> Each:
    """Questions of the form that are not, while it is in use."""
    return count_of(same(question_state, "blank")) * extension_asked


@rule
def answers_missing(extension_asked: Flag, question_lacking: Column, answers_typed: Each) -> Each:
    """Questions left blank whose answer would add work. Or answers given that are not in use."""
    return where(
        same(extension_asked, 1),
        count_of(same(question_lacking, 1)),
        answers_typed,
    )


COUNTS = (worked(answers_missing, "Questions of the form left blank that would add work"),)
CELLS = (
    worked(extension_asked, "Form in use"),
    _build_no("wall_build_no", "Wall build-up no.", "extension_wall", "wall_builds"),
    _build_no("floor_build_no", "Floor build-up no.", "extension_floor", "floor_builds"),
    _build_no("roof_build_no", "Roof no.", "extension_roof", "roof_builds"),
    worked(pitch_needed),
    worked(tray_wanted, "Tray cut in above the roof"),
    worked(openings_wanted, "Doors and windows"),
    worked(extension_thickness, "Thickness of new walls"),
    worked(new_dpc_unknown, "New DPC not given"),
    worked(new_dpc_by_height, "New DPC by its height"),
    worked(formation_unknown, "Formation not given"),
    worked(dpc_as_assumed, "Level of new DPC, as assumed"),
    worked(extension_dpc, "Level of new DPC"),
    worked(answers_typed, "Questions of the form answered"),
    worked(answers_blank, "Questions of the form left blank"),
)
