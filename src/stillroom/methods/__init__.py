"""The ways of putting up, one file each."""
