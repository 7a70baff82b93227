"""Pages and API, asked over HTTP."""
