"""Tests of the room with the same name."""
