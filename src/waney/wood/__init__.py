"""Wood as a material: species, moisture, shrinkage, weight, heat; the air outdoors and in a room."""
