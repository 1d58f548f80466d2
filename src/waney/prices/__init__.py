"""What a piece is worth: products, price rules, drying allowance, and the one function that adds them up."""
