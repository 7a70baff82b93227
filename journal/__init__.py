"""Design Iteration Journal: log each revision and trial, see who needs a visit, print the story."""

__version__ = "0.1.0"
