"""Exact permutation tests of old against new: pure, values in, p-values and intervals out."""
