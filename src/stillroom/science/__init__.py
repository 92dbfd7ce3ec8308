"""Pure functions of air, water, pot and jar: SI in, SI out, each with its source."""
