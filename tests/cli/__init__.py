"""Commands of the terminal."""
