"""A class that shows what the journal can do, made by the services alone."""
