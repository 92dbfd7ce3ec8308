"""The commands: thin. No rule of the trade lives here."""
