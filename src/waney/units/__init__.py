"""What people write and read: lengths, volumes, weights, money; SI inside, directions of rounding outside."""
