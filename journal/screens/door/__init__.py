"""Pages for whoever has not signed in yet."""
