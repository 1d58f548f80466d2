"""Services: one function for each thing a person does in the yard."""
