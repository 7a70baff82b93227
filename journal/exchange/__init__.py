"""What comes in and goes out as files: CSV now.

Law of this room: no clock, no file, no database, no request; same arguments, same answer. Who has
a file opens it and hands over its content.
"""
