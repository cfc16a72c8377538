"""What is installed in one place: strict models, read from YAML with complaints a person can act on."""
