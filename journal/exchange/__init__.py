"""Files from and for elsewhere: text in, values out, and back.

Law of this room: no clock, no file, no database, no request; same arguments, same answer.
"""
