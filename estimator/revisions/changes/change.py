"""One difference between two states of a job, and how much of it a client may see."""

from dataclasses import dataclass
from typing import Any

from ...language.ledger import Ledger
from ...model.job import Job
from ...model.levels import LEVELS, STAGES

INPUTS, MEASURED, PRICE, DOCUMENT = "inputs", "quantities", "price", "document"


@dataclass(frozen=True)
class State:
    """A job as it was given, and every figure of it."""

    job: Job
    ledger: Ledger


@dataclass(frozen=True)
class Change:
    """One difference, in a sentence.

    `about` says what it concerns, outermost first: ("openings", "O2", "width"). `was` and `now`
    are plain values; money is in pounds, None a blank or no figure. `detail` is the least that a
    quote must show before its client may read the sentence.
    """

    part: str
    about: tuple[str, ...]
    sentence: str
    was: Any = None
    now: Any = None
    for_client: bool = False
    detail: str = STAGES

    def shown_at(self, detail: str) -> bool:
        """Whether the client of a quote that shows so much may read it."""
        return self.for_client and LEVELS.index(self.detail) <= LEVELS.index(detail)

    def as_data(self) -> dict[str, Any]:
        """The same for a program to read."""
        return {
            "part": self.part,
            "about": list(self.about),
            "was": self.was,
            "now": self.now,
            "sentence": self.sentence,
            "for_client": self.for_client,
            "detail": self.detail,
        }
