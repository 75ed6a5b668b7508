"""Where and how mail is sent: read from a TOML file or from the environment, and checked.

Sending without encryption does not exist, and certificates are always verified.
"""

import os
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    SecretStr,
    ValidationError,
    field_validator,
    model_validator,
)

from ..errors import FileError, MailError
from ..files.opening import file_text, toml_in
from .message import address

# Ports of submission: RFC 6409, 3.1 (STARTTLS) and RFC 8314, 3.3 (TLS from the start).
USUAL_PORTS = {"starttls": 587, "tls": 465}
ENVIRONMENT = {
    "host": "ESTIMATOR_SMTP_HOST",
    "port": "ESTIMATOR_SMTP_PORT",
    "user": "ESTIMATOR_SMTP_USER",
    "password": "ESTIMATOR_SMTP_PASSWORD",
    "from": "ESTIMATOR_SMTP_FROM",
    "security": "ESTIMATOR_SMTP_SECURITY",
    "ca_file": "ESTIMATOR_SMTP_CA_FILE",
}
_ACCEPTED = {
    "host": "the name of the mail server, without a port",
    "port": "a whole number from 1 to 65535",
    "user": "a user's name in ASCII, together with a password",
    "password": "a password in ASCII, together with a user",
    "from": "one address such as name@example.org, or Name <name@example.org>",
    "security": "starttls or tls: mail is never sent without encryption",
    "ca_file": "the path of a file of certificates (PEM)",
    "timeout_seconds": "seconds from 1 to 600",
    "answer_seconds": "seconds from 1 to 1200",
}


class Settings(BaseModel):
    """Checked settings. The password shows in no text made of them."""

    model_config = ConfigDict(extra="forbid", frozen=True, hide_input_in_errors=True)

    host: str = Field(pattern=r"^[A-Za-z0-9.:-]{1,253}$")
    port: int = Field(0, ge=1, le=65535, validate_default=False)
    security: Literal["starttls", "tls"] = "starttls"
    user: str | None = Field(None, min_length=1, max_length=255, pattern=r"^[ -~]+$")
    password: SecretStr | None = Field(None, repr=False)
    sender: str = Field(alias="from")
    ca_file: Path | None = None
    timeout_seconds: float = Field(60, ge=1, le=600)
    # RFC 5321, 4.5.3.2.6: ten minutes for the answer to a whole message, or it may arrive twice.
    answer_seconds: float = Field(600, ge=1, le=1200)

    @field_validator("sender")
    @classmethod
    def _is_address(cls, value: str) -> str:
        address(value, "from")
        return value

    @field_validator("password")
    @classmethod
    def _is_ascii(cls, value: SecretStr | None) -> SecretStr | None:
        if value is not None and not _is_plain(value.get_secret_value()):
            raise ValueError
        return value

    @model_validator(mode="after")
    def _go_together(self) -> "Settings":
        if (self.user is None) != (self.password is None):
            raise ValueError
        return self

    @property
    def port_in_use(self) -> int:
        """The port given, or the usual one of the way of encrypting."""
        return self.port or USUAL_PORTS[self.security]

    @property
    def server(self) -> str:
        """The server and its port, as they are named in a sentence."""
        return f"{self.host}:{self.port_in_use}"

    @property
    def secret(self) -> str:
        """The password; to be handed to the server only."""
        return self.password.get_secret_value() if self.password else ""


def _is_plain(text: str) -> bool:
    return 1 <= len(text) <= 255 and text.isascii() and text.isprintable()


def read_settings(file: Path | None, environment: Mapping[str, str]) -> Settings:
    """Settings from a TOML file, or from the environment where no file is given.

    A file that names a user may leave the password to the environment. Raises FileError or
    MailError: what is wrong, and what is accepted; never the password.
    """
    password = ENVIRONMENT["password"]
    if file is None:
        found: dict[str, Any] = {
            key: environment[name] for key, name in ENVIRONMENT.items() if environment.get(name)
        }
        if not found:
            raise MailError("mail settings", None, f"--settings FILE, or {ENVIRONMENT['host']} and "
                            "the others in the environment (docs/mail.md, Settings for sending)")  # fmt: skip
        return _checked(found, ENVIRONMENT)
    found = _toml(file)
    if "password" in found and os.name == "posix" and file.stat().st_mode & 0o077:
        raise MailError(
            file.name, "a password that others on this computer can read",
            f"a file of your own only: chmod 600 {file.name}",
        )  # fmt: skip
    if found.get("user") and "password" not in found and environment.get(password):
        found["password"] = environment[password]
    if isinstance(found.get("ca_file"), str):
        found["ca_file"] = str(file.parent / found["ca_file"])
    return _checked(found, {key: f"{file.name}: {key}" for key in _ACCEPTED})


def _checked(found: Mapping[str, Any], places: Mapping[str, str]) -> Settings:
    try:
        return Settings.model_validate(found)
    except ValidationError as error:
        first = error.errors(include_input=False, include_context=False)[0]
    key = str(first["loc"][0]) if first["loc"] else ""
    if not key:
        key = "password" if found.get("user") else "user"
    if first["type"] == "extra_forbidden":
        raise MailError(f"mail settings: {key}", key, "one of " + ", ".join(_ACCEPTED))
    # What was typed is shown, unless it might be a password in the wrong place.
    shown = found.get(key) if key in ("port", "security", "from", "timeout_seconds") else None
    if shown is None and found.get(key) is not None:
        shown = "something else"
    raise MailError(places.get(key, key), shown, _ACCEPTED[key])


def _toml(file: Path) -> dict[str, Any]:
    try:
        return toml_in(file_text(file, "a file of mail settings that exists"))
    except ValueError as error:
        if isinstance(error, FileError):
            raise
        # A parser's message may quote what it stumbled over, so only its place is said.
        place = str(error).rpartition("(at ")[2].rstrip(")") or "its end"
        if not isinstance(error, tomllib.TOMLDecodeError):
            place = "some line"
        raise FileError(file.name, f"no TOML at {place}", 'lines such as host = "…"') from None
