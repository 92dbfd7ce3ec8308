"""
Why there is no plan, in words, and what is shown in its place.

Read `explain` first. `refuse` and `unworkable` come before any search, `explain` after
it; `plan_if` and `kitchen_if` show the plan of a day like it, marked as no plan of this
one.

::

    explain.py         why nothing fits, in words, and what would help
    clash_by_bound.py  which rules clash on a day too large to be searched to its proof
    kitchen_if.py      what is shown where the kitchen cannot make one batch
    plan_if.py         what is shown where no plan fits
    ready_late.py      what is not ready in time
    refuse.py          what a day must have in order before it can be planned; nonsense
                       is refused early
    unworkable.py      batches that nobody and nothing in the day can make, each with
                       its reasons
    whose_hands.py     work of a batch that nobody in the day can do
"""
