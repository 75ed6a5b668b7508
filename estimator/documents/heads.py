"""What the head of a document says of the job and the issue, and of the issues it replaces."""

from .declaration import Listed, Shown, cell, copied, part
from .issue import Issue, Issuing

ABOUT: tuple[Shown[Issuing], ...] = (
    copied("job_title", "Job"),
    copied("site_address", "Site"),
    copied("prepared_by", "Prepared by"),
    cell("quote_date", "Date", lambda of: of.issue.date),
    cell("revision_mark", "Revision", lambda of: of.issue.revision),
)
# The part that is there from the second issue on, and the cell in it.
REPLACES: Listed[Issuing] = part("replaces", "What it replaces", lambda of: of.issue.earlier)
ORDER, BUILD = "order or deliver", "work"


def note(do: str) -> Shown[Issuing]:
    """The cell that says so, of a document from which people `do` something."""
    return cell("replaces_note", "What it replaces", lambda of: replaced(of.issue, do))


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
        f"{last.date}{all_others}. Do not {do} from {them}."
    )
