"""What an order list, the sheet for site and a covering letter say of the issues they replace."""

from ..language import Fixed, Table
from ..language.units import TEXT
from .issue import Issue

# The part of a template that is there from the second issue on, and the cell in it.
REPLACES = Table("replaces", "replaces_part", "What it replaces", (), guarded=False, numbered=False)
NOTE = Fixed("replaces_note", "What it replaces", TEXT)
ORDER, BUILD = "order or deliver", "work"


def replaced(issue: Issue, do: str) -> str:
    """That it takes the place of every earlier issue, from which nobody is to `do` anything.

    Nothing for the first issue of a job.
    """
    if not issue.earlier:
        return ""
    last, several = issue.earlier[-1], len(issue.earlier) > 1
    all_others, them = (" and every one before it", "them") if several else ("", "that one")
    return (
        f"Revision {issue.revision} of {issue.date}. It replaces revision {last.revision} of "
        f"{last.date}{all_others}; do not {do} from {them}."
    )
