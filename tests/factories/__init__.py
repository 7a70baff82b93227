"""Rows for tests, one file a noun; each is flushed and expired, so a test reads what was kept."""
