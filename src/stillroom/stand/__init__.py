"""What a jar costs before it is sold."""
