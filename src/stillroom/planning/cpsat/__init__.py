"""The day handed to the constraint solver. OR-Tools is imported in this folder alone."""
