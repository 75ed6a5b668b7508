"""A job that is only begun, written down as a job file: nothing that was answered is lost."""

import json
from collections.abc import Iterable
from typing import Any

from ..language.tables import Input
from ..language.units import EACH
from ..questionnaire.answers import INPUTS as FORM_INPUTS
from .job import Job
from .places import SCHEMA
from .plan import PARTICULARS

TO_COME = "to be filled in"

_HEAD = """\
# Begun with the one-page form. Fill in what says "to be filled in"; under [job] choose site_nation
# and supplier_choice; put the name of a price file here, and the suppliers at the end.
# docs/job-file.md shows every field.
# prices = "prices.csv"
"""
_LAYOUT = f"""
layout = {SCHEMA}  # what this file is written for: a later program reads it by that
"""


def begun_file(job: Job) -> str:
    """The text of the job file: particulars, answers, what was assumed otherwise, own figures."""
    parts = [_HEAD, _LAYOUT, "\n[job]\n", _section(PARTICULARS, job, TO_COME), "\n[form]\n"]
    parts.append(_section(FORM_INPUTS, job, None))
    for name, figures in (("assumed", job.assumed), ("allowances.own", job.own)):
        if figures:
            parts.append(f"\n[{name}]\n" + "".join(f"{k} = {v:g}\n" for k, v in figures.items()))
    return "".join(parts)


def _section(inputs: Iterable[Input], job: Job, to_come: str | None) -> str:
    lines = []
    for item in inputs:
        value: Any = job.particulars.get(item.name)
        if value is None and item.required and not (item.choice_of or item.choices):
            value = to_come
        if value is not None:
            if item.unit is EACH:
                value = int(value)
            # A TOML basic string is a JSON string; numbers are written as they are.
            shown = json.dumps(value, ensure_ascii=False)
            lines.append(f"{item.key} = {shown}\n")
    return "".join(lines)
