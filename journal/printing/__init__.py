"""Paper: page objects and drawings come in, PDF bytes go out."""
