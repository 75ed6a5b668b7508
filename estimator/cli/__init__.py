"""The command line: its words in main.py, and what each command does."""
