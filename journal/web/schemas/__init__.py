"""Shapes of JSON: what the API takes and gives, and the ranges of numbers and texts."""
