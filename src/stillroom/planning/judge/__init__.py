"""
The judge of every plan: each rule again, sharing no code with who makes plans.

Read `check` first. A rule of the kitchen is not kept until it is said here. Nothing
that makes a plan is imported, and an import contract holds it so.

::

    breach.py        one breach of a rule: what it is about, and its sentence in parts
    check.py         each rule of steps, hands, links and tools, in plain loops
    check_loads.py   loads, the canner's water and fire, jars on the counter
    check_replan.py  a changed plan: the past as it was, each rule for the rest
    check_waits.py   longest waits and latest hours of a day that has begun, by how much
                     a plan does not keep them
    check_tools.py   pots, mills and burners: one holder at a time, each fit for it
    check_taken.py   burners while they are somebody else's: nothing is on them
"""
