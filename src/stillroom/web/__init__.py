"""The pages: thin routes, templates and static files. No rule of the trade lives here."""
