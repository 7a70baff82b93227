"""The API: request, schema, service, schema; one noun a module."""
