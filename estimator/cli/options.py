"""Arguments and options that several commands have, each said once."""

from pathlib import Path

import click

A_FILE, A_FOLDER = (
    click.Path(path_type=Path, dir_okay=False),
    click.Path(path_type=Path, file_okay=False),
)

AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a program to read.")
JOB_FILE = click.argument("job", type=A_FILE)
BASES = click.option(
    "--bases", "house", type=A_FOLDER, envvar="ESTIMATOR_BASES", show_envvar=True,
    help="Folder of your firm's own basis files.",
)  # fmt: skip
REPLACE = click.option(
    "--replace", "overwrite", is_flag=True, help="Write over a file that is there."
)
SENDER = click.option("--from", "sender", default=None, help="Your own address, for the drafts.")
SETTINGS = click.option(
    "--settings", "settings_file", default=None, type=A_FILE,
    help="Mail settings, a TOML file (docs/mail.md).  [default: environment variables]",
)  # fmt: skip
SEND = click.option(
    "--send", "sending", is_flag=True, help="Send the messages, over TLS, by your mail settings."
)
DRY_RUN = click.option(
    "--dry-run",
    is_flag=True,
    help="Show what would be done, and write, record and send nothing. With --send it logs in to "
    "the mail server and prints what would be sent.",
)
