"""A study file's design, its rows worked out in blocks by many processes, and what moves the answers.

Depends on polars and, for a cluster, distributed (extras). ``plan`` lays out rows, ``run`` works them out, ``folder``
and ``block_file`` keep them, ``report`` tells and draws what came out.
"""
