"""What an issue is: its revision, its date, how much the client is shown, what has changed."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..errors import IssueError
from ..files.resources import CLIENT_TEMPLATE, ORDER_TEMPLATE, SITE_TEMPLATE
from ..language.ledger import Ledger
from ..model.job import checked_text
from ..revisions.changes import LEVELS, STAGES

LONGEST_REVISION, LONGEST_DATE = 12, 60


@dataclass(frozen=True)
class Earlier:
    """An issue that went out before: its mark, and the date it bore."""

    revision: str
    date: str


@dataclass(frozen=True)
class Issue:
    """One issue of a job's documents.

    `changes` are sentences for the client about what differs from revision `changed_since`;
    `earlier` is what was issued of the job before, the latest last.
    Raises IssueError for a mark, date, level or sentence that cannot be used.
    """

    revision: str
    date: str
    level: str = STAGES
    changes: Sequence[str] = ()
    changed_since: str = ""
    earlier: Sequence[Earlier] = ()

    def __post_init__(self) -> None:
        _short(self.revision, "revision", LONGEST_REVISION)
        _short(self.date, "date", LONGEST_DATE)
        if self.level not in LEVELS:
            raise IssueError("level", self.level, "one of " + ", ".join(LEVELS))
        if bool(self.changes) != bool(self.changed_since):
            found = self.changed_since or "changes without a revision"
            raise IssueError("changed_since", found, "a revision together with what has changed")
        if self.changed_since:
            _short(self.changed_since, "changed_since", LONGEST_REVISION)
        for n, change in enumerate(self.changes, 1):
            _short(change, f"changes[{n}]", 2000)


@dataclass(frozen=True)
class Issuing:
    """A job's figures at one of its issues: what its documents are views of."""

    job: Ledger
    issue: Issue


@dataclass(frozen=True)
class Templates:
    """The templates the documents are stamped into: the shipped ones, or restyled ones."""

    client: Path = CLIENT_TEMPLATE
    order: Path = ORDER_TEMPLATE
    site: Path = SITE_TEMPLATE


@dataclass(frozen=True)
class Order:
    """One supplier's order list, as a workbook and as CSV."""

    supplier: str
    workbook: Path
    csv: Path


@dataclass(frozen=True)
class Issued:
    """The files of one issue. `pdf` and `site_pdf` are None where they could not be made."""

    quote: Path
    pdf: Path | None
    orders: tuple[Order, ...]
    site: Path
    site_pdf: Path | None
    warnings: tuple[str, ...] = field(default=())
    drafts: tuple[Path, ...] = ()  # e-mail drafts that go out with them

    @property
    def for_client(self) -> tuple[Path, ...]:
        """What is sent to the client, and nothing else."""
        return (self.quote,) if self.pdf is None else (self.quote, self.pdf)

    @property
    def files(self) -> tuple[Path, ...]:
        """Every file."""
        orders = (path for o in self.orders for path in (o.workbook, o.csv))
        sheet = (self.site,) if self.site_pdf is None else (self.site, self.site_pdf)
        return (*self.for_client, *orders, *sheet)


def _short(text: str, where: str, most: int) -> None:
    """Refuse a text that is blank, too long, or cannot stand in a cell."""
    try:
        checked_text(text, name=False)
    except ValueError as error:
        raise IssueError(where, text, str(error)) from None
    if not text.strip() or len(text) > most:
        raise IssueError(where, text, f"a text of 1 to {most} characters")
