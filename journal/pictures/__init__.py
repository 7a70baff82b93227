"""Charts of what a group has logged: a record in, SVG with its table out."""
