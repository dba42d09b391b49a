"""What the cells come to: values of the schema, CVs taken apart, doubts."""
