"""Texts and numbers that a teacher can read and edit: TOML files, and what reads them.

Law of this room: no framework, no database, no request. Each noun has a TOML file (or a folder with
one file a language) and a module of the same name that hands out ready values.
"""
