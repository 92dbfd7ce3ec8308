"""What is kept, append-only. SQLAlchemy is imported in this folder alone."""
