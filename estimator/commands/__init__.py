"""The commands of the command line, by what a person does with them."""
