"""Mail servers on loopback: a real one, and one that misbehaves where it is told to."""

import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import trustme
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult

from estimator.mail.settings import Settings

USER, PASSWORD = "estimator@invented.example", "Marzipan-7-Teapot"
SENDER = "The Estimator <estimator@invented.example>"


@dataclass
class Certificates:
    """An authority, and what it vouches for: 127.0.0.1, and another name."""

    ca_file: Path
    good: ssl.SSLContext
    other_name: ssl.SSLContext
    stranger: ssl.SSLContext  # by an authority that nobody names


def certificates(folder: Path) -> Certificates:
    authority, unknown = trustme.CA(), trustme.CA()
    authority.cert_pem.write_to_path(folder / "ca.pem")
    contexts = []
    for by, name in ((authority, "127.0.0.1"), (authority, "else.invalid"), (unknown, "127.0.0.1")):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        by.issue_cert(name).configure_cert(context)
        contexts.append(context)
    return Certificates(folder / "ca.pem", *contexts)


def settings(port: int, ca_file: Path | None, **more: Any) -> Settings:
    given = {
        "host": "127.0.0.1",
        "port": port,
        "user": USER,
        "password": PASSWORD,
        "from": SENDER,
        "ca_file": ca_file,
        "timeout_seconds": 60,  # what answers is waited for, however busy the machine is
        "answer_seconds": 60,
    }
    return Settings.model_validate({k: v for k, v in {**given, **more}.items() if v is not None})


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@dataclass
class Inbox:
    """Keeps what arrives; refuses some recipients."""

    refuse: tuple[str, ...] = ()
    arrived: list[tuple[str, list[str], bytes]] = field(default_factory=list)
    commands: list[str] = field(default_factory=list)
    greeted: list[str] = field(default_factory=list)

    async def handle_EHLO(  # noqa: N802
        self, server: Any, session: Any, envelope: Any, hostname: str, responses: list[str]
    ) -> list[str]:
        session.host_name = hostname
        self.greeted.append(hostname)
        return responses

    async def handle_MAIL(  # noqa: N802
        self, server: Any, session: Any, envelope: Any, address: str, options: list[str]
    ) -> str:
        self.commands.append("MAIL")
        envelope.mail_from = address
        return "250 OK"

    async def handle_RCPT(  # noqa: N802
        self, server: Any, session: Any, envelope: Any, address: str, options: list[str]
    ) -> str:
        self.commands.append("RCPT")
        if address in self.refuse:
            return "550 5.1.1 no such mailbox"
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: Any, session: Any, envelope: Any) -> str:  # noqa: N802
        self.commands.append("DATA")
        self.arrived.append((envelope.mail_from, list(envelope.rcpt_tos), envelope.content))
        return "250 2.0.0 queued as invented"


def _knows(server: Any, session: Any, envelope: Any, mechanism: str, data: Any) -> AuthResult:
    right = (data.login, data.password) == (USER.encode(), PASSWORD.encode())
    return AuthResult(success=right, handled=False)


@contextmanager
def real_server(
    inbox: Inbox, context: ssl.SSLContext, from_start: bool = False, **more: Any
) -> Iterator[int]:
    """A server that asks for TLS and a user; its port."""
    encrypted = (
        {"ssl_context": context}
        if from_start
        else {"tls_context": context, "require_starttls": True}
    )
    more.setdefault("auth_required", True)
    more.setdefault("authenticator", _knows)
    if from_start:
        more["auth_require_tls"] = False  # aiosmtpd counts only STARTTLS as TLS
    # Bound by us first: one that is taken in between would fail the test loudly.
    controller = Controller(
        inbox, hostname="127.0.0.1", port=free_port(), ready_timeout=10, **encrypted, **more
    )
    controller.start()
    try:
        yield controller.port
    finally:
        controller.stop()


@contextmanager
def scripted_server(
    context: ssl.SSLContext | None, answers: dict[str, str], log: list[str] | None = None
) -> Iterator[int]:
    """A server (TLS from the start) that answers each command as told, once, then leaves.

    The key is a command's first word, `greeting`, or `message`. An answer of `drop` closes the
    connection, `hang` leaves it open without a word, `trickle` never
    comes to an end, `drop early` closes it within the message.
    """
    usual = {
        "greeting": "220 here",
        "EHLO": "250-here\r\n250 AUTH PLAIN",
        "AUTH": "235 ok",
        "MAIL": "250 ok",
        "RCPT": "250 ok",
        "DATA": "354 go on",
        "message": "250 queued",
        "NOOP": "250 ok",
        "RSET": "250 ok",
        "QUIT": "221 bye",
    }
    told = {**usual, **answers}
    done = threading.Event()
    listener = socket.create_server(("127.0.0.1", 0))
    listener.settimeout(20)

    def serve() -> None:
        try:
            plain, _ = listener.accept()
        except OSError:
            return
        with plain:
            plain.settimeout(20)
            try:
                found = context.wrap_socket(plain, server_side=True) if context else plain
                with found:
                    _talk(found, told, done, [] if log is None else log)
            except OSError:
                return

    thread = threading.Thread(target=serve, daemon=True)
    thread.start()
    try:
        yield listener.getsockname()[1]
    finally:
        done.set()
        listener.close()
        thread.join(25)


def _talk(
    found: socket.socket, told: dict[str, str], done: threading.Event, log: list[str]
) -> None:
    lines = found.makefile("rb")

    def answered(key: str) -> bool:
        answer = told.get(key, "502 what?")
        if answer == "hang":
            done.wait(20)
            return False
        if answer == "drop":
            return False
        while answer == "trickle" and not done.wait(0.05):
            found.sendall(b"250-and\r\n")
        found.sendall(answer.encode() + b"\r\n")
        return True

    if not answered("greeting"):
        return
    while line := lines.readline():
        command = line.split()[0].decode("latin-1").upper()
        log.append(command)
        if not answered(command) or command == "QUIT":
            return
        if command == "DATA" and told["DATA"].startswith("354"):
            size = 0
            while (part := lines.readline()) and part != b".\r\n":
                size += len(part)
                if told["message"] == "drop early" and size > 1000:
                    return
            log.append("message" if part else "message cut off")
            if not answered("message"):
                return


def private(path: Path, text: str) -> None:
    """A file with a password: its owner's only."""
    path.touch(0o600)
    path.chmod(0o600)
    path.write_text(text, "utf-8")
