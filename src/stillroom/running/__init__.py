"""The day itself: what happened, what that makes of the clocks, what may come next."""
