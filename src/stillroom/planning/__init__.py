"""
The day as a problem of steps and resources, its timetable, and who judges it.

Read first ``day`` (what the keeper gives), ``problem`` (what the planner is asked),
``timetable`` (what it answers), and ``whole_day``, the one line from a day file to the
whole answer. Each folder names its parts and which of them to read first. Arrows
between the folders go one way, from the top of this list down; import-linter keeps it.

::

    other_days/       the day beside other days: what if, one thing more, the next day
    second_thoughts/  the rest of a day planned again, with least change
    day_odds/         the odds of a plan: ten thousand days, counted
    why_not/          why there is no plan, and what is shown in its place
    ways/             ways out of a day that does not fit, each with its plan
    which_batches/    from the shelf and the wants to whole batches
    cpsat/            the day as a model for the solver, and the search
    sequence/         plans made by turns, load after load
    begun/            a day that has begun: what is known, what is left
    hand/             the plan that a careful person would write
    how_good/         how good a plan is, goal by goal, and what makes it calmer
    waits/            what waits for what in a plan, and why then
    bounding/         what no plan can beat
    judge/            every rule again, sharing no code with who makes plans
    words/            the day sheet, and how steps, loads and hours are called
    day_file/         the day file: read, written, changed at one place

What all of them speak of stays here::

    day.py             what the keeper gives: kitchen, people, shelf and wants
    problem.py         what the planner is asked: batches, people, fires, pots, canners
    timetable.py       what it answers: steps, loads and breaks with their minutes
    goal_order.py      what counts as good in a plan, and in which order
    daytime.py         minutes as a clock shows them, durations as people say them
    hot_jars.py        how jars are lowered and lifted, for all who make plans
    jars_promised.py   how the jars of a day go to those who wait for them
    due_words.py       how jars that are wanted by an hour are said
    one_thing_more.py  the same day with a helper, a burner, a canner or a pot more
    way_changes.py     what may be changed in a day that does not fit
    dayplan.py         the whole answer for a day: batches, loads, timetable
    network.py         the links of one batch as a network of time lags
    rinses.py          washes that may be rinses, where the same product comes next
    off_the_fire.py    where a pot comes onto a fire that a canner stands on
    happened.py        what has happened by a minute of the day
    spoken_of.py       a sentence about a plan, in parts: its steps, loads and minutes

And so does the line through the house::

    whole_day.py  from a day file to the whole answer
    asked.py      a day as it was asked for: what makes a problem of it
    stated.py     its batches as packs are best divided, and what nobody can make
    however_divided.py
                  whether a bound holds however the packs are divided into pots
    too_small.py  a day too small for all: what fits, why not all, the ways out
    gathered.py   what goes with the batches and the plan, gathered into the answer
    what_fits.py  which batches at all, on a day that is too small for every one of them
    plan.py       check what came, plan by hand, search for better, judge each
    start.py      the plan by hand, and the one that the search begins with
    searched.py   the search, with the bound reckoned beside it
    answering.py  what a search found, judged and made into an answer
    sentence.py   the first sentence of a day
"""
