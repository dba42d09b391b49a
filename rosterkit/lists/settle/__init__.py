"""What the cells of a list come to: values of the schema, CVs taken apart, and what is in doubt."""
