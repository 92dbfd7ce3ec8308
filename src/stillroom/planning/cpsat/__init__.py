"""The day as a model for OR-Tools' CP-SAT; the planner searches nowhere else."""
