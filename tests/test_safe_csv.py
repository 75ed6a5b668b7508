"""CSV for the merchant: RFC 4180, and no field that a spreadsheet program would run."""

import csv
import io
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.documents.safe_csv import read, written

from .hosts import by_libreoffice, figures, need

# What a spreadsheet program takes for the beginning of a formula.
DANGEROUS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1")
FIELDS = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=20)


@pytest.mark.parametrize("text", DANGEROUS)
def test_no_field_begins_as_a_formula_does(text: str) -> None:
    (row,) = csv.reader(io.StringIO(written([[text]]).decode("utf-8-sig"), newline=""))
    assert row == ["'" + text]


@given(st.lists(st.lists(FIELDS, min_size=1, max_size=4), max_size=5))
def test_what_is_written_is_read_back(rows: list[list[str]]) -> None:
    kept = [r for r in rows if r != [""]]  # a line that is empty is no row in any CSV
    assert read(written(kept)) == kept


def test_lines_end_and_quotes_double_as_the_standard_says() -> None:
    """RFC 4180, 2.1, 2.5 to 2.7."""
    data = written([["a", 'say "b", c'], [2, 0.5]])
    assert data.decode("utf-8-sig") == '"a","say ""b"", c"\r\n2,0.5\r\n'


def test_a_broken_file_is_refused() -> None:
    with pytest.raises(csv.Error):
        read(b'\xef\xbb\xbfa,"b')


@pytest.mark.host
def test_hosts_run_nothing_of_it(tmp_path: Path) -> None:
    texts = [*DANGEROUS[:4], '=HYPERLINK("http://example.invalid","x")']
    path, saved = tmp_path / "order.csv", tmp_path / "second.xlsx"
    path.write_bytes(written([["field"], *([t] for t in texts)]))
    (first,) = by_libreoffice([path], tmp_path).values()
    command = [need("ssconvert"), str(path), str(saved)]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    for found in (first, saved):
        assert list(figures(found, formulas_only=True).values()) == [{}]
        (cells,) = figures(found).values()
        shown = [str(v) for v in cells.values()][1:]
        assert [s.removeprefix("'").strip() for s in shown] == [t.strip() for t in texts]
