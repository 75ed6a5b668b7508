"""Draws the templates of the documents, which anyone may then restyle."""
