"""Pages: request, service, template; one noun a module."""
