"""A plan made by turns: loads in some order, each placed at once with its batches."""
