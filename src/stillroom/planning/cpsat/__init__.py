"""The day as a model for OR-Tools' CP-SAT; no other folder imports the solver."""
