"""Tests of the pure numbers."""
