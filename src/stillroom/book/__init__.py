"""What is published: tables and procedures with their sources, and look-ups that refuse."""
