"""The basis files: every key, every source, and the values the documents give."""

import re
import tomllib
from pathlib import Path

import pytest

from estimator.checks import CHECKS
from estimator.errors import BasisError
from estimator.guidance.basis import KEYS, Basis, load_basis, shipped_bases

FOLDER = Path(__file__).parent.parent / "estimator" / "guidance" / "bases"

# Restated from the documents, clause by clause: a mistyped file
# fails here. None: the document gives no number, or none is known to the project.
PUBLISHED = {
    "england_adc_2013": {
        "dpm_thickness": 300,  # AD C 1992 main changes (f), carried to 2004 para 4.8
        "hardcore_depth_max": 600,  # AD C 2004 para 4.7(a), from memory
        "slab_thickness_min": 100,  # AD C 2004 para 4.7(b), from memory
        "dpc_height_min": 150,  # AD C 2004 para 5.5(b), from memory
        "cavity_clear_min": 225,  # AD C 2004 para 5.5(c), reported
        "weep_spacing": 900,  # AD C 2004 para 5.5(c), from memory
        "weeps_min": 2,  # AD C 2004 para 5.5(c), from memory
        "vent_per_metre": 1500,  # AD C 1992 main changes (b)
        "vent_per_area": 500,  # AD C 2004 para 4.14, from memory
    },
    "nhbc_2024": {
        "dpm_lap": 300,  # NHBC 5.1.20
        "dpm_thickness": 300,  # NHBC 5.1.20
        "hardcore_depth_max": 600,  # NHBC 5.1.7, 5.1.8
        "hardcore_layer_max": 225,  # NHBC 5.1.7
        "dpc_height_min": 150,  # NHBC 2020, 5.1.19
        "cavity_clear_min": 225,  # NHBC 5.1.20
        "dpc_lap": 100,  # NHBC 2020, 5.1.19
        "tray_rise": 140,  # NHBC 6.1.17, from memory
        "tray_past_lintel": 0,  # NHBC 6.1.17, from memory: the lintel's ends are covered
        "tray_past_closer": 25,  # NHBC 6.1.17, from memory
        "weep_spacing": 450,  # NHBC 6.1.17, reported
        "weeps_min": 2,  # NHBC 6.1.17, reported
    },
    "common_practice": {
        "dpm_dpc_lap": 100,  # the full inner leaf, in the older version of the note
        "dpc_projection": 10,  # common practice: 112.5 on a 102.5 leaf is right
        "sill_turn_up": 75,  # common practice, from memory: one course
        "dpm_lap": 150,  # merchants' advice 100 to 150
        "blinding_thickness": 50,  # common practice
        "blinding_density": 2.1,  # wet, compacted 1.9 to 2.1: the upper end
        "blinding_loose_density": 1.75,  # damp, loose 1.6 to 1.75: the upper end
        "blinding_consolidation": 20,  # 10 to 33: by the densities, 2.1 / 1.75 = 1.2
        "hardcore_density": 2.2,  # compacted 2.0 to 2.2: the upper end
        "hardcore_loose_density": 1.8,  # loose 1.6 to 1.8: the upper end
        "hardcore_consolidation": 20,  # 20 to 33: by the densities, 2.2 / 1.8 = 1.22
        "dpc_height_min": 150,  # common practice
        "tray_build_in": 100,  # common practice
        # Common practice, from memory: every key has a figure, so that a first price is not blocked.
        "dpm_thickness": 300,
        "hardcore_depth_max": 600,
        "hardcore_layer_max": 150,
        "slab_thickness_min": 100,
        "cavity_clear_min": 225,
        "dpc_lap": 100,
        "tray_rise": 150,
        "tray_past_lintel": 150,
        "tray_past_opening": 150,
        "tray_past_closer": 25,
        "tray_lap": 100,
        "vent_per_metre": 1500,
        "vent_per_area": 500,
        "weep_spacing": 450,  # common practice: every second brick
        "weep_from_end": 225,  # common practice: one at each end
        "weeps_min": 2,  # common practice: one at each end
        "threshold_past": 150,  # common practice, from memory: the opening and 150 at each side
        "frame_drain_area": 500,  # common practice, from memory
        "frame_drain_spacing": 1350,  # common practice, from memory
        "lead_piece_max": 1500,  # common practice, from memory: pieces of at most 1.5 m, with laps
        "lead_lap": 100,  # common practice, from memory
    },
    "project_specification_2014": {
        "dpm_lap": 150,  # J40 cl. 120, 130
        "cavity_clear_min": 225,  # F30 cl. 110
        "dpc_lap": 100,  # F30 cl. 415
        "tray_rise": 150,  # BS 8215:1991 section 5, reported
        "tray_past_lintel": 150,  # F30 cl. 485
        "tray_past_opening": 150,  # F30 cl. 485, past the lintel or the bridging
        "tray_lap": 100,  # F30 cl. 475
        "weep_spacing": 1000,  # F30 cl. 132
        "weeps_min": 2,  # F30 cl. 132
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


@pytest.mark.parametrize("what", ["blinding", "hardcore"])
def test_the_two_routes_of_common_practice_agree(what: str) -> None:
    """Loose × (1 + consolidation) beside in place: 1.75 × 1.2 = 2.1; 1.8 × 1.2 = 2.16 beside 2.2.

    The sheet warns where the two differ by more than 5 %.
    """
    [basis] = [b for b in shipped_bases() if b.name == "common_practice"]
    loose, more, place = (
        basis.values[f"{what}_{k}"].number or 0
        for k in ("loose_density", "consolidation", "density")
    )
    assert abs(loose * (1 + more / 100) / place - 1) <= 0.05


def test_the_regulatory_one_stands_first() -> None:
    assert [b.document.regulatory for b in shipped_bases()] == [True, False, False, False]


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
        ('source = "5.1.20', 'sauce = "5.1.20', r"dpm_lap\."),
        ("regulatory = false", "", r"document\.regulatory"),
        ("regulatory = false", 'regulatory = "no"', r"document\.regulatory: found 'no'"),
        ("value = 300", "value = true", r"dpm_lap\.value: found (True|'True')"),
        ("value = 300", "value = nan", r"dpm_lap\.value: found 'nan'|dpm_lap\.value: found nan"),
        ("value = 300", "value 300", r"own\.toml.*accepted: "),
        ("[document]", "[documents]", r"own\.toml: documents: found 'documents'"),
        ("[document]", 'document = "x"\n[dpm_lap2]', r"own\.toml: "),
        ("[weeps_min]", "weeps_min = 2\n[other]", r"own\.toml: "),
        ('standing = "read"', 'standing = "not seen"', r"own\.toml: dpm_lap: .*'not seen'"),
        ('edition = "updated 2 January 2024"', 'document = "X"', r"dpm_lap: .*names its edition"),
    ],
)
def test_a_wrong_file_is_one_sentence(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(BasisError, match=said) as refused:
        load_basis(broken(tmp_path, old, new))
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("document", ['"a book"', "[1, 2]", "3"])
def test_a_document_that_is_no_table_is_one_sentence(tmp_path: Path, document: str) -> None:
    text = (FOLDER / "common_practice.toml").read_text("utf-8")
    start, end = text.index("[document]"), text.index("[dpm_lap]")
    path = tmp_path / "own.toml"
    path.write_text(f"document = {document}\n" + text[end:], "utf-8")
    assert start < end
    with pytest.raises(BasisError, match=r"^own\.toml: document: found .*a table of fields"):
        load_basis(path)


def test_every_key_is_in_every_file() -> None:
    for path in FOLDER.glob("*.toml"):
        assert set(tomllib.loads(path.read_text("utf-8"))) == {k.name for k in KEYS} | {"document"}


EDITION = re.compile(r"\b(19|20)\d\d\b|edition not noted|date not noted|^common practice")


def test_every_source_names_its_edition_or_says_that_it_was_not_noted() -> None:
    """What a person reads beside a figure: without its edition a clause cannot be looked up."""
    said = {f"{b.name}: {k}": b.citation(k) for b in shipped_bases() for k in b.values}
    said |= {f"check: {c.key}": c.asked_by for c in CHECKS if c.asked_by}
    lacking = {
        where: part
        for where, source in said.items()
        for part in re.split(r"; (?=[A-Z])", source)
        if not EDITION.search(part)
    }
    assert lacking == {}


NOTES = re.compile(r"\b(read|reported|memory|seen|not noted|not dated)\b", re.I)


@pytest.mark.parametrize("basis", shipped_bases(), ids=lambda b: b.name)
def test_the_title_tells_a_client_nothing_of_how_it_was_read(basis: Basis) -> None:
    """The client is shown title and whom it binds; which clause was seen stays in docs/bases.md."""
    assert not NOTES.search(f"{basis.document.title} {basis.document.binds}")


def values_known(how: str) -> set[str]:
    return {f"{b.name}: {k}" for b in shipped_bases() for k, v in b.values.items()
            if v.standing == how and v.number is not None}  # fmt: skip


def test_read_stands_only_on_what_was_seen() -> None:
    """Restated from the copies that were seen, clause by clause."""
    assert values_known("read") == {
        # Approved Document C, 1992 edition, main changes (f) and (b); the 2004 clauses: not seen
        *("england_adc_2013: dpm_thickness", "england_adc_2013: vent_per_metre"),
        # NHBC Standards 5.1.20, 5.1.7 and 5.1.8, 2020: 5.1.19
        *("nhbc_2024: dpm_lap", "nhbc_2024: dpm_thickness", "nhbc_2024: cavity_clear_min"),
        *("nhbc_2024: hardcore_depth_max", "nhbc_2024: hardcore_layer_max"),
        *("nhbc_2024: dpc_height_min", "nhbc_2024: dpc_lap"),
        # LABC Warranty's note on horizontal DPCs
        "common_practice: dpm_dpc_lap",
        # CAWS J40 cl. 120, 130; F30 cl. 110, 132, 415, 475, 485
        *(f"project_specification_2014: {k}" for k in (
            *("dpm_lap", "cavity_clear_min", "weep_spacing", "weeps_min", "dpc_lap"),
            *("tray_lap", "tray_past_lintel", "tray_past_opening"),
        )),
    }  # fmt: skip
    assert values_known("reported") == {
        "england_adc_2013: cavity_clear_min",
        *("nhbc_2024: weep_spacing", "nhbc_2024: weeps_min"),
        "project_specification_2014: tray_rise",
    }


def test_each_value_names_its_own_document_and_edition() -> None:
    of = {b.name: b for b in shipped_bases()}
    assert of["england_adc_2013"].citation("dpm_thickness") == (
        "Approved Document C 1992, main changes (f)"
    )
    assert of["england_adc_2013"].citation("weeps_min") == ("Approved Document C 2004, para 5.5(c)")
    assert of["nhbc_2024"].citation("dpc_lap") == "NHBC Standards 2020, 5.1.19"
    assert of["nhbc_2024"].citation("dpm_lap") == ("NHBC Standards, updated 2 January 2024, 5.1.20")
    specification = of["project_specification_2014"]
    assert specification.citation("tray_rise").startswith("BS 8215 1991, section 5")
    assert specification.values["hardcore_layer_max"].number is None, "a clause on sub-base"
    assert of["common_practice"].citation("dpm_dpc_lap").startswith("LABC Warranty")
    assert of["common_practice"].citation("dpm_lap") == "common practice"


def test_what_no_clause_was_seen_on_is_not_called_read() -> None:
    """Of 33 keys the specification's clauses that were seen give 9 figures, BS 8215 one."""
    [basis] = [b for b in shipped_bases() if b.name == "project_specification_2014"]
    silent = [k for k, v in basis.values.items() if v.number is None and v.standing == "read"]
    assert sorted(silent) == ["dpc_projection", "hardcore_layer_max"]
