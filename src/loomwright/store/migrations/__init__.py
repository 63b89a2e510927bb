"""How the tables of a store came to be, one step a file."""
