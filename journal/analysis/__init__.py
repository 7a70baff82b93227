"""What the trials can say: numbers from records, and nothing else.

Comes in: `records.TrialRecord`. Goes out: frozen dataclasses of plain numbers and keys, worded
elsewhere.

Law of this room: no clock, no file, no database, no request; same arguments, same answer.
"""
