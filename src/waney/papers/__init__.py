"""What can be held in a hand: height card, drawings, plain text."""
