"""The verbs of the house: each service takes a Work, asks a permit, and does one thing."""
