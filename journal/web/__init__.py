"""HTTP: requests come in, services are called, pages and JSON go out.

Pages live in `pages/<noun>.py` (each exports `pages`, a Flask blueprint), the API in
`api/<noun>.py` (each exports `api`, a flask-smorest blueprint), schemas in `schemas/<noun>.py`.
Nothing here knows the store: `request_work()` is the only way to the data.
"""
