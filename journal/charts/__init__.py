"""Drawings: values come in, one SVG string goes out, the same for screen and paper.

Law of this room: no clock, no file, no database, no request; same arguments, same answer.

Every drawing says what it is in a `<title>` (its first child) and a `<desc>`, uses hex colours
only, brings its own definitions under ids of its own, and has its data as a `ChartTable` as well.
"""
