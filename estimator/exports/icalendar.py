"""All-day events as an iCalendar file (RFC 5545), which calendar programs take in.

Written here: it is a few lines, and nothing that travels with the program writes it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

_LONGEST = 75  # octets of a line, its end not counted: RFC 5545, 3.1
_PRODUCER = "-//estimator//hold points//EN"


@dataclass(frozen=True)
class Event:
    """A day and what it is for. `uid` names it for good: a later file with it replaces the event."""

    uid: str
    day: date
    summary: str
    description: str = ""
    location: str = ""


def calendar(events: Iterable[Event], written: datetime) -> bytes:
    """The file; `written` is when, with its time zone."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{_PRODUCER}", "CALSCALE:GREGORIAN"]
    for event in events:
        lines += [
            "BEGIN:VEVENT",
            f"UID:{escaped(event.uid)}",
            f"DTSTAMP:{written.astimezone(UTC):%Y%m%dT%H%M%SZ}",
            f"DTSTART;VALUE=DATE:{event.day:%Y%m%d}",
            # The day after: an end is not part of the event (3.6.1).
            f"DTEND;VALUE=DATE:{event.day + timedelta(days=1):%Y%m%d}",
            f"SUMMARY:{escaped(event.summary)}",
        ]
        for name, text in (("DESCRIPTION", event.description), ("LOCATION", event.location)):
            if text:
                lines.append(f"{name}:{escaped(text)}")
        lines += ["TRANSP:TRANSPARENT", "END:VEVENT"]
    lines.append("END:VCALENDAR")
    return "".join(folded(line) for line in lines).encode()


def escaped(text: str) -> str:
    r"""A text as a value (3.3.11): backslash, comma, semicolon and line end have a backslash.

    >>> print(escaped("trays; laps, sealed\nlook again"))
    trays\; laps\, sealed\nlook again
    """
    for plain, written in (
        ("\\", "\\\\"),
        (";", "\\;"),
        (",", "\\,"),
        ("\r\n", "\n"),
        ("\n", "\\n"),
    ):
        text = text.replace(plain, written)
    return text


def folded(line: str) -> str:
    """A line with its end, in pieces of 75 octets at the most; no sign is cut in two (3.1)."""
    pieces, piece, room = [], b"", _LONGEST
    for sign in line:
        octets = sign.encode()
        if len(piece) + len(octets) > room:
            pieces.append(piece)
            piece, room = b"", _LONGEST - 1  # after the space that goes on
        piece += octets
    return "\r\n ".join(p.decode() for p in (*pieces, piece)) + "\r\n"
