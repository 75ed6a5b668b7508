"""A basis as a cell names it: as the workbook's list does, or by its key in docs/bases.md.

Figures of one's own may follow the name: `NHBC Standards (2024); weep_from_end=225`. An own figure
stands before the document's, as an override does in the workbook; where neither gives one the
function cannot answer. There is no default basis.
"""

import json
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from ..language import first_given
from ..language.units import EACH
from .refusal import CellError

CARRIED = Path(__file__).with_name("bases.json")  # there only where this was carried into a host


@cache
def known() -> dict[str, Any]:
    """Every key and every basis as plain data (`basis.plain_data`)."""
    if CARRIED.is_file():
        found: dict[str, Any] = json.loads(CARRIED.read_text("utf-8"))
        return found
    # Only here, and only where the core is installed: it needs pydantic, which no host has.
    from ..guidance.basis import plain_data

    return plain_data()


def names() -> tuple[str, ...]:
    """The bases there are."""
    return tuple(known()["bases"])


def labels() -> dict[str, str]:
    """By each basis its name in the workbook's list."""
    found: dict[str, str] = known()["labels"]
    return found


def accepted() -> str:
    """What names a basis, as a person reads it."""
    return "one of " + ", ".join(f"'{label}'" for label in labels().values())


def keys() -> tuple[str, ...]:
    """What each of them gives a figure for, or says that it states none."""
    return tuple(known()["keys"])


class Guidance:
    """One basis and a person's own figures beside it."""

    __slots__ = ("name", "own")

    def __init__(self, name: str, own: Mapping[str, float]) -> None:
        self.name, self.own = name, own

    def __call__(self, key: str) -> Any:
        """The figure in use, in the key's unit; not available where nobody states one."""
        return first_given(self.own.get(key), self._value(key)["value"])

    @property
    def label(self) -> str:
        """Its name in the workbook's list."""
        return labels()[self.name]

    def unstated(self, key: str) -> str:
        """That there is no figure, and what to do."""
        return (
            f"{key}: {self.label} states no figure ({self._value(key)['source']}). Give your own "
            f"after the name, as in {self.label}; {key}=..."
        )

    def source(self, key: str) -> str:
        """Where the basis says so or was looked at; that an own figure is one."""
        return "own figure" if key in self.own else str(self._value(key)["source"])

    def _value(self, key: str) -> dict[str, Any]:
        found: dict[str, Any] = known()["bases"][self.name][key]
        return found


@lru_cache(maxsize=256)
def _parts(text: str) -> tuple[str, dict[str, float]]:
    name, *figures = (part.strip() for part in text.split(";"))
    by_small = {n.lower(): n for n in names()} | {v.lower(): n for n, v in labels().items()}
    if name.lower() not in by_small:
        raise CellError("basis", name or text, accepted())
    own: dict[str, float] = {}
    for figure in figures:
        key, sign, number = (part.strip() for part in figure.partition("="))
        if key not in keys() or not sign or key in own:
            raise CellError(
                "basis", figure, "after the name, a key once and its figure: key=number"
            )
        own[key] = _figure(key, number)
    return by_small[name.lower()], own


def _figure(key: str, text: str) -> float:
    about = known()["keys"][key]
    least, most = about["least"], about["most"]
    try:
        figure = float(text) if text.replace(".", "", 1).isdecimal() else None
    except ValueError:
        figure = None
    whole = about["unit"] == EACH.sign
    if figure is None or not least <= figure <= most or (whole and not figure.is_integer()):
        kind = "a whole number" if whole else "a number, any decimals after a point,"
        raise CellError(
            f"basis, {key}", text, f"{kind} from {least:g} to {most:g} {about['unit']}".rstrip()
        )
    return figure


def guidance(text: str) -> Guidance:
    """The basis that a cell names. Raises CellError for a name, key or figure that is unknown."""
    return Guidance(*_parts(text))
