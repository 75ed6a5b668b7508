"""The date on a quote, held against the day it is issued; days counted on a calendar by hand."""

from datetime import date

import pytest

from estimator.documents.dates import date_warning, day_in, last_day

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2 March 2026", date(2026, 3, 2)),
        ("Monday, 2nd Mar. 2026", date(2026, 3, 2)),
        ("02/03/2026", date(2026, 3, 2)),  # day first
        ("31.12.2026", date(2026, 12, 31)),
        ("2026-03-02", date(2026, 3, 2)),
        ("today", None),
        ("31 February 2026", None),
        ("March 2026", None),
        ("2/3/26", None),
    ],
)
def test_a_day_is_read_as_it_is_printed(text: str, day: date | None) -> None:
    assert day_in(text) == day


@pytest.mark.parametrize(
    ("valid", "last"),
    [
        ("30 days from the date above", date(2026, 3, 2)),
        ("4 weeks", date(2026, 2, 28)),
        ("one month", date(2026, 2, 28)),  # 31 January has no 31 February
        ("13 months", date(2027, 2, 28)),
        ("a year", date(2027, 1, 31)),
        ("until 15 April 2026", date(2026, 4, 15)),
        ("10 working days", None),  # whose holidays are not known here
        ("as agreed", None),
    ],
)
def test_how_long_it_stands(valid: str, last: date | None) -> None:
    assert last_day(valid, date(2026, 1, 31)) == last


@pytest.mark.parametrize(
    ("dated", "valid", "said"),
    [
        ("25 November 2026", "30 days", ""),
        ("26 October 2026", "30 days", ""),  # the last day is today
        ("25 November 2026", "as agreed", ""),
        ("25 October 2026", "30 days", "which ended on 24 November 2026, 1 day ago"),
        ("25 November 2026", "until 1 March 2026", "which ended on 1 March 2026, 269 days ago"),
        ("26 November 2026", "30 days", "dated 26 November 2026, which is still to come"),
        ("1 November 2026", "as agreed", "24 days ago. Whether it still holds was not looked at"),
        ("today", "30 days", "'today' is not read as a day"),
    ],
)
def test_what_is_said_of_a_date(dated: str, valid: str, said: str) -> None:
    sentence = date_warning(dated, valid, TODAY)
    assert said in sentence
    assert bool(sentence) == bool(said)
