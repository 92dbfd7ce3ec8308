"""Pure functions of pot, jar and air: SI in, SI out, equation and source in the docstring."""
