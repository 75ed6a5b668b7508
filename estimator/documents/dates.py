"""Whether the date on a quote is one to send it with: not to come, and not past what it promises.

Date and validity are texts, printed as typed; here they are read as days where that can be done.
"""

import re
from calendar import monthrange
from datetime import date, timedelta

# Not of the calendar module, whose names follow the computer's language.
_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_MONTHS = tuple(name[:3].casefold() for name in _NAMES)
_NAMED = re.compile(
    rf"\b(\d{{1,2}})(?:st|nd|rd|th)?\s+({'|'.join(_MONTHS)})[a-z]*\.?,?\s+(\d{{4}})\b"
)
_ISO = re.compile(r"\b(\d{4})-(\d{2})-(\d{2})\b")  # ISO 8601
_FIGURES = re.compile(r"\b(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})\b")  # day first, as in the UK
_SPAN = re.compile(r"\b(\d{1,3}|an?|one) (?:calendar )?(day|week|month|year)s?\b")
_MONTHS_IN_YEAR = 12


def day_in(text: str) -> date | None:
    """The first day that a text names: 2 March 2026, 2nd Mar 2026, 02/03/2026 or 2026-03-02.

    None where it names none, or one that no calendar has.
    """
    said = text.casefold()
    try:
        if found := _NAMED.search(said):
            return date(int(found[3]), _MONTHS.index(found[2]) + 1, int(found[1]))
        if found := _ISO.search(said):
            return date(int(found[1]), int(found[2]), int(found[3]))
        if found := _FIGURES.search(said):
            return date(int(found[3]), int(found[2]), int(found[1]))
    except ValueError:
        pass
    return None


def last_day(valid: str, issued: date) -> date | None:
    """The last day on which a quote of that day stands; None where its validity cannot be read.

    Either a day that is named, or so many days, weeks, months or years. A month later is the same
    day of that month, or its last.
    """
    named = day_in(valid)
    if named is not None:
        return named
    found = _SPAN.search(" ".join(valid.casefold().split()))
    if found is None:
        return None
    count = int(found[1]) if found[1].isdigit() else 1
    if found[2] in ("day", "week"):
        return issued + timedelta(days=count * (7 if found[2] == "week" else 1))
    months = count * (_MONTHS_IN_YEAR if found[2] == "year" else 1)
    years, month = divmod(issued.month - 1 + months, _MONTHS_IN_YEAR)
    year = issued.year + years
    return date(year, month + 1, min(issued.day, monthrange(year, month + 1)[1]))


def date_warning(dated: str, valid: str, today: date) -> str:
    """One sentence where the date will not do, or could not be looked at; nothing where it will."""
    issued = day_in(dated)
    if issued is None:
        return (
            f"Whether the quote's date is old was not looked at: {dated!r} is not read as a day, "
            "such as 2 March 2026."
        )
    if issued > today:
        return (
            f"The quote is dated {_said(issued)}, which is still to come: today is {_said(today)}."
        )
    last = last_day(valid, issued)
    if last is None:
        if issued == today:
            return ""
        return (
            f"The quote is dated {_said(issued)}, {_days(today - issued)} ago. Whether it still holds "
            f"was not looked at: {valid!r} is not read as a time, such as 30 days."
        )
    if last < today:
        return (
            f"The quote is dated {_said(issued)} and holds for {valid!r}, which ended on "
            f"{_said(last)}, {_days(today - last)} ago: the client would get a price that no longer "
            "holds."
        )
    return ""


def _said(day: date) -> str:
    return f"{day.day} {_NAMES[day.month - 1]} {day.year}"


def _days(span: timedelta) -> str:
    return f"{span.days} day{'' if span.days == 1 else 's'}"
