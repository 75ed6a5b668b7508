"""How a text that a person typed is held against a list: what is the same, what only looks it.

A sheet takes two texts for one that differ in capitals alone; so does whoever reads it, and
writes the text as its list spells it. What is equal only to the eye is refused by both.
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any

# In a name these are patterns or operators in one host or another.
NOT_IN_NAMES = "*?~|<>="
_BREAK = re.compile(r"\s*[\r\n\x0b\x0c\x85\u2028\u2029]\s*")


def folded(text: str) -> str:
    """A mark as the most forgiving spreadsheet program compares it: case, width, accents composed
    or not, ligatures and kinds of blank make no difference (Unicode NFKC and its full casefold)."""
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())


def one_line(text: str) -> str:
    """A text in words as one line: a line break is a blank, and blanks at its ends are none."""
    return _BREAK.sub(" ", text).strip()


def as_listed(value: Any, accepted: Iterable[Any]) -> Any:
    """As the list spells it, where capitals alone differ; anything else as it is."""
    listed = list(accepted)
    if not isinstance(value, str) or value in listed:
        return value
    # Lower case, as helpers.same compares: a sheet takes no ligature for its letters.
    lower = value.lower()
    return next((a for a in listed if isinstance(a, str) and a.lower() == lower), value)


def keys_as_listed(given: Mapping[str, Any], accepted: Iterable[str]) -> dict[str, Any]:
    """The entries under the keys as they are listed; one that is there twice keeps its own."""
    listed = list(accepted)
    found: dict[str, Any] = {}
    for key, value in given.items():
        spelled = as_listed(key, listed)
        found[key if spelled in given or spelled in found else spelled] = value
    return found


def look_alike(value: Any, accepted: Iterable[Any]) -> str | None:
    """The one that it looks like, where it is none of them."""
    if not isinstance(value, str):
        return None
    wanted = folded(value)
    return next((a for a in accepted if isinstance(a, str) and folded(a) == wanted), None)
