"""What a page shows: frozen page objects, ready for a template."""
