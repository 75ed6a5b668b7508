"""What is said beside a line: whether it can be bought, what it rests on, to what its roll is trimmed."""

from ..language import *
from .needs import of_line
from .trimming import line_trim_least, line_trim_most, trim_said


@rule
def sheet_missing(key: Text, bought: Flag, sheet_bought: Flag) -> Flag:
    """1 for tape in the laps of a sheet that is not bought here."""
    return where(
        both(
            both(either(same(key, "lap_tape"), same(key, "over_tape")), same(bought, 1)),
            same(sheet_bought, 0),
        ),
        1,
        0,
    )


@rule
def note_alone(
    uncovered: Each,
    net: Amount,
    standing: Text,
    stopped: Each,
    rests_on: Each,
    sheet_missing: Flag,
) -> Text:
    """Whether the line can be bought, and what it rests on."""
    return where(
        less(0, uncovered),
        "this supplier has no product that covers it",
        where(
            same(net, 0),
            "none on this job",
            where(
                both(less(0, stopped), same(standing, "provisional")),
                "provisional: a check stops it",
                where(
                    same(sheet_missing, 1),
                    "laps of a sheet that is not bought here",
                    where(less(0, rests_on), "rests on an assumed figure", ""),
                ),
            ),
        ),
    )


@rule
def line_note(note_alone: Text, trim_said: Text) -> Text:
    """What is to be known of the line: that its roll is trimmed, and whether it can be bought."""
    return where(
        either(same(note_alone, ""), same(trim_said, "")),
        one_text(trim_said, note_alone),
        one_text(trim_said, ", ", note_alone),
    )


NOTE_COLUMNS = (
    worked(sheet_missing, "No sheet"),
    worked(note_alone, "What it rests on"),
    worked(line_trim_most, "Trimmed to, most", "trim_most", own_trim_to=of_line("trim_to")),
    worked(line_trim_least, "Trimmed to, least", "trim_least", own_trim_to=of_line("trim_to")),
    worked(trim_said, "To trim"),
    worked(line_note, "Note"),
)
