"""The words of the house: enums, frozen dataclasses, errors and permits.

Law of this room: no clock, no file, no database, no request; same arguments, same answer.
"""
