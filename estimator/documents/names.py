"""File names that say what a document is, of which job and which revision, on any file system."""

import re
import unicodedata

_NOT_IN_NAMES = re.compile(r'[<>:"/\\|?*]')
_LONGEST_PART = 60  # characters of any one part, so that a whole name stays short
_LONGEST_NAME = 220  # bytes, ending included: file systems allow 255


def safe(text: str) -> str:
    """A text as part of a file name: no signs that a file system refuses, nothing invisible.

    >>> safe('Lean-to / "rear": no. 3*')
    'Lean-to rear no. 3'
    """
    shown = "".join(
        " " if unicodedata.category(c)[0] == "C" else c for c in unicodedata.normalize("NFC", text)
    )
    words = _NOT_IN_NAMES.sub(" ", shown).split()
    return " ".join(words)[:_LONGEST_PART].strip(" .") or "unnamed"


def stem(document: str, job: str, revision: str, whom: str = "") -> str:
    """The name of a document without its ending.

    >>> stem("Quotation", "Garden room", "A")
    'Quotation - Garden room - revision A'
    """
    parts = [safe(document), safe(job), f"revision {safe(revision)}"]
    if whom:
        parts.append(safe(whom))
    name = " - ".join(parts)
    return name.encode()[:_LONGEST_NAME].decode(errors="ignore").rstrip(" .")


def told_apart(stems: list[str]) -> list[str]:
    """The same names, each used once: a later one that reads the same is given a number."""
    used: set[str] = set()
    found = []
    for name in stems:
        n, mine = 1, name
        while mine.casefold() in used:
            n += 1
            mine = f"{name} ({n})"
        used.add(mine.casefold())
        found.append(mine)
    return found
