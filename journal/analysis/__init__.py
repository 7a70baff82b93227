"""Results from trials: numbers from records, and nothing else.

Comes in: `records.TrialRecord`. Goes out: frozen dataclasses of plain numbers and keys, worded
elsewhere.

Some parameters mean the same in every module, so that docstrings do not repeat them:

* `records`, `old`, `new`: trials of one group as `TrialRecord`, in any order unless said otherwise;
  lengths in mm from the aim point, x to the right, y up. `old` and `new` are those with the old and
  with the new revision.
* `direction`: which results are better; without it, more is better.
* `values`: finite results in the unit of the outcome (points, mm, g, s, N or a count).
* `strata`: for each student the values with the old and with the new revision.
* `steps`: the numbers of trials a side at which a verdict may be formed while data still comes in;
  None forms it on all of them.
* `panel`, `limits`: the class's panel, in mm; the school's or published limits.
* `mass_kg`, `speed_m_s`: of the projectile, or of what moves or hangs; a name ends in its unit.
* `trial_set`, `frame`, `telling`: of the diagnosis: one group's trials in units of the panel, the
  panel's edges in mm, and what a trial tells of where it would have gathered.
* `blocks`: trials by person, device and own part, each with its likelihood place by place.
* `sets`, `joint`, `grouped`, `present`: the probability of each set of causes; of nothing, device,
  use and both; which of these may be named; the probability of each cause.
* `cells`, `effects`, `layout`: trials sorted by revision, student and own part; the effects among
  which their variance is split; either as whole numbers.

"None where ..." in a docstring says when there is no answer. An optional argument that is None
was not given. Sources are named with their year; "from memory" marks one that was not looked up.

Law of this room: no clock, no file, no database, no request; same arguments, same answer.
"""
