"""The day as a problem of steps and resources, its timetable, and who judges it."""
