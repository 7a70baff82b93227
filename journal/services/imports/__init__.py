"""Imports trials from CSV: one bad row and nothing is kept."""
