"""Physics and energy figures from what was measured: pure, values in, figures out."""
