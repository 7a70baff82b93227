"""The terminal: commands come in, services are called, sentences go out.

One module a command; `main.py` joins them. Every error a person can mend is one sentence and exit
code 2.
"""
