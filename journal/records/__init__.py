"""The unit of work, and gathering what a group has logged."""
