"""The one-page form: a few answers about an extension, and what they fill in elsewhere."""
