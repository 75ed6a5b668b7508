"""E-mail: letters filled from templates, drafts to be opened in a mail program, sending over TLS."""
