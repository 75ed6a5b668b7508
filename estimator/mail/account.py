"""What became of a message: to whom it went, how large it was, what the server answered."""

from dataclasses import dataclass

NOTHING_SENT = "nothing was sent to anyone"
NOT_KNOWN = (
    "it is NOT KNOWN whether the message was sent: ask the recipients before you send it again"
)


@dataclass(frozen=True)
class Account:
    """An account of one message. `sent` is true only when the server said it has taken it."""

    server: str
    sender: str
    recipients: tuple[str, ...]
    subject: str
    size: int  # octets, as they travel
    attachments: tuple[tuple[str, int], ...]  # name, and octets of the file
    sent: bool = False
    logged_in: bool = False
    answer: str = ""

    @property
    def lines(self) -> list[str]:
        """The account in words, line by line."""
        head = "Sent" if self.sent else "A dry run, nothing was sent. It would be sent"
        found = [f"{head} from {self.sender} by {self.server}:"]
        found += [f"  to {one}{', accepted' if self.sent else ''}" for one in self.recipients]
        found.append(f"  subject: {self.subject}")
        found += [f"  attached: {name}, {size:,} bytes" for name, size in self.attachments]
        found.append(f"  {self.size:,} bytes in all")
        if self.answer:
            found.append(f"  the server answered: {self.answer}")
        if not self.sent:
            tried = "reached, its certificate verified" if self.answer else "not tried"
            user = ", user and password accepted" if self.logged_in else ""
            found.append(f"  server {tried}{user}")
            found.append("  whether the server accepts these addresses was not tried")
        return found
