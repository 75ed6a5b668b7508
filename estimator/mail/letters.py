"""The words of a message, from templates that a practitioner may change.

A letter is two files: NAME.txt, whose first line is the subject, and NAME.html. A place is a name
in braces, as {supplier}; all other braces are left alone.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from pathlib import Path

from ..errors import TemplateError
from .message import fitting_subject

_PLACE = re.compile(r"\{([a-z_]+)\}")
_SUBJECT = "Subject: "


@dataclass(frozen=True)
class Letter:
    """A kind of letter: the places that its template must have, and those it may have."""

    name: str
    needed: frozenset[str]
    free: frozenset[str]


def _letter(name: str, needed: str, free: str) -> Letter:
    return Letter(name, frozenset(needed.split()), frozenset(free.split()))


_TO_CLIENT = "site_address quote_date promise revision valid_until total total_label attachments"
LETTERS = {
    letter.name: letter
    for letter in (
        _letter("quote", "client_name job_title prepared_by document", _TO_CLIENT),
        _letter("order", "supplier prepared_by", "reference deliver_to replaces attachments"),
        _letter("price_request", "supplier reference prepared_by", "deliver_to attachments"),
    )
}


@dataclass(frozen=True)
class Words:
    """A letter filled in."""

    subject: str
    text: str
    html: str


def fill(name: str, folder: Path, values: Mapping[str, str]) -> Words:
    """Fill the letter of that name. `values` gives every place it needs, and any it may have.

    A place without a value is left empty. Raises TemplateError for a template that is missing, for
    a place that it should have, and for one that is not known.
    """
    letter = LETTERS[name]
    head, _, text = _read(folder / f"{name}.txt").partition("\n")
    if not head.startswith(_SUBJECT):
        raise TemplateError(f"{name}.txt, line 1", head, f"a line that begins {_SUBJECT!r}")
    html = _read(folder / f"{name}.html")
    _check(letter, f"{name}.txt", head + text)
    _check(letter, f"{name}.html", html)
    marked = {place: escape(value) for place, value in values.items()}
    return Words(
        fitting_subject(_filled(head.removeprefix(_SUBJECT), values)),
        _filled(text.lstrip("\n"), values),
        _filled(html, marked),
    )


def _check(letter: Letter, where: str, template: str) -> None:
    found = set(_PLACE.findall(template))
    known = letter.needed | letter.free
    for place in sorted(found - known):
        raise TemplateError(where, f"{{{place}}}", "one of the places " + ", ".join(sorted(known)))
    for place in sorted(letter.needed - found):
        raise TemplateError(where, None, f"a place {{{place}}}")


def _filled(template: str, values: Mapping[str, str]) -> str:
    """All places filled at once, so that braces in a person's text stay as they are."""
    return _PLACE.sub(lambda m: values.get(m[1], ""), template)


def _read(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig").replace("\r\n", "\n")
    except (OSError, UnicodeDecodeError):
        raise TemplateError(path.name, None, "a letter's template, a file in UTF-8") from None
