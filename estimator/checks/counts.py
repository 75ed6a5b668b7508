"""How many checks need an answer, by what they say; beside the total, as a total says none of it."""

from ..language import *
from .worst import EXCLUDED, excluded, weeps_excluded


@rule
def checks_short(check_state: TextColumn, product_check_state: TextColumn) -> Each:
    """Checks whose figure falls short of what is asked."""
    return count_of(same(check_state, "short")) + count_of(same(product_check_state, "short"))


@rule
def checks_not_given(check_state: TextColumn, product_check_state: TextColumn) -> Each:
    """Checks for which a figure is not given."""
    return count_of(same(check_state, "not given")) + count_of(
        same(product_check_state, "not given")
    )


@rule
def checks_designers(check_state: TextColumn, product_check_state: TextColumn) -> Each:
    """Checks for which no figure is asked, so that the detail is the designer's."""
    return count_of(same(check_state, "designer's detail")) + count_of(
        same(product_check_state, "designer's detail")
    )


@rule
def checks_asking(checks_short: Each, checks_not_given: Each, checks_designers: Each) -> Each:
    """Checks that need an answer. One that cannot be worked out needs one too."""
    return first_given(checks_short + checks_not_given + checks_designers, 1)


@rule
def shorts_told(checks_short: Each) -> Each:
    """Checks that are short. 1 where they cannot be counted."""
    return first_given(checks_short, 1)


@rule
def blanks_told(checks_not_given: Each) -> Each:
    """Checks whose figure is not given. 1 where they cannot be counted."""
    return first_given(checks_not_given, 1)


@rule
def checks_say(checks_asking: Each, shorts_told: Each, blanks_told: Each) -> Text:
    """What the checks say beside the total on the first sheet, above the list of them."""
    return where(
        same(checks_asking, 0),
        "No check needs an answer.",
        where(
            same(shorts_told, 0),
            where(
                same(blanks_told, 0),
                "Details are left to the designer: see Guidance.",
                "Figures are not given: listed below.",
            ),
            where(
                same(blanks_told, 0),
                "Checks are short: listed below.",
                "Checks are short and figures not given: listed below.",
            ),
        ),
    )


COUNTS: tuple[Item, ...] = (
    worked(checks_short, "Checks that are short"),
    worked(checks_not_given, "Checks whose figure is not given"),
    worked(checks_designers, "Checks left to the designer"),
)
CELLS: tuple[Item, ...] = (
    *COUNTS,
    worked(checks_asking, "Checks that need an answer"),
    worked(shorts_told, "Checks short, or not to be counted"),
    worked(blanks_told, "Checks not given, or not to be counted"),
    worked(checks_say, "Checks"),
    *(
        worked(excluded, f"{label} excluded", f"{line}_excluded", line=line)
        for line, label in EXCLUDED.items()
    ),
    worked(weeps_excluded, "Weeps as bought, excluded"),
)
