"""Pages of a group."""
