"""Where something stands, said to the person who typed it: in a job file, or in a workbook."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Protocol


class Where(Protocol):
    """Says where a field stands."""

    by_label: ClassVar[bool]  # a person chooses there by the text of a list, not by its key

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        """A field of the nth row of a list; key "" is the row itself."""

    def entry(self, section: str, key: str) -> str:
        """An entry that stands alone, as job.client_name; key "" is the section itself."""


@dataclass(frozen=True)
class InJobFile:
    """Places in a job file, and in the price file beside it."""

    by_label: ClassVar[bool] = False
    name: str

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        """As `job.toml: walls[2].inner_leaf_mm`."""
        at = f"price row {n} ({row['code']})" if table == "book" else f"{table}[{n}]"
        return f"{self.name}: {at}" + (f".{key}" if key else "")

    def entry(self, section: str, key: str) -> str:
        """As `job.toml: lines.sills`."""
        return f"{self.name}: {section}" + (f".{key}" if key else "")
