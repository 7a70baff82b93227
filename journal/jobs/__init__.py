"""Work that outlives a request: claimed from the table of jobs, done in processes of their own.

Nothing is printed in a request: with eight portfolios at once tablets waited 10 to 15 s. A GET of
`/groups/<id>/portfolio.pdf` gives the print that is there if nothing of the class has changed since
(its version, and the journal's), else it queues a row of `jobs` and leads to a page that waits.

The dispatcher (`dispatcher.py`, one thread of `journal serve`) claims the row under a lease and
prints in a child of low priority, limited in memory and time (`children.py`, `print_child.py`): one
child while any class is in a lesson, else one a core. Every step is one conditional statement
(`store/job_leases.py`), so a killed child or server costs an attempt, three at most, and never
leaves two prints. A child ends when its server does.

Prints lie in `instance/prints/` (`prints.py`) until they are replaced or some days old; they are in
no backup. Another kind of job is a `JobKind` and its branch in `print_child.py`; a job about a
whole class has no group. `tests/bench/portfolio_prints.py` measures what tablets wait meanwhile.
"""
