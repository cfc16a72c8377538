"""The entries of the catalogue, a file a family."""
