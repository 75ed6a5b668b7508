"""The regulatory figure: whose document it is, and that no other nation's site is shown it.

Only England's document is shipped: Approved Document C. It asks for weeps no further apart than
900 mm (para 5.5(c)) and hardcore no deeper than 600 mm (para 4.7(a)).
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.language.ledger import Ledger
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .test_checks import job_of

SILENT = "project_specification_2014"  # states no depth of hardcore
TITLE = (
    "Approved Document C, Site preparation and resistance to contaminants and moisture "
    "(2004 edition, amended 2010 and 2013)"
)
ELSEWHERE = {
    "Wales": "none: the document of this nation is not in this program",
    "Scotland": "none: the document of this nation is not in this program",
    "Northern Ireland": "none: the document of this nation is not in this program",
    None: "none: choose the nation on Start",
}


def wide_weeps(nation: str | None, **more: Any) -> Job:
    """Weeps at most 1400 apart by the job's own override: 500 more than England's 900."""
    job = job_of(basis_choice=SILENT, site_nation=nation, **more)
    return replace(job, override={"weep_spacing": 1400})


def in_row(ledger: Ledger, table: str, key: str, column: str) -> Any:
    return ledger.column(table, column)[list(ledger.column(table, "key")).index(key)]


def test_in_england_the_document_is_named_wherever_its_figure_stands() -> None:
    ledger = estimate(wide_weeps("England"))
    assert ledger.cell("regulation_title") == TITLE
    assert in_row(ledger, "allowances", "weep_spacing", "regulatory") == 900
    assert in_row(ledger, "allowances", "dpm_lap", "regulatory") == "not stated"
    said = in_row(ledger, "allowances", "weep_spacing", "beside_regulation")
    assert said == "laxer than Approved Document C (2004)"
    [check] = [r for r in reports.checks(ledger) if r["check"] == "weep_spacing"]
    assert check["regulatory"] == 900
    assert check["regulation"] == "short of Approved Document C (2004)"


@pytest.mark.parametrize("nation", ELSEWHERE)
def test_on_any_other_site_no_figure_of_england_is_printed(nation: str | None) -> None:
    ledger = estimate(wide_weeps(nation))
    assert ledger.cell("regulation_title") == ELSEWHERE[nation]
    assert set(ledger.column("allowances", "regulatory")) == {""}
    assert set(ledger.column("allowances", "beside_regulation")) == {""}
    rows = reports.checks(ledger)
    assert {r["regulatory"] for r in rows} == {""}
    assert not [r for r in rows if "Approved" in r["regulation"]]


@pytest.mark.parametrize("nation", ["England", "Scotland", None])
def test_hardcore_too_deep_is_stopped_in_every_nation(nation: str | None) -> None:
    """Floor 0, formation -1.2: 335 of floor and 50 of blinding leave 815 mm, above 600.

    England's document says 600; elsewhere common practice's 600 decides, and is not printed as
    anybody's regulation.
    """
    deep = job_of(zones={"formation_level": -1.2}, basis_choice=SILENT, site_nation=nation)
    [row] = [r for r in reports.checks(estimate(deep)) if r["check"] == "hardcore_depth"]
    assert row["stops"] == 1
    assert row["regulatory"] == (600 if nation == "England" else "")
    shallow = job_of(basis_choice=SILENT, site_nation=nation)
    [row] = [r for r in reports.checks(estimate(shallow)) if r["check"] == "hardcore_depth"]
    assert row["stops"] == 0
