"""Promises about the whole house, checked over everything that is registered."""
