"""Capitals never matter to whoever reads a job; what only looks the same is one sentence."""

import re
import shutil
from pathlib import Path

import pytest

from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.model.job_file import read_job
from estimator.model.spelling import as_listed, keys_as_listed, look_alike, one_line

LISTED = ["yes", "nhbc_2024", "Z1", "Straße", "é1"]


@pytest.mark.parametrize(
    ("typed", "read"),
    [("Yes", "yes"), ("NHBC_2024", "nhbc_2024"), ("z1", "Z1"), ("STRAßE", "Straße"), ("É1", "é1"),
     # Other characters, other texts, blanks and numbers stay what they are.
     ("Ｚ1", "Ｚ1"), ("STRASSE", "STRASSE"), ("e\u03011", "e\u03011"), ("yes ", "yes "), ("no", "no"),
     (1.0, 1.0), (None, None)],
)  # fmt: skip
def test_as_the_list_spells_it(typed: object, read: object) -> None:
    assert as_listed(typed, LISTED) == read


@pytest.mark.parametrize(
    ("typed", "looks"),
    [("Ｚ1", "Z1"), ("e\u03011", "é1"), ("STRASSE", "Straße"), ("Z2", None), (1.0, None)],
)
def test_what_only_looks_like_one_of_the_list(typed: object, looks: str | None) -> None:
    assert look_alike(typed, LISTED) == looks


@pytest.mark.parametrize(
    ("typed", "read"),
    [("West\nside", "West side"), ("a \r\n b", "a b"), (" a  b ", "a  b"), ("a\u2028b", "a b"),
     ("\n", ""), ("a\n\nb", "a b")],
)  # fmt: skip
def test_a_text_is_one_line(typed: str, read: str) -> None:
    assert one_line(typed) == read


def test_no_entry_is_lost_by_its_spelling() -> None:
    given = {"Sills": "one", "sills": "two", "RIDGES": "three", "Hats": "four"}
    assert keys_as_listed(given, ["sills", "ridges"]) == {
        "Sills": "one", "sills": "two", "ridges": "three", "Hats": "four",
    }  # fmt: skip
    assert keys_as_listed({"SILLS": 1, "Sills": 2}, ["sills"]) == {"sills": 1, "Sills": 2}


def changed(folder: Path, *edits: tuple[str, str], prices: tuple[str, str] = ("", "")) -> Path:
    text = DEMO_JOB.read_text("utf-8")
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    shutil.copy(DEMO_JOB.with_name("garden_room_prices.csv"), folder)
    book = folder / "garden_room_prices.csv"
    book.write_text(book.read_text("utf-8").replace(*prices, 1), "utf-8")
    (folder / "job.toml").write_text(text, "utf-8")
    return folder / "job.toml"


def test_a_job_file_is_read_as_its_lists_spell_it(tmp_path: Path) -> None:
    path = changed(
        tmp_path,
        ('client_is_householder = "yes"', 'client_is_householder = "Yes"'),
        ('basis_choice = "nhbc_2024"', 'basis_choice = "NHBC_2024"'),
        ('supplier_choice = "Fernbank', 'supplier_choice = "FERNBANK'),
        ('joins = "Z2"', 'joins = "z2"'),
        ('kind = "joint"', 'kind = "Joint"'),
        ('ridges = "excluded"', 'Ridges = "Excluded"'),
        ("dpm_lap = 150", "DPM_lap = 150"),
        ("hardcore = 10", "Hardcore = 10"),
        ('way = "hours per unit"', 'way = "Hours per unit"'),
        ('description = "Garden room"', 'description = "Garden\\nroom "'),
        prices=("F-02,Fernbank Supplies", "F-02,FERNBANK SUPPLIES"),
    )
    assert read_job(path) == read_job(DEMO_JOB)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('joins = "Z2"', 'joins = "Ｚ2"', r"edges\[1\]\.joins: found 'Ｚ2'; accepted: Z2. What was "
         "found is written with other characters that look the same"),
        ('client_is_householder = "yes"', 'client_is_householder = "ｙes"',
         r"job\.client_is_householder: found 'ｙes'; accepted: yes. What was found"),
        ('ridges = "excluded"', 'ridges = "excludeｄ"',
         r"line_status\.ridges: found 'excludeｄ'; accepted: excluded. What was found"),
    ],
)  # fmt: skip
def test_what_looks_the_same_is_named(tmp_path: Path, old: str, new: str, said: str) -> None:
    path = changed(tmp_path, (old, new))
    with pytest.raises(JobError) as error:
        read_job(path)
    assert re.search(said, str(error.value)), error.value
