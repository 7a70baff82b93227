"""Shapes of what the API takes and gives; one noun a module."""
