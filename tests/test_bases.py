"""The basis files: every key, every source, and the values the published facts give."""

import tomllib
from pathlib import Path

import pytest

from estimator.basis import KEYS, load_basis, not_stated_by, shipped_bases
from estimator.errors import BasisError

FOLDER = Path(__file__).parent.parent / "estimator" / "bases"

# Restated from the documents, as held in the project's list of published facts: a mistyped file
# fails here. None: the document gives no number, or none is known to the project.
PUBLISHED = {
    "england_adc_2013": {
        "dpm_thickness": 300,  # A1: AD C 1992 main changes (f), carried to 2004 para 4.8
        "hardcore_depth_max": 600,  # A6: AD C 2004 para 4.7(a), from memory
        "weep_spacing": 900,  # A10: AD C 2004 para 5.5(c), from memory
        "weeps_min": 2,  # A11: AD C 2004 para 5.5(c), from memory
    },
    "nhbc_2024": {
        "dpm_lap": 300,  # N1: NHBC 5.1.20
        "dpm_thickness": 300,  # N2: NHBC 5.1.20
        "hardcore_depth_max": 600,  # N7: NHBC 5.1.7, 5.1.8
        "dpc_lap": 100,  # N11: NHBC 2020, 5.1.19
        "tray_rise": 140,  # N17: NHBC 6.1.17, from memory
        "tray_past_closer": 25,  # N17: NHBC 6.1.17, from memory
        "weep_spacing": 450,  # N16: NHBC 6.1.17, reported
        "weeps_min": 2,  # N16: NHBC 6.1.17, reported
    },
}


def test_the_bases_are_those_published() -> None:
    assert {b.name for b in shipped_bases()} == set(PUBLISHED)


@pytest.mark.parametrize("basis", shipped_bases(), ids=lambda b: b.name)
def test_values(basis) -> None:
    stated = {k: v.number for k, v in basis.values.items() if v.number is not None}
    assert stated == PUBLISHED[basis.name]
    for value in basis.values.values():
        assert value.source.strip()
        assert value.says.endswith(".")
    assert basis.document.binds


def test_the_regulatory_one_stands_first() -> None:
    assert [b.document.regulatory for b in shipped_bases()] == [True, False]


def test_silence_can_be_named() -> None:
    assert not_stated_by(shipped_bases(), "dpm_lap") == ["england_adc_2013"]


def broken(tmp_path: Path, old: str, new: str) -> Path:
    text = (FOLDER / "nhbc_2024.toml").read_text("utf-8")
    assert old in text
    path = tmp_path / "own.toml"
    path.write_text(text.replace(old, new, 1), "utf-8")
    return path


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("[dpm_lap]", "[dmp_lap]", r"own\.toml: dpm_lap: found nothing"),
        ("[weeps_min]", "[more_weeps]\nvalue = 1\n[weeps_min]", r"own\.toml: more_weeps"),
        ("value = 300", 'value = "some"', r"own\.toml: dpm_lap\.value: found 'some'"),
        ("value = 300", "value = 3", r"dpm_lap\.value: found 3.*50 to 1000"),
        ('standing = "read"', 'standing = "hearsay"', r"dpm_lap\.standing: found 'hearsay'"),
        ('source = "NHBC Standards 5.1.20', 'sauce = "NHBC Standards 5.1.20', r"dpm_lap\."),
        ("regulatory = false", "", r"document\.regulatory"),
    ],
)
def test_a_wrong_file_is_one_sentence(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(BasisError, match=said):
        load_basis(broken(tmp_path, old, new))


def test_every_key_is_in_every_file() -> None:
    for path in FOLDER.glob("*.toml"):
        assert set(tomllib.loads(path.read_text("utf-8"))) == {k.name for k in KEYS} | {"document"}
