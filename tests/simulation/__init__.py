"""Classrooms with a known cause: what the diagnosis and the stall watch are measured on."""
