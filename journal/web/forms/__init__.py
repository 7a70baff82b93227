"""Reading what a browser sent: a form or the end of an address comes in, an entry goes out.

What cannot be read raises `Invalid` with a sentence beside its field.
"""
