"""What is published: tables and procedures with sources, and look-ups that refuse."""
