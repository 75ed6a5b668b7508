"""One issue of a job and the next: what was issued, and what differs."""
