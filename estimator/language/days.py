"""Days as the numbers that cells hold: how many days after 30 December 1899 (ISO/IEC 29500-1, 18.17.4)."""

from datetime import date, timedelta

_FIRST = date(1899, 12, 30)


def day_number(day: date) -> float:
    """The number of a day.

    >>> day_number(date(2026, 3, 1))
    46082.0
    """
    return float((day - _FIRST).days)


def day_of(number: float) -> date:
    """The day of a number; a time of day in it plays no part. Raises OverflowError beyond year 9999.

    >>> day_of(46082.0).isoformat()
    '2026-03-01'
    """
    return _FIRST + timedelta(days=int(number))
