"""The pages: thin routes, templates, static files. No rule of the trade lives here."""
