"""Planned days of hold points as an iCalendar file, held against RFC 5545 by a reader of its own."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.exports.hold_days import hold_days
from estimator.exports.icalendar import Event, calendar, escaped, folded
from estimator.files.resources import DEMO_JOB
from estimator.language.days import day_number
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
Line = tuple[str, dict[str, str], str]  # a property's name, its parameters, its value


def lines_of(data: bytes) -> list[Line]:
    """Content lines as 3.1 reads them: unfolded, then name, parameters and value."""
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b""), "every line end is CR LF"
    found = []
    for line in data.replace(b"\r\n ", b"").decode("utf-8").removesuffix("\r\n").split("\r\n"):
        head, value = line.split(":", 1)
        name, *parameters = head.split(";")
        found.append((name, dict(p.split("=", 1) for p in parameters), value))
    return found


def text_of(value: str) -> str:
    """A TEXT value without its escapes (3.3.11)."""
    said, signs = "", iter(value)
    for sign in signs:
        after = next(signs) if sign == "\\" else ""
        said += {"n": "\n", "N": "\n"}.get(after, after) if after else sign
    return said


def events_of(data: bytes) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for name, _, value in lines_of(data):
        if (name, value) == ("BEGIN", "VEVENT"):
            found.append({})
        elif found and name not in ("BEGIN", "END"):
            assert name not in found[-1], "each property stands once"
            found[-1][name] = value
    return found


# ---- the standard's own lines ----

FOLDED_IN_THE_RFC = (  # RFC 5545, 3.1
    "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n"
)
WHOLE_IN_THE_RFC = "This is a long description that exists on a long line."


def test_the_reader_unfolds_the_line_of_the_standard() -> None:
    assert lines_of(FOLDED_IN_THE_RFC.encode()) == [("DESCRIPTION", {}, WHOLE_IN_THE_RFC)]


def test_the_escapes_of_the_standard() -> None:
    """RFC 5545, 3.3.11: its example of a TEXT of three lines."""
    words = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    written = r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escaped(words) == written
    assert text_of(written) == words


@pytest.mark.parametrize(
    ("words", "written"),
    [("a,b", r"a\,b"), ("a;b", r"a\;b"), ("a\\b", r"a\\b"), (r"a\n", r"a\\n"), ("a:b", "a:b")],
)
def test_each_sign_that_is_escaped(words: str, written: str) -> None:
    assert escaped(words) == written
    assert text_of(written) == words


@pytest.mark.parametrize("length", [74, 75, 76, 149, 150, 1000])
@pytest.mark.parametrize("sign", ["x", "é", "²", "漢", "😀"])
def test_no_line_is_longer_than_75_octets_and_no_sign_is_cut(length: int, sign: str) -> None:
    whole = "SUMMARY:" + sign * length
    line = folded(whole).encode()
    pieces = line.removesuffix(b"\r\n").split(b"\r\n")
    assert max(map(len, pieces)) <= 75
    for piece in pieces:
        piece.decode("utf-8")
    assert lines_of(line) == [("SUMMARY", {}, sign * length)]


def test_a_line_of_75_octets_is_left_whole() -> None:
    assert folded("S" * 75) == "S" * 75 + "\r\n"
    assert folded("S" * 76) == "S" * 75 + "\r\n S\r\n"


# ---- a file ----


def test_an_event_lasts_all_of_its_day() -> None:
    """RFC 5545, 3.6.1: the end of a day-long event is the day after, here over a leap day."""
    data = calendar([Event("x@y", date(2028, 2, 29), "Foundations")], NOW)
    assert lines_of(data) == [
        ("BEGIN", {}, "VCALENDAR"),
        ("VERSION", {}, "2.0"),
        ("PRODID", {}, "-//estimator//hold points//EN"),
        ("CALSCALE", {}, "GREGORIAN"),
        ("BEGIN", {}, "VEVENT"),
        ("UID", {}, "x@y"),
        ("DTSTAMP", {}, "20260302T093000Z"),
        ("DTSTART", {"VALUE": "DATE"}, "20280229"),
        ("DTEND", {"VALUE": "DATE"}, "20280301"),
        ("SUMMARY", {}, "Foundations"),
        ("TRANSP", {}, "TRANSPARENT"),
        ("END", {}, "VEVENT"),
        ("END", {}, "VCALENDAR"),
    ]


def test_the_stamp_is_in_utc() -> None:
    east = datetime(2026, 3, 2, 0, 30, tzinfo=timezone(timedelta(hours=1)))
    (event,) = events_of(calendar([Event("x", date(2026, 1, 1), "S")], east))
    assert event["DTSTAMP"] == "20260301T233000Z"


# ---- a job ----


def planned(**days: Any) -> Job:
    job = read_job(DEMO_JOB)
    typed = {n: day_number(d) if isinstance(d, date) else d for n, d in days.items()}
    return replace(job, particulars={**job.particulars, **typed})


def events(job: Job) -> list[Event]:
    return hold_days(estimate(job))


def test_the_days_that_are_typed_become_events_in_site_order() -> None:
    found = events(planned(day_completion=date(2026, 6, 1), day_foundations=date(2026, 3, 9)))
    assert [e.day for e in found] == [date(2026, 3, 9), date(2026, 6, 1)]
    assert found[0].summary == "Hold point: foundations. Garden room extension (invented example)"
    assert found[0].location == "1 Example Lane, Exampleton (invented)"
    look, tell, source, caution = found[0].description.split("\n")
    assert look.startswith("Look for: Ground as expected, trenches clean and dry")
    assert tell.startswith("Tell: ")
    assert source.startswith("Source: ")
    assert caution == "A reminder only: confirm every notice with your building control body."


def test_a_new_day_moves_the_event_and_another_job_has_its_own() -> None:
    (first,) = events(planned(day_foundations=date(2026, 3, 9)))
    (moved,) = events(planned(day_foundations=date(2026, 3, 10)))
    (other,) = events(planned(day_foundations=date(2026, 3, 9), job_title="Another"))
    assert first.uid == moved.uid != other.uid


def run(*words: str | Path) -> Any:
    return CliRunner().invoke(main, ["calendar", *map(str, words)])


def test_a_job_without_days_writes_no_file(tmp_path: Path) -> None:
    done = run(DEMO_JOB, "--out", tmp_path / "holds.ics")
    assert done.exit_code == 2
    assert done.output == (
        "garden_room.toml: found 'no planned day at any hold point'; accepted: a day, as "
        "2026-03-02, typed beside a hold point on Site (in a job file: day_foundations and the like "
        "under [job]).\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_day_is_named(tmp_path: Path) -> None:
    text = DEMO_JOB.read_text("utf-8").replace("[job]\n", '[job]\nday_completion = "soon"\n')
    (tmp_path / "job.toml").write_text(text, "utf-8")
    (tmp_path / "garden_room_prices.csv").write_bytes(
        DEMO_JOB.with_name("garden_room_prices.csv").read_bytes()
    )
    done = run(tmp_path / "job.toml", "--out", tmp_path / "holds.ics")
    assert done.exit_code == 2
    assert "day_completion" in done.output
    assert "found 'soon'; accepted: a day" in done.output


def test_the_file_is_written(tmp_path: Path) -> None:
    text = DEMO_JOB.read_text("utf-8").replace("[job]\n", "[job]\nday_foundations = 2026-03-09\n")
    (tmp_path / "job.toml").write_text(text, "utf-8")
    (tmp_path / "garden_room_prices.csv").write_bytes(
        DEMO_JOB.with_name("garden_room_prices.csv").read_bytes()
    )
    done = run(tmp_path / "job.toml", "--out", tmp_path / "holds.ics")
    assert done.exit_code == 0, done.output
    assert done.output.endswith("1 of 8 hold points have a planned day.\n")
    (event,) = events_of((tmp_path / "holds.ics").read_bytes())
    assert event["DTSTART"] == "20260309"
    assert text_of(event["LOCATION"]) == "1 Example Lane, Exampleton (invented)"
