"""
Why it is so: science told to the keeper, with the published figure beside it.

This layer only explains. Methods, plans and runs do not import it, so nothing that is
told here can reach a process time; a test holds the arrows.
"""
