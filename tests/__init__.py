"""Tests mirror the package, room for room."""
