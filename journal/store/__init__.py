"""Tables, and the only room that runs SQL.

Rows never leave this room: every function returns frozen dataclasses of `journal.domain`, so no
page, chart, analysis or sheet of paper can trigger a query.
"""
