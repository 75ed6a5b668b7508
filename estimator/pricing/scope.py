"""Scope on the quote: what is in, by others, excluded or out, and what goes on in spite of a stop."""

from ..language import *


@rule
def line_row(position: Each, line_scope_no: Column, line_position: Column) -> Each:
    """The line of the quantities that stands here. 0 past the last."""
    return sum_of(line_position, same(line_scope_no, position))


@rule
def counted(line_row: Each, line_label: TextColumn) -> Text:
    """What is counted, in the price or not."""
    return where(less(0, line_row), beside(line_label, line_row), "")


@rule
def scope(line_row: Each, line_standing: TextColumn) -> Text:
    """Where it stands: in, provisional, by others, excluded."""
    return where(
        same(beside(line_standing, line_row), "firm"), "in", beside(line_standing, line_row)
    )


SCOPE_LINES = Table(
    "scope_lines",
    "scope_line",
    "Scope",
    (
        worked(line_row, "Line no."),
        worked(counted, "What is counted"),
        worked(scope),
        read("net", "Net", AMOUNT, "lines.net", at="line_row"),
        read("unit", "Unit", TEXT, "lines.unit", at="line_row"),
    ),
    key="counted",
)

OUT_OF_SCOPE = Table(
    "out_of_scope",
    "left_out",
    "Not in this document",
    (
        Fixed("name", "Not in this document", TEXT),
        Fixed("words", "What that means", TEXT),
    ),
    key="name",
    guarded=False,
)
OUT_OF_SCOPE_ROWS = (
    {
        "name": "Tanking",
        "words": "Waterproofing against water under pressure needs a waterproofing design of its "
        "own.",
    },
    {
        "name": "Chimneys",
        "words": "Their trays, flashings and flues.",
    },
    {
        "name": "Injected DPC",
        "words": "Treatment of damp in the old walls, and the survey that comes first.",
    },
    {
        "name": "Sumps and gas",
        "words": "Design of sumps, pumps and extraction of ground gas: a specialist's.",
    },
    {
        "name": "Temporary works",
        "words": "Props, needles and support while walls are cut: the design is a competent person's.",
    },
)


@rule
def check_row(position: Each, check_overridden_no: Column, check_position: Column) -> Each:
    """The check whose stop was overridden that stands here. 0 past the last."""
    return sum_of(check_position, same(check_overridden_no, position))


@rule
def gone_on(check_row: Each, check_label: TextColumn) -> Text:
    """What the work goes on in spite of."""
    return where(less(0, check_row), beside(check_label, check_row), "")


OVERRIDES = Table(
    "overrides",
    "overridden",
    "Kept although a check stops it",
    (
        worked(check_row, "Check no."),
        worked(gone_on, "Kept although a check is short"),
        read("reason", "Reason", TEXT, "checks.reason", at="check_row"),
    ),
    key="gone_on",
)
