"""The command line: a job in, a workbook out, and one sentence when something is wrong."""

import click

from . import __version__
from .commands import addin, comparing, issuing, making, pricing, reading


@click.group()
@click.version_option(__version__, prog_name="estimator")
def main() -> None:
    """Damp-proofing materials: taken off, checked and priced in a live workbook."""


for _command in (
    making.demo,
    making.new,
    making.workbook,
    reading.quantities,
    reading.check,
    reading.compare,
    pricing.request,
    pricing.prices,
    addin.addin,
    comparing.changes,
    issuing.issue,
):
    main.add_command(_command)

if __name__ == "__main__":
    main()
