"""The library's connections, whose answers must be complete in time, however they trickle."""

import smtplib
import socket
import threading
from contextlib import suppress

_MORE = 1.0  # seconds beyond the wait for each piece, so that a silent server is noticed as such


class _InTime(smtplib.SMTP):
    """A connection that is cut when an answer is not complete in the time for one piece of it."""

    def getreply(self) -> tuple[int, bytes]:
        """The server's answer. Raises TimeoutError when it goes on for too long."""
        if self.sock is None:
            return super().getreply()
        late = threading.Event()
        cut = threading.Timer((self.sock.gettimeout() or 0) + _MORE, _cut, (self.sock, late))
        cut.daemon = True
        cut.start()
        try:
            return super().getreply()
        except smtplib.SMTPServerDisconnected:
            if late.is_set():
                raise TimeoutError from None
            raise
        finally:
            cut.cancel()


def _cut(sock: socket.socket, late: threading.Event) -> None:
    late.set()
    with suppress(OSError):
        # Of the plain socket: what reads from it elsewhere then sees its end.
        socket.socket.shutdown(sock, socket.SHUT_RDWR)


class ToBeEncrypted(_InTime):
    """Begun in plain, for STARTTLS."""


class Encrypted(_InTime, smtplib.SMTP_SSL):
    """Encrypted from the start."""
