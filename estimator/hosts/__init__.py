"""The programs that the functions are offered to."""
